"""Which gases a mixture can give off at most, as figures and in a sentence.

The limits are those of the pages of runs; nothing is worked out here a second time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from logbook.calculation.bench.gas import (
    NO_VENTILATION,
    ONE_OR_THE_OTHER,
    OXIDES,
    stage_gases,
)
from logbook.calculation.bench.gas_mix import Setting
from logbook.calculation.bench.substances import UNLIMITED, merged
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageChemistry, StageGas, Substance
from logbook.calculation.sums import reasons
from logbook.chemistry.air import local_rules, name_of
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import reactions
from logbook.chemistry.releases import driven, helpers, pairs, releases

STATE = "volumes at 25 C and 101.325 kPa; warm gas takes more room"
EQUATION, FREED = "->", "any "
COLD = Setting()


def mixture_gases(
    chemistry: StageChemistry, room: Figure | None = None, setting: Setting = COLD
) -> tuple[StageGas, ...]:
    """Every gas of one mixture; without an upper limit where what it comes from has none."""
    return stage_gases([chemistry], room, settings={chemistry.stage: setting})


def imagined(kind: str) -> Substance:
    """Any acid, or any base, as much of it as one likes: for what it sets free and nothing else."""
    formula = next(one for one in helpers(kind) if one not in _with_a_part_of_its_own())
    why = f"how much {kind} there is, is not said"
    return Substance(formula, UNLIMITED, f"any {kind}", (), (why,))


@cache
def _with_a_part_of_its_own() -> frozenset[str]:
    """The substances that do more than any other acid or base would."""
    worked = {formula for one in reactions().values() for formula in one.equation.into}
    alone = {one.of for one in releases()} | {one.of for one in driven()}
    paired = {f for one in pairs() for kind in (one.first, one.second) for f in helpers(kind)}
    return frozenset(worked | alone | paired)


def volume(gas: StageGas) -> Figure:
    """A gas by its name and its volume at most [L]."""
    return replace(gas.litres, name=name_of(gas.gas), low=None)


def limited(figures: Iterable[Figure]) -> tuple[Figure, ...]:
    """Those of some figures that have an upper limit."""
    return tuple(one for one in figures if one.high is not None)


def said(figures: Sequence[Figure]) -> list[str | Figure]:
    """Gases in a sentence; the oxides of nitrogen are one or the other."""
    words: list[str | Figure] = []
    oxides = {name_of(gas) for gas in OXIDES}
    for place, figure in enumerate(figures):
        before = figures[place - 1].name if place else ""
        joint = " or " if {before, figure.name} == oxides else " and "
        words += [joint if place else "", figure, f" of {figure.name}"]
    return words


def all_said(figures: Sequence[Figure]) -> list[str | Figure]:
    """Gases in a sentence, those without a limit behind the others, with the reason."""
    bounded = limited(figures)
    open_ones = [one for one in figures if one.high is None]
    words = said(bounded)
    if open_ones:
        names = " and ".join(one.name for one in open_ones)
        besides = ", and besides " if bounded else ""
        words.append(f"{besides}{names}, not limited, because {reasons(open_ones)}")
    return words


def sources_of(found: Iterable[StageGas]) -> tuple[str, ...]:
    """The equations that some gases rest on, those of one source together, and the limits."""
    gases = tuple(found)
    by_source: dict[str, list[str]] = {}
    for note in dict.fromkeys(note for gas in gases for note in gas.grams.notes):
        equation, opening, source = note.partition(" (")
        if EQUATION in equation and opening:
            by_source.setdefault(source.partition(")")[0], []).append(equation)
    together = (f"{'; '.join(texts)} ({source})" for source, texts in by_source.items())
    against = (note for gas in gases if gas.air is not None for note in gas.air.notes)
    return tuple(dict.fromkeys((*together, *freed_in(gases), *against)))


def freed_in(found: Iterable[StageGas]) -> tuple[str, ...]:
    """What any acid or base sets free among some gases, as a source."""
    notes = dict.fromkeys(note for gas in found for note in gas.grams.notes)
    freed = [note for note in notes if note.startswith(FREED)]
    return (f"{'; '.join(freed)} (releases.toml)",) if freed else ()


def notes_with(found: Iterable[StageGas]) -> tuple[str, ...]:
    """What there is to note of some gases: what they become, and what was taken for granted."""
    gases = tuple(found)
    own = [note for gas in gases for note in gas.grams.notes]
    plain = [note for note in own if EQUATION not in note and not note.startswith(FREED)]
    words = [gas.words.replace(ONE_OR_THE_OTHER, "").strip() for gas in gases]
    both = [ONE_OR_THE_OTHER] if any(ONE_OR_THE_OTHER in gas.words for gas in gases) else []
    unknown = [
        f"no limit for breathing {name_of(gas.gas)} was found: that is no leave"
        for gas in gases
        if gas.air is None
    ]
    always = (STATE, NO_VENTILATION, local_rules())
    return tuple(dict.fromkeys(filter(None, (*both, *words, *plain, *unknown, *always))))


@dataclass(frozen=True, slots=True)
class Poured:
    """A supply that a question asks the amount of: at most so many grams as are asked for."""

    formula: str
    words: str
    needed: Figure | None

    def at_will(self) -> Substance:
        """The substance without a limit."""
        why = f"how much {self.words} is really put in nobody knows"
        return Substance(self.formula, UNLIMITED, self.words, (), (why,))

    def as_needed(self) -> Substance:
        """The substance up to what the equations ask for."""
        if self.needed is None:
            return self.at_will()
        most = self.needed.high if self.needed.value is None else self.needed.value.value
        return Substance(self.formula, Range(0.0, most), self.words, ())


@dataclass(frozen=True, slots=True)
class WorkGases:
    """The gases of a work that is asked about.

    `whatever` are limited however much is poured, `needed` only as long as no more is poured
    than the equations ask for.
    """

    whatever: tuple[StageGas, ...]
    needed: tuple[StageGas, ...]

    def sentence(self) -> Iterator[str | Figure]:
        """What can come off, as sentences that follow an answer."""
        if self.whatever:
            yield " That can give off "
            yield from all_said([volume(one) for one in self.whatever])
            yield "."
        if self.needed:
            yield " As much as the equations ask for can give off "
            yield from all_said([volume(one) for one in self.needed])
            yield "; whatever is put in beyond that gives more."

    def all(self) -> tuple[StageGas, ...]:
        """Every one of them."""
        return (*self.whatever, *self.needed)


def work_gases(
    chemistry: StageChemistry, poured: Sequence[Poured], there: Iterable[Substance] = ()
) -> WorkGases:
    """The gases of a work with what is poured for it, and with what is there already."""
    already = tuple(there)
    open_ended = merged((*already, *(one.at_will() for one in poured)))
    asked_for = merged((*already, *(one.as_needed() for one in poured)))
    most = mixture_gases(replace(chemistry, substances=open_ended))
    needed = {one.gas: one for one in mixture_gases(replace(chemistry, substances=asked_for))}
    return WorkGases(
        tuple(one for one in most if one.litres.high is not None),
        tuple(needed[one.gas] for one in most if one.litres.high is None),
    )
