"""What a piece weighs in air and hanging in water, and how fine that allows it to be.

A density agrees with a fineness or contradicts it; it never proves one. A weighing in water
enters no balance: it stands here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import hypot

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.holdings import WET_WORDS
from logbook.calculation.products import metals_named
from logbook.calculation.purity import purity
from logbook.calculation.results import DensityCheck, Thing
from logbook.chemistry.density import piece_density
from logbook.chemistry.fineness import (
    Fineness,
    by_partners,
    fineness_range,
    looks_alike,
)
from logbook.chemistry.ranges import MissingError
from logbook.findings import Finding, Weight
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Entry
from logbook.model.run import Run

DENSITY = (
    "weight in air × (density of water − density of air) / (weight in air − weight in water) "
    "+ density of air"
)
NO_PROOF = "a density contradicts a fineness, and never proves one"
WIDE = 2.0  # standard uncertainties, beyond which two figures do not agree


def density_checks(run: Run, things: Iterable[Thing]) -> tuple[DensityCheck, ...]:
    """The density and the fineness by density of every piece that a run weighed in water."""
    seen: dict[str, Thing] = {}
    for thing in things:
        if _in_water(run, thing) is not None:
            seen.setdefault(thing.key, thing)
    return tuple(_of_piece(run, thing) for thing in seen.values())


def contradicted(checks: Iterable[DensityCheck]) -> Iterator[Finding]:
    """What is to be asked about where a density contradicts a fineness that is written."""
    for check in checks:
        for written in check.contradicts:
            for span in written.rests_on[:1]:
                yield Finding(
                    "fineness-contradicted",
                    Weight.DOUBT,
                    f"the density of {check.title} contradicts {span.text}",
                    span,
                    "what is written is used all the same",
                    "weigh it again in air and in water, look for pores, stones or a core, or "
                    "have it assayed",
                )


def _in_water(run: Run, thing: Thing) -> Entry | None:
    """The latest weighing of a thing in a liquid that this run's log has."""
    found = [one for one in thing.entries if one.immersed and one.span.source is run.source]
    return found[-1] if found else None


def _of_piece(run: Run, thing: Thing) -> DensityCheck:
    entry = _in_water(run, thing)
    assert entry is not None
    density = _density(thing, entry)
    fineness: list[Figure] = []
    contradicts: list[Figure] = []
    for metal in _metals_of(run, thing) if density.value is not None else ():
        figures = _fineness(thing, metal, density)
        written = purity(thing, metal)
        fineness.extend(_compared(figure, written) for figure in figures)
        if _none_agrees(figures, written):
            contradicts.append(written)
    return DensityCheck(_title(thing), density, tuple(fineness), tuple(contradicts))


def _title(thing: Thing) -> str:
    return f"[{thing.label}]" if thing.label else f"the {thing.what}"


def _density(thing: Thing, entry: Entry) -> Figure:
    """The density of a piece [g/cm3]; the equation and its source stand in chemistry/density.py."""
    title = _title(thing)
    name = f"density of {title}"
    under = _mass_of(entry)
    if under is None or under.base_value is None:
        return not_known(name, "g/cm3", f"what {title} weighed in {entry.immersed} is not written")
    weight = Figure(
        f"weight of {title} in {entry.immersed}",
        "g",
        Uncertain.reading(under),
        f"as written; uncertainty: {under.u_basis}",
        rests_on=(under.span,),
    )
    terms = (thing.gross, weight)
    why = _hindrance(thing, entry)
    if why or thing.gross.value is None or weight.value is None:
        return not_known(name, "g/cm3", why or f"{title} was never weighed in air", *terms)
    warm = next((one for one in entry.conditions if one.dimension is Dimension.TEMPERATURE), None)
    celsius = Uncertain.reading(warm) if warm is not None else None
    try:
        found = piece_density(thing.gross.value, weight.value, celsius)
    except MissingError as missing:
        return not_known(name, "g/cm3", str(missing), *terms)
    rests_on = (warm.span,) if warm is not None else ()
    return Figure(name, "g/cm3", found.value, DENSITY, terms, rests_on, notes=found.notes)


