"""How much liquid stands in the vessels of a plan at most, and how large they must be.

Volumes are added as they are poured, each at its upper limit, and taken out at the lower; what
a solid takes up is left to the headroom. Where one of them is not known there is no limit, and
no size is named. This is a size to begin with, and no promise that nothing boils over.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, field
from functools import cache
from math import inf

from logbook.calculation.cautions.signs import LIQUID
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageKey, Thing
from logbook.calculation.results.plans import VesselLoad
from logbook.calculation.sums import add_up, part_of, reasons
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run, Stage
from logbook.reference import load, reagents, stage_kinds, vocabularies

OUT = frozenset({"discarded", "kept", "sampled", "lost"})
SURE = 2.0  # standard uncertainties to a limit of a reading (common practice, no source)
SOLID = frozenset({"black", "cement", "chloride", "precipitate", "residue"})
"""Words for what is no liquid, beside the forms of words.toml."""


@dataclass(frozen=True, slots=True)
class _Fill:
    """How full a vessel may be, and why."""

    share: float
    reason: str


@dataclass(slots=True)
class _Pot:
    """The liquid of a plan as its entries go by, every figure an upper limit.

    `whole` are the volumes in all vessels together, `each` those in one of several.
    """

    whole: list[Figure] = field(default_factory=list)
    each: list[Figure] = field(default_factory=list)
    most: Figure | None = None
    vessels: int = 1

    def pour(self, figure: Figure, vessels: int) -> None:
        """Put a volume in, divided among vessels."""
        self.vessels = max(self.vessels, vessels)
        self.whole.append(figure)
        if vessels > 1:
            figure = part_of(figure.name, figure, 1 / vessels, f"one of {vessels} parts")
        self.each.append(figure)
        self.at_most(add_up("liquid in one vessel, at most", "L", self.each))

    def at_most(self, now: Figure) -> None:
        """Note how much stands in a vessel, if it is more than ever before."""
        if self.most is None or _top(now) >= _top(self.most):
            self.most = now

    def take_out(self, least: Figure, most: Figure) -> None:
        """Take a volume out, the least that it may be; what is not known stays in.

        Where more is to be taken out than was put in, so much must have been there.

        Equation: left = highest in all − lowest taken out [L], never less than nothing.
        """
        if least.value is None or self.vessels > 1:
            return
        self.at_most(most)
        there = add_up("liquid, at most", "L", self.whole)
        if there.value is None:
            return
        left = Uncertain(max(there.value.value - least.value.value, 0.0))
        words = "liquid, at most − the least that is taken out"
        self.whole = [Figure("liquid left, at most", "L", left, words, (there, least))]
        self.each = list(self.whole)


def _top(figure: Figure) -> float:
    return inf if figure.value is None else figure.value.value


def limit_of(figure: Figure, amount: Amount | None = None, *, least: bool = False) -> Figure:
    """The most that a volume may be, or the least, as a figure without a doubt.

    Equation: the upper end of a range as it is written, else v + 2 u [L]; the least of it
    likewise, and never below nothing. Unknown where the volume is not known or has no limit.

    >>> limit_of(Figure("acid", "L", Uncertain.of(0.5, 0.02, "cylinder"))).value.value
    0.54
    """
    name = f"{figure.name}, at {'least' if least else 'most'}"
    ends = _ends(amount)
    if ends is not None:
        words, bound = "the end of what is written", ends[not least]
    elif figure.value is not None:
        words = f"value {'−' if least else '+'} {SURE:g} × its standard uncertainty"
        bound = figure.value.value + (-SURE if least else SURE) * figure.value.u
    elif not least and figure.high is not None:
        words, bound = "the upper limit", figure.high
    else:
        return not_known(name, "L", figure.why, figure)
    return Figure(name, "L", Uncertain(max(bound, 0.0)), words, (figure,), notes=figure.notes)


def _ends(amount: Amount | None) -> tuple[float, float] | None:
    """Both ends of a range, for all the times that it is poured."""
    if amount is None or amount.low is None or amount.high is None:
        return None
    middle = (amount.low + amount.high) / 2
    times = amount.base_value / middle if amount.base_value and middle else 1.0
    return amount.low * times, amount.high * times


def vessel_loads(run: Run, things: Sequence[Thing]) -> tuple[VesselLoad, ...]:
    """The vessels of each stage that holds a liquid; `things` are those the plan speaks of."""
    loads: list[VesselLoad] = []
    carried: list[Figure] = []
    for place, stage in enumerate(run.stages):
        key = StageKey(run.name, place)
        kinds = [stage_kinds()[kind] for kind in stage.kinds if kind in stage_kinds()]
        stands_by = bool(kinds) and all(kind.stands_by for kind in kinds)
        dry = bool(kinds) and not any(kind.wet for kind in kinds)
        takes = any(entry.action == "took" for entry in stage.entries)
        taken = _taken(key, things, own=takes)
        pot = _Pot()
        for figure in (*(() if takes or stands_by or dry else carried), *taken.values()):
            pot.pour(figure, 1)
        for entry in stage.entries:
            _step(pot, entry, taken)
        goes_on = _goes_on(stage, pot)
        if pot.most is not None:
            loads.append(_load(key, stage, pot))
        if not stands_by:
            carried = goes_on
    return tuple(loads)


def _taken(key: StageKey, things: Sequence[Thing], *, own: bool) -> dict[str, Figure]:
    """The volumes of the things that a stage takes, by their labels.

    `own` tells that the stage takes for itself, which may be what the plan gave before;
    otherwise what was given before comes over as the charge.
    """
    return {
        thing.label or thing.key: limit_of(thing.volume)
        for thing in things
        if thing.used_by == key
        and (own or thing.made_by is None)
        and (thing.volume.known or LIQUID.search(thing.what.lower()))
    }


def _step(pot: _Pot, entry: Entry, taken: Container[str]) -> None:
    """One entry's part: what it pours in, and what it takes out."""
    for portion in entry.portions if entry.action == "added" else ():
        if _is_liquid(portion) and not any(label.name in taken for label in portion.labels):
            pot.pour(_volume(portion), entry.vessels)
    for portion in entry.supplies:
        if _is_liquid(portion):
            pot.pour(_repeated(_volume(portion), entry), entry.vessels)
    for portion in entry.portions if entry.action in OUT else ():
        if _amount(portion) is not None:
            pot.take_out(_volume(portion, least=True), _volume(portion))


