"""How much liquid stands in the vessels of a plan at most, and how large they must be.

Volumes are added as they are poured; what a solid takes up is left to the headroom. What is
carried from stage to stage is never less than was put in, unless the plan takes it out. This
is a size to begin with, and no promise that nothing boils over.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, field
from functools import cache

from logbook.calculation.cautions.signs import LIQUID
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageKey, Thing
from logbook.calculation.results.plans import VesselLoad
from logbook.calculation.sums import add_up, highest, lowest, part_of
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run, Stage
from logbook.reference import load, reagents, stage_kinds, vocabularies

OUT = frozenset({"discarded", "kept", "sampled", "lost"})
SOLID = frozenset({"black", "cement", "chloride", "precipitate", "residue"})
"""Words for what is no liquid, beside the forms of words.toml."""


@dataclass(frozen=True, slots=True)
class _Fill:
    """How full a vessel may be, and why."""

    share: float
    reason: str


@dataclass(slots=True)
class _Pot:
    """The liquid of a plan as its entries go by.

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
        self.at_most(add_up("liquid in one vessel", "L", self.each))

    def at_most(self, now: Figure) -> None:
        """Note how much stands in a vessel, if it is more than ever before."""
        if self.most is None or _top(now) >= _top(self.most):
            self.most = now

    def take_out(self, figure: Figure) -> None:
        """Take a volume out, if it is known; what is not known stays in.

        Where more is to be taken out than was put in, so much must have been there.
        """
        if figure.value is None or self.vessels > 1:
            return
        self.at_most(figure)
        left = max(lowest(add_up("liquid", "L", self.whole)) - figure.value.value, 0.0)
        why = "less what the plan takes out"
        self.whole = [Figure("liquid left", "L", Uncertain(left), why, (*self.whole, figure))]
        self.each = list(self.whole)


def _top(figure: Figure) -> float:
    top = highest(figure)
    return lowest(figure) if top is None else top


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
        thing.label or thing.key: thing.volume
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
            pot.take_out(_volume(portion))


def _repeated(figure: Figure, entry: Entry) -> Figure:
    """What a rinse takes; where nobody knows how often it is done, at least that of one time."""
    if entry.repeats is not None:
        return figure
    why = f"how often it is done with {figure.name} is not known"
    return Figure(figure.name, "L", terms=(figure,), why=why, low=lowest(figure))


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


def _volume(portion: Portion) -> Figure:
    name = portion.reagent or portion.what
    why = f"how much {name} that is by volume is not written"
    amount = _amount(portion)
    if amount is not None:
        return leaf(name, amount, why)
    return Figure(name, "L", why=why, rests_on=(portion.span,))


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

    Equation: V = v / p [L], v the liquid at most and p the share that may be filled. Limits
    are rounded outward: with an unknown part, V is at least what the known part asks for.
    """
    assert pot.most is not None
    fill = _fill(stage)
    words = f"liquid in one vessel / {fill.share:g}"
    least = part_of("least vessel", pot.most, 1 / fill.share, words)
    return VesselLoad(key, pot.vessels, pot.most, least, fill.share, fill.reason, _beaker(least))


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
    wanted = least.value.value + 2 * least.value.u
    sizes = sorted(float(row["litres"]) for row in load("vessels.toml")["beaker"])
    size = next((one for one in sizes if one >= wanted), None)
    return None if size is None else Figure("beaker", "L", Uncertain(size), "the next usual size")