def _mass_of(entry: Entry) -> Amount | None:
    amounts = [portion.amount for portion in entry.portions if portion.amount is not None]
    return next((one for one in amounts if one.dimension is Dimension.MASS), None)


def _hindrance(thing: Thing, entry: Entry) -> str:
    """Why two weighings give no density, in words that finish "not known, because ..."."""
    if "water" not in entry.immersed.lower():
        return f"the density of {entry.immersed} is not in the tables: weigh it in water"
    if sum(len(portion.labels) for portion in entry.portions) > 1:
        return f"{_title(thing)} was weighed in water together with others"
    if thing.moisture in WET_WORDS:
        return f"{_title(thing)} was weighed {thing.moisture} in air: dry it and weigh it again"
    return ""


def _metals_of(run: Run, thing: Thing) -> list[str]:
    """The metals of which a density may speak: named, stated, or else what the run is after."""
    said = {one.metal for entry in thing.entries for one in entry.compositions}
    named = metals_named(thing.what) | said
    return [metal for metal in run.metals if metal in named] or list(run.metals)


def _fineness(thing: Thing, metal: str, density: Figure) -> tuple[Figure, ...]:
    """How fine a piece may be in a metal, partner by partner and for all of them together."""
    assert density.value is not None
    title = _title(thing)
    found = by_partners(metal, density.value)
    each = tuple(_one_partner(title, one, density) for one in found)
    if len(found) == 1:
        return each
    name = f"{metal} in {title} by density, with any of the usual partners"
    try:
        limits = fineness_range(found)
    except MissingError as missing:
        return (*each, not_known(name, "g/g", str(missing), density))
    partners = " or ".join(one.partner for one in found)
    any_of_them = Figure(
        name,
        "g/g",
        formula=f"the limits with {partners}",
        terms=(density,),
        why=f"nobody has told whether the rest is {partners}",
        low=limits.low,
        high=limits.high,
        notes=(*looks_alike(metal, density.value.value), NO_PROOF),
    )
    return (*each, any_of_them)


def _one_partner(title: str, found: Fineness, density: Figure) -> Figure:
    figure = Figure(
        f"{found.metal} in {title} by density, if the rest is {found.partner}",
        "g/g",
        found.value,
        f"from the density, those of {found.metal} and {found.partner}, and how their volumes add",
        (density,),
        why=found.why,
        notes=(*found.notes, NO_PROOF),
    )
    if found.value is None and found.limits is not None:
        return replace(figure, low=found.limits.low, high=found.limits.high)
    return figure


def _compared(figure: Figure, written: Figure) -> Figure:
    """A figure with what is to be said of the fineness that is written for the same piece."""
    if written.value is None:
        return figure
    quoted = written.rests_on[0].text if written.rests_on else "what is written"
    how = "; ".join(written.notes[-1:])
    words = f"{quoted} is written ({how})" if how else f"{quoted} is written"
    apart = _apart(figure, written.value)
    if apart is None:
        return figure
    if apart <= WIDE:
        verdict = f"{words}: the density does not contradict it"
    else:
        verdict = f"{words}: so alloyed, the density contradicts it"
    return replace(figure, notes=(verdict, *figure.notes))


def _none_agrees(figures: Iterable[Figure], written: Figure) -> bool:
    """Whether with no partner the density allows what is written."""
    if written.value is None:
        return False
    found = [_apart(figure, written.value) for figure in figures]
    return all(one is None or one > WIDE for one in found)


def _apart(figure: Figure, written: Uncertain) -> float | None:
    """How far a figure, or its limits, and what is written lie apart, in standard uncertainties.

    Equation: z = |a − b| / sqrt(u²(a) + u²(b)); from limits, which are two standard
    uncertainties out, the distance beyond them and two more. Source: JCGM 100:2008, 5.1.2.
    """
    if figure.value is not None:
        both = hypot(figure.value.u, written.u)
        far = abs(figure.value.value - written.value)
        return far / both if both else (0.0 if not far else float("inf"))
    if figure.low is None or figure.high is None:
        return None
    beyond = max(figure.low - written.value, written.value - figure.high, 0.0)
    if not beyond:
        return 0.0
    return WIDE + beyond / written.u if written.u else float("inf")
