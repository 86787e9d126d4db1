"""Which account each purchase and each use belongs to: one for each supply and strength.

A use that names no strength belongs to the only one that was bought; where there are several,
nobody knows to which. Nothing here counts or prices anything.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageKey
from logbook.calculation.supplies.arrivals import Arrival
from logbook.calculation.supplies.conversion import (
    WEIGHED,
    converted,
    litre_weighs,
    measured_in,
)
from logbook.calculation.supplies.names import (
    FREE,
    Strength,
    dimension_unit,
    strength_in_words,
    strength_of,
    supply_in_words,
    supply_name,
)
from logbook.calculation.supplies.uses import SupplyUse
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Portion

ONE_STRENGTH = "taken to be the one strength that was bought"


@dataclass(slots=True, eq=False)
class Line:
    """One purchase or use in an account: `quantity` is in its unit, `note` what was assumed."""

    day: date
    kind: str  # had, bought, used
    quantity: Figure
    entry: Entry
    arrival: Arrival | None = None
    use: SupplyUse | None = None
    note: str = ""

    @property
    def stage(self) -> StageKey | None:
        """Where it was used."""
        return self.use.stage if self.use is not None else None


@dataclass(slots=True, eq=False)
class Shelf:
    """The place of one supply in one strength, in one kind of unit, with its lines.

    `perhaps` are uses of which nobody knows whether they were of this one. `litre` is what a
    litre of it weighs.
    """

    name: str
    strength: Strength
    dimension: Dimension | None
    portion: Portion
    litre: Figure
    lines: list[Line] = field(default_factory=list)
    perhaps: list[Figure] = field(default_factory=list)
    several: bool = False  # its uses may be of any of several strengths
    came: bool = False  # whether any of it was ever bought or had

    @property
    def unit(self) -> str:
        """The unit in which it is counted."""
        if self.dimension is None:
            return self.lines[0].quantity.unit if self.lines else "1"
        return dimension_unit(self.dimension)

    @property
    def words(self) -> str:
        """The supply with its strength, for a sentence."""
        return supply_in_words(self.portion)

    @property
    def from_tap(self) -> bool:
        """Whether it is one that costs nothing where none was bought."""
        return self.name in FREE

    def counted(self, use: SupplyUse) -> Figure:
        """How much was used in the unit of this shelf; not known where nothing leads there."""
        quantity, dimension = use.used, use.dimension
        if dimension is self.dimension:
            return quantity
        if dimension in WEIGHED and self.dimension in WEIGHED and self.dimension is not None:
            return converted(quantity, self.dimension, self.litre)
        words = supply_in_words(use.portion)
        why = quantity.why or f"{words} was bought in another kind of unit"
        return Figure(quantity.name, self.unit, terms=(quantity,), why=why, low=0.0)


Shelves = Mapping[str, Sequence[Shelf]]


def shelves(arrivals: Iterable[Arrival], uses: Iterable[SupplyUse]) -> dict[str, list[Shelf]]:
    """Every purchase and use on its shelf, by the names of the supplies; each in order of days."""
    came: dict[str, dict[Strength, list[Arrival]]] = {}
    went: dict[str, list[SupplyUse]] = {}
    for arrival in arrivals:
        kinds = came.setdefault(supply_name(arrival.portion), {})
        kinds.setdefault(strength_of(arrival.portion), []).append(arrival)
    for use in uses:
        went.setdefault(use.name, []).append(use)
    found = {}
    for name in dict.fromkeys((*came, *went)):
        shelved = _shelves_of(name, came.get(name, {}), went.get(name, []))
        for shelf in shelved:
            shelf.lines.sort(key=lambda line: (line.day, line.use is not None))
        found[name] = shelved
    return found


def _shelves_of(
    name: str, kinds: Mapping[Strength, Sequence[Arrival]], uses: Sequence[SupplyUse]
) -> list[Shelf]:
    """The shelves of one supply."""
    by_strength: dict[Strength, list[SupplyUse]] = {}
    for use in uses:
        by_strength.setdefault(belongs_to(kinds, strength_of(use.portion)), []).append(use)
    found: list[Shelf] = []
    for strength in dict.fromkeys((*kinds, *by_strength)):
        mine = by_strength.get(strength, [])
        shelved = _of_arrivals(name, strength, kinds.get(strength, ()), mine)
        for use in sorted(mine, key=lambda one: not one.used.known):
            _put(use, shelved, name, strength)
        found += shelved
    _doubt(found, uses, kinds)
    return found


def belongs_to(kinds: Iterable[Strength], strength: Strength) -> Strength:
    """The strength that was bought of the one that is named: the only one where either is not."""
    known = list(kinds)
    if strength not in known and len(known) == 1 and (known[0] is None or strength is None):
        return known[0]
    return strength


def _of_arrivals(
    name: str, strength: Strength, arrivals: Sequence[Arrival], uses: Sequence[SupplyUse]
) -> list[Shelf]:
    """A shelf for each kind of unit that cannot be told in another."""
    litre = litre_weighs(arrival.portion for arrival in arrivals)
    wanted = Counter(use.dimension for use in uses)
    found: list[Shelf] = []
    rest = list(arrivals)
    while rest:
        dimension = _best_unit(rest, wanted)
        shelf = Shelf(name, strength, dimension, rest[0].portion, litre, came=True)
        later = []
        for arrival in rest:
            quantity = _arrived(arrival, shelf)
            if quantity is None:
                later.append(arrival)
            else:
                entry = arrival.step.entry
                shelf.lines.append(Line(arrival.day, entry.action, quantity, entry, arrival))
        found.append(shelf)
        rest = later
    return found


def _best_unit(arrivals: Sequence[Arrival], wanted: Counter[Dimension | None]) -> Dimension | None:
    """The kind of unit in which all is written and most is used; else that of the first.

    Where no purchase says how much it was, that in which most was used.
    """
    every = [{one.dimension for one in arrival.amounts} for arrival in arrivals if arrival.amounts]
    if not every:
        return max((one for one in wanted if one), key=lambda one: wanted[one], default=None)
    first = next(arrival for arrival in arrivals if arrival.amounts)
    common = [one.dimension for one in first.amounts if all(one.dimension in own for own in every)]
    return max(common, key=lambda one: wanted[one], default=first.amounts[0].dimension)


def _arrived(arrival: Arrival, shelf: Shelf) -> Figure | None:
    """How much came, in the unit of a shelf; None where it belongs on another."""
    if not arrival.amounts or shelf.dimension is None:
        why = f"how much {arrival.words} is not written"
        return not_known("bought or had", shelf.unit, why)
    found = measured_in(arrival.amounts, "bought or had", shelf.dimension, shelf.litre)
    if found is None or found.known:
        return found
    return replace(found, why=f"how much {arrival.words} is not written")


def _put(use: SupplyUse, shelved: list[Shelf], name: str, strength: Strength) -> None:
    """Put a use on the shelf of its unit, else on one that can be told in it, else the first."""
    if not shelved or not shelved[0].came:
        _put_apart(use, shelved, name, strength)
        return
    shelf = _shelf_for(shelved, use.dimension if _tells(use.used) else None)
    quantity = shelf.counted(use)
    note = ONE_STRENGTH if strength_of(use.portion) != strength else ""
    shelf.lines.append(_used(use, quantity, note))
    if not quantity.known:
        for other in shelved:
            if other is not shelf:
                doubtful = Figure(quantity.name, other.unit, why=quantity.why, low=0.0)
                other.perhaps.append(doubtful)


def _tells(quantity: Figure) -> bool:
    """Whether a quantity says anything: a pinch is counted in no unit."""
    return quantity.known or bool(quantity.low)


def _shelf_for(shelved: Sequence[Shelf], dimension: Dimension | None) -> Shelf:
    for shelf in shelved:
        if shelf.dimension is dimension:
            return shelf
    for shelf in shelved:
        if dimension in WEIGHED and shelf.dimension in WEIGHED and shelf.litre.known:
            return shelf
    return shelved[0]


def _put_apart(use: SupplyUse, shelved: list[Shelf], name: str, strength: Strength) -> None:
    """Put a use of what was never bought on a shelf of its kind of unit."""
    of_unit = [one for one in shelved if one.dimension is use.dimension]
    if not of_unit and not use.used.known:
        of_unit = shelved[:1]
    if not of_unit:
        litre = litre_weighs([use.portion])
        of_unit = [Shelf(name, strength, use.dimension, use.portion, litre)]
        shelved += of_unit
    quantity = of_unit[0].counted(use)
    of_unit[0].lines.append(_used(use, quantity, ""))


def _used(use: SupplyUse, quantity: Figure, note: str) -> Line:
    assert use.entry is not None  # every use of a run has one
    return Line(use.day, "used", quantity, use.entry, use=use, note=note)


def _doubt(
    found: Sequence[Shelf], uses: Iterable[SupplyUse], kinds: Mapping[Strength, object]
) -> None:
    """Note on every shelf of a strength the uses that name none and may be of it."""
    if len(kinds) < 2:
        return
    nameless = [use for use in uses if strength_of(use.portion) is None]
    for shelf in found:
        if shelf.strength is None:
            shelf.several = None not in kinds
            continue
        for use in nameless:
            why = f"of which strength {use.used.name} was is not written"
            shelf.perhaps.append(Figure(use.used.name, shelf.unit, why=why, low=0.0))


def strength_words(shelf: Shelf) -> str:
    """The strength of a shelf in the writer's words."""
    return strength_in_words(shelf.portion) if shelf.strength is not None else ""