def _repeated(figure: Figure, entry: Entry) -> Figure:
    """What a rinse takes; where nobody knows how often it is done, there is no limit."""
    if entry.repeats is not None:
        return figure
    why = f"how often it is done with {figure.terms[0].name} is not known"
    return not_known(figure.name, "L", why, figure)


def _amount(portion: Portion) -> Amount | None:
    """The volume that is written for a portion, before or behind its weight."""
    both = (portion.amount, portion.second)
    return next((one for one in both if one and one.dimension is Dimension.VOLUME), None)


def _is_liquid(portion: Portion) -> bool:
    """Whether a portion is poured: by its volume, or, where none is written, by what it is."""
    known = reagents().get(portion.reagent)
    if _amount(portion) is not None or known is None:
        return _amount(portion) is not None or LIQUID.search(portion.what.lower()) is not None
    return known.state == "liquid"


def _volume(portion: Portion, *, least: bool = False) -> Figure:
    """The most, or the least, that a portion may be."""
    name = portion.reagent or portion.what
    why = f"how much {name} that is by volume is not written"
    amount = _amount(portion)
    if amount is not None:
        return limit_of(leaf(name, amount, why), amount, least=least)
    unknown = Figure(name, "L", why=why, rests_on=(portion.span,))
    return limit_of(unknown, least=least)


def _goes_on(stage: Stage, pot: _Pot) -> list[Figure]:
    """What the next stage begins with: what was got, else all that stands in the vessels."""
    got = [one for entry in stage.entries if entry.action == "got" for one in entry.portions]
    volumes = [_volume(one) for one in got if _amount(one) is not None]
    if volumes:
        pot.at_most(add_up("what the stage gives", "L", volumes))
        return volumes
    if got and all(_is_solid(one) for one in got):
        return []  # what the liquid came to, the stage does not hand on
    return pot.whole


def _is_solid(portion: Portion) -> bool:
    words = portion.what.lower().split()
    if LIQUID.search(portion.what.lower()):
        return False
    weighed = portion.amount is not None and portion.amount.dimension is Dimension.MASS
    return weighed or bool(vocabularies()["form"].intersection(words) or SOLID.intersection(words))


def _load(key: StageKey, stage: Stage, pot: _Pot) -> VesselLoad:
    """The least volume of a vessel, so that the liquid fills no more than its share.

    Equation: V = v / p [L], v the liquid at most and p the share that may be filled. With an
    unknown part there is no limit to either.
    """
    assert pot.most is not None
    fill = _fill(stage)
    return load_of(key, pot.vessels, _without_limits(pot.most), fill.share, fill.reason)


def load_of(key: StageKey, vessels: int, most: Figure, share: float, reason: str) -> VesselLoad:
    """The vessel for so much liquid, filled to a share of it."""
    words = f"{most.name} / {share:g}"
    least = part_of("least vessel", most, 1 / share, words)
    return VesselLoad(key, vessels, most, least, share, reason, _beaker(least))


def _without_limits(most: Figure) -> Figure:
    """What has no upper limit is not known: its known part would be taken for a size."""
    if most.value is not None:
        return most
    return not_known(most.name, "L", most.why or reasons(most.terms), *most.terms)


def _fill(stage: Stage) -> _Fill:
    """The least full of all that applies to a stage: its kinds, and what is put in."""
    rules = [_rules("usual")["usual"]]
    rules += [_rules("stage")[kind] for kind in stage.kinds if kind in _rules("stage")]
    for entry in stage.entries:
        for portion in (*(entry.portions if entry.action == "added" else ()), *entry.supplies):
            known = reagents().get(portion.reagent)
            classes = known.classes if known is not None else ()
            rules += [_rules("class")[name] for name in classes if name in _rules("class")]
    return min(rules, key=lambda rule: rule.share)


@cache
def _rules(table: str) -> dict[str, _Fill]:
    rows = load("vessels.toml")[table]
    return {row["name"]: _Fill(float(row["share"]), str(row["reason"])) for row in rows}


def _beaker(least: Figure) -> Figure | None:
    """The smallest usual beaker that holds so much; None where none does or nobody knows."""
    if least.value is None:
        return None
    wanted = least.value.value
    sizes = sorted(float(row["litres"]) for row in load("vessels.toml")["beaker"])
    size = next((one for one in sizes if one >= wanted), None)
    return None if size is None else Figure("beaker", "L", Uncertain(size), "the next usual size")
