"""What each run took of each metal, followed back through jars and draws to what was first made.

What was poured together is shared by content: by what is known of a thing, or else by its share
of a sum that is known. Nothing here goes back into a balance.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.balance import title_of
from logbook.calculation.origins import Origins
from logbook.calculation.results import RunFigures, Thing
from logbook.model.amount import ZERO, Uncertain, total

InRun = tuple[str, str]  # a run and a metal
ALL = Uncertain(1.0)
LEAST = 1e-12  # g: less is nothing


@dataclass(frozen=True, slots=True)
class Taken:
    """A thing as it was first made, and its share of what a run took of a metal [g/g].

    `grams` is how much of its metal was taken, None where nothing tells; `alone` that nothing
    else was.
    """

    run: str
    metal: str
    origin: Thing
    share: Uncertain
    grams: Uncertain | None
    alone: bool


@dataclass(frozen=True, slots=True)
class Takings:
    """All that the runs of a book took.

    `beside` names what a run took and of which nothing tells how much metal it held.
    """

    all: tuple[Taken, ...]
    beside: Mapping[InRun, tuple[str, ...]]

    def runs_by_metal(self) -> dict[str, list[str]]:
        """For each metal the runs that took some."""
        runs: dict[str, dict[str, None]] = {}
        for one in self.all:
            runs.setdefault(one.metal, {})[one.run] = None
        return {metal: list(found) for metal, found in runs.items()}


def taken_by_runs(runs: Mapping[str, RunFigures], origins: Origins) -> Takings:
    """What every run took, thing by thing and metal by metal."""
    found: list[Taken] = []
    beside: dict[InRun, tuple[str, ...]] = {}
    for name, figures in runs.items():
        for metal in dict.fromkeys(metal for one in figures.things_in for metal in one.held):
            inputs = [one for one in figures.things_in if metal in one.held]
            taken, unknown = followed_back(metal, inputs, origins, name)
            found += taken
            if unknown:
                beside[name, metal] = unknown
    return Takings(tuple(found), beside)


def followed_back(
    metal: str, things: Sequence[Thing], origins: Origins, run: str = ""
) -> tuple[list[Taken], tuple[str, ...]]:
    """Things as what they were first made of, and the names of those without a share."""
    return _Followed(metal, origins).back(run, things)


@dataclass(frozen=True, slots=True)
class _Followed:
    """The following back of one metal."""

    metal: str
    origins: Origins

    def back(self, run: str, inputs: Sequence[Thing]) -> tuple[list[Taken], tuple[str, ...]]:
        """What a run took, and the names of things of which nothing tells what they held."""
        found: dict[str, Taken] = {}
        unknown: list[str] = []
        stack: list[tuple[Sequence[Thing], Uncertain, Uncertain | None]] = [(inputs, ALL, None)]
        while stack:
            parts, whole, grams = stack.pop()
            for part, share in zip(parts, self._shares(parts, grams), strict=True):
                if share is None:
                    unknown.append(title_of(part))
                    continue
                of_all = share if whole is ALL else whole if share is ALL else whole * share
                held = self.size(part) if grams is None else _times(grams, share)
                behind = self._behind(part)
                if behind:
                    stack.append((behind, of_all, held))
                else:
                    one = Taken(run, self.metal, part, of_all, held, of_all is ALL)
                    found[part.key] = _together(found.get(part.key), one)
        return list(found.values()), tuple(dict.fromkeys(unknown))

    def _behind(self, thing: Thing) -> list[Thing]:
        """What was poured together to make a thing, or the lot it was drawn from."""
        by_key = self.origins.by_key
        if thing.pooled_from:
            parts = [by_key[key] for key in thing.pooled_from]
            return [part for part in parts if self.metal in part.held]
        return [by_key[thing.part_of]] if thing.part_of and thing.made_by is None else []

    def _shares(self, parts: Sequence[Thing], whole: Uncertain | None) -> list[Uncertain | None]:
        """The share of each of some things; one that is alone is all there is.

        Where one of them is not known, what they hold together [g] limits the others' shares.
        """
        if len(parts) == 1:
            return [ALL]
        sizes = [self.size(part) for part in parts]
        known = [size for size in sizes if size is not None]
        held = total(known)
        if len(known) < len(sizes) and whole is not None and whole.value > held.value:
            held = whole
        if held.value <= LEAST:
            return [None if size is None else ZERO for size in sizes]
        return [None if size is None else size / held for size in sizes]

    def size(self, thing: Thing) -> Uncertain | None:
        """What a thing held, or its share of a sum that is known [g]; None where neither is."""
        content = thing.held[self.metal]
        for figure in (content.best, content.allocated):
            if figure is not None and figure.value is not None:
                return figure.value if figure.value.value > 0.0 else ZERO
        return None


def _times(grams: Uncertain, share: Uncertain) -> Uncertain:
    return grams if share is ALL else grams * share


def _together(before: Taken | None, one: Taken) -> Taken:
    """Two draws from one lot that the same run took, as one."""
    if before is None:
        return one
    both = [grams for grams in (before.grams, one.grams) if grams is not None]
    grams = total(both) if len(both) == 2 else None
    return replace(one, share=before.share + one.share, grams=grams)
