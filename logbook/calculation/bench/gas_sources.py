"""What the things in a stage can give of each gas, at most: from metals, from salts, by heat.

Only upper limits come from here, never a value: which way an acid goes, and how far, nobody
knows beforehand. Each source is bounded by what there is to work on and by every supply that
it asks for. Where one limit lacks, the others still hold; where all lack, nothing is known.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import product

from logbook.calculation.bench.demand import ratio_words
from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageChemistry, Substance
from logbook.calculation.sums import notes_of, reasons
from logbook.chemistry.air import name_of
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import GASES, Reaction, reactions
from logbook.chemistry.releases import Release, helpers, releases

MOST = "this is the most that is possible; how far the work goes, and which way, nobody knows"
OPEN_CHARGE = "neither the weight of the charge nor what it is made of is written"
VOLATILE = ("HCl", "HNO3", "NH3")
"""What leaves its solution in heat."""
CHARGE = "the charge"

GasPart = tuple[str, Figure]


def gas_parts(chemistry: StageChemistry, *, heated: bool) -> Iterator[GasPart]:
    """Each gas that each thing in a stage can give, with the most of it [g]."""
    substances = {one.formula: one for one in chemistry.substances}
    yield from _from_metals(chemistry, substances)
    yield from _from_substances(substances)
    yield from _set_free(substances)
    yield from _driven_off(substances, heated)


def _from_metals(
    chemistry: StageChemistry, substances: Mapping[str, Substance]
) -> Iterator[GasPart]:
    by_gas: dict[str, list[Reaction]] = {}
    for reaction in _on_metals(chemistry, substances):
        for gas in _gases_of(reaction):
            by_gas.setdefault(gas, []).append(reaction)
    for gas, ways in by_gas.items():
        yield gas, _least_of(gas, ways, chemistry, substances)


def _on_metals(
    chemistry: StageChemistry, substances: Mapping[str, Substance]
) -> Iterator[Reaction]:
    """The reactions of the stage, and those of a metal that was put in and meets acid left over."""
    for one in chemistry.reactions:
        if one.metal and substances.keys() >= set(one.asks):
            yield one
    named = {one.name for one in chemistry.reactions}
    for one in reactions().values():
        meets = one.metal and one.basis in substances and substances.keys() >= set(one.asks)
        if meets and one.work == "dissolve" and one.name not in named:
            yield one


def _gases_of(reaction: Reaction) -> tuple[str, ...]:
    """Hydrogen chloride stays in water, but not where a salt is burnt."""
    burnt = reaction.work == "calcine" and "HCl" in reaction.equation.out
    return (*reaction.gases, "HCl") if burnt else reaction.gases


def _least_of(
    gas: str,
    ways: Collection[Reaction],
    chemistry: StageChemistry,
    substances: Mapping[str, Substance],
) -> Figure:
    """The tightest of the limits that the charge, and each supply it is worked with, set.

    Ways that ask for the same supplies are bounded together, by the charge or by one of the
    supplies; the sum of such limits is a limit, whichever is chosen.
    """
    alike: dict[tuple[str, ...], list[Reaction]] = {}
    for way in ways:
        alike.setdefault(way.asks, []).append(way)
    best: list[Figure] = []
    every: dict[str, Figure] = {}
    for payers in product(*((CHARGE, *asks) for asks in alike)):
        groups: dict[str, list[Reaction]] = {}
        for payer, found in zip(payers, alike.values(), strict=True):
            groups.setdefault(payer, []).extend(found)
        bounds = [
            _bound(payer, gas, found, chemistry, substances) for payer, found in groups.items()
        ]
        every |= {bound.name: bound for bound in bounds}
        if not best or _total(bounds) < _total(best):
            best = bounds
    notes = dict.fromkeys(note for way in ways for note in _told(way))
    name = f"{name_of(gas)} from metal"
    if _total(best) == float("inf"):
        return _unlimited(name, every.values())
    return _most(name, best, notes)


def _bound(
    payer: str,
    gas: str,
    ways: Iterable[Reaction],
    chemistry: StageChemistry,
    substances: Mapping[str, Substance],
) -> Figure:
    if payer == CHARGE:
        return _charge_bound(gas, ways, chemistry, substances)
    most = max(way.given(gas) / way.asked(payer) for way in ways)
    return _share(f"{name_of(gas)} that {payer} allows", there(substances[payer]), most)


def _charge_bound(
    gas: str,
    ways: Iterable[Reaction],
    chemistry: StageChemistry,
    substances: Mapping[str, Substance],
) -> Figure:
    """What all the metal allows: what is told of it, what may be in the rest, what was put in."""
    per: dict[tuple[str, str], float] = {}
    in_charge = {one.name for one in chemistry.reactions}
    for way in ways:
        key = way.metal, way.basis
        per[key] = max(per.get(key, 0.0), way.given(gas))
    parts = []
    for (metal, symbol), most in per.items():
        if metal in chemistry.metals:
            parts.append(_share(f"{name_of(gas)} from {metal}", chemistry.metals[metal], most))
        if symbol in substances:
            parts.append(_share(f"{name_of(gas)} from {metal}", there(substances[symbol]), most))
    open_ways = [one for one in ways if one.name in in_charge and one.work == "dissolve"]
    if open_ways and (chemistry.rest is None or within(chemistry.rest).high != 0):
        rest = chemistry.rest or Figure("the rest of the charge", "g", why=OPEN_CHARGE)
        worst = max(open_ways, key=lambda way: way.given(gas))
        note = f"what no line tells of the charge is taken as {worst.metal}, which gives most"
        share = _share(f"{name_of(gas)} from the rest", rest, worst.given(gas), note)
        parts.append(share)
    return _sum(f"{name_of(gas)} that the metal allows", parts)


def _from_substances(substances: Mapping[str, Substance]) -> Iterator[GasPart]:
    """What supplies give with each other; what acid or base sets free comes from `_set_free`."""
    freed = {(one.of, one.gas) for one in releases()}
    for reaction in reactions().values():
        present = reaction.basis in substances and substances.keys() >= set(reaction.asks)
        if reaction.metal or reaction.work == "step" or not present:
            continue
        for gas in reaction.gases:
            if not any((formula, gas) in freed for formula in reaction.equation.into):
                ratios = {reaction.basis: reaction.given(gas)}
                ratios |= {one: reaction.given(gas) / reaction.asked(one) for one in reaction.asks}
                yield gas, _lesser(gas, reaction.basis, ratios, substances, _told(reaction))


def _set_free(substances: Mapping[str, Substance]) -> Iterator[GasPart]:
    """What any acid, or base, sets free from a salt."""
    for release in releases():
        with_ = [one for one in helpers(release.set_free_by) if one in substances]
        if release.of not in substances or not set(with_) - {release.of}:
            continue
        helper = _sum(
            f"{name_of(release.gas)} that the {release.set_free_by} allows",
            [_helped(release, substances[one]) for one in with_],
        )
        salt = _share(
            f"{name_of(release.gas)} that {release.of} allows",
            there(substances[release.of]),
            release.from_salt(),
        )
        name = f"{name_of(release.gas)} from {release.of}"
        note = f"any {release.set_free_by} sets {name_of(release.gas)} free from {release.of}"
        yield release.gas, _tightest(name, [salt, helper], (note,))


def _helped(release: Release, helper: Substance) -> Figure:
    name = f"{name_of(release.gas)} that {helper.formula} allows"
    return _share(name, there(helper), release.from_helper(helper.formula))


def _driven_off(substances: Mapping[str, Substance], heated: bool) -> Iterator[GasPart]:
    """What is a gas by itself, and what heat drives out of its solution: all of it."""
    for formula, substance in substances.items():
        gas = formula in GASES and formula not in VOLATILE
        if gas or (heated and formula in VOLATILE):
            how = "as it was let in" if gas else "driven off by heat"
            figure = there(substance)
            name = f"{name_of(formula)} {how}"
            yield formula, _most(name, [figure], (f"as if all of it were {how}",))


def _lesser(
    gas: str,
    of: str,
    ratios: Mapping[str, float],
    substances: Mapping[str, Substance],
    notes: Iterable[str],
) -> Figure:
    bounds = [
        _share(f"{name_of(gas)} that {formula} allows", there(substances[formula]), most)
        for formula, most in ratios.items()
    ]
    return _tightest(f"{name_of(gas)} from {of}", bounds, notes)


def _tightest(name: str, bounds: list[Figure], notes: Iterable[str]) -> Figure:
    least = min(bounds, key=lambda one: _total([one]))
    if least.high is None:
        return _unlimited(name, bounds)
    return _most(name, [least], notes)


def there(substance: Substance) -> Figure:
    """How much of a pure substance is there, within limits."""
    return Figure(
        f"{substance.formula} there",
        "g",
        formula=f"what {substance.words} brings",
        rests_on=substance.spans,
        why="; ".join(substance.notes) or _lacking(substance),
        low=substance.grams.low,
        high=substance.grams.high,
        notes=substance.notes,
    )


def _lacking(substance: Substance) -> str:
    if substance.grams.high is None:
        return f"how much {substance.formula} {substance.words} brings is not known"
    return "it is known within limits only"


def _share(name: str, figure: Figure, most: float, note: str = "") -> Figure:
    """The most that an amount can give, at so many grams a gram."""
    top = within(figure).high
    return Figure(
        name,
        "g",
        formula=f"{figure.name} × {ratio_words(Range.exactly(most))}, at most",
        terms=(figure,),
        why=MOST if top is not None else figure.why,
        low=0.0,
        high=None if top is None else top * most,
        notes=(note,) if note else (),
    )


def _sum(name: str, parts: list[Figure]) -> Figure:
    if len(parts) == 1:
        return parts[0]
    total = _total(parts)
    unlimited = total == float("inf")
    return Figure(
        name,
        "g",
        formula=" + ".join(dict.fromkeys(one.name for one in parts)),
        terms=tuple(parts),
        why=reasons(one for one in parts if one.high is None) if unlimited else MOST,
        low=0.0,
        high=None if unlimited else total,
        notes=notes_of(parts),
    )


def _most(name: str, bounds: list[Figure], notes: Iterable[str]) -> Figure:
    """The sum of limits under a name, with what it rests on."""
    whole = _sum(name, bounds)
    return Figure(
        name,
        "g",
        formula=" + ".join(dict.fromkeys(one.name for one in bounds)) + ", at most",
        terms=tuple(bounds),
        why=MOST if whole.high is not None else whole.why,
        low=0.0,
        high=whole.high,
        notes=tuple(dict.fromkeys((*notes, *notes_of(bounds)))),
    )


def _unlimited(name: str, bounds: Iterable[Figure]) -> Figure:
    open_ones = [one for one in bounds if one.high is None]
    return Figure(name, "g", terms=tuple(open_ones), why=reasons(open_ones), low=0.0)


def _total(bounds: Iterable[Figure]) -> float:
    return sum(float("inf") if one.high is None else one.high for one in bounds)


def _told(reaction: Reaction) -> Iterator[str]:
    note = f"; {reaction.note}" if reaction.note else ""
    yield f"{reaction.equation.text} ({reaction.standing}: {reaction.source}){note}"
