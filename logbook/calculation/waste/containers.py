"""What stands in each waste container, and what has gone: how much, of what, how acid.

Everything is a limit where nothing was measured, and nothing found is not known, never
nothing. No figure here says that waste may be treated, mixed or poured away.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.cautions.signs import LIQUID
from logbook.calculation.results import (
    Caution,
    Discarded,
    Fate,
    Role,
    StageChemistry,
    StageKey,
    Thing,
    WasteContainer,
)
from logbook.calculation.supplies.uses import SupplyUse
from logbook.calculation.waste.acid_supplies import uncounted
from logbook.calculation.waste.acids import AcidHeld, acids_of
from logbook.calculation.waste.base_needed import acids_left, base_needs, caustic, heat_of
from logbook.calculation.waste.doubted import Doubts
from logbook.calculation.waste.limits import compared
from logbook.calculation.waste.ph import Named, last_ph, ph_by_label
from logbook.calculation.waste.steps import Kind, steps_for
from logbook.calculation.waste.unsafe import AsItIs, Poured
from logbook.chemistry.formulas import atoms
from logbook.chemistry.ranges import MissingError
from logbook.model.entry import Portion
from logbook.model.run import Run
from logbook.reference import metals

WITHOUT_LABEL = "it was thrown away without a label: where it is now, no line tells"
OPEN_JAR = "water that dries out of an open container is not followed"
OTHERS = "what else the scrap was made of is in it as well, and no line tells what that is"
CLINGING = "what clung to damp solids is not followed"
NOT_ALL_KNOWN = "what went in is not all known: no acid may come to it"


@dataclass(frozen=True, slots=True)
class WasteTerms:
    """What waste is judged with."""

    things: Mapping[str, Thing]  # by key
    acids: Mapping[str, AcidHeld]  # by key
    chemistry: Mapping[StageKey, StageChemistry]
    runs: Mapping[str, Run]
    cautions: Mapping[StageKey, Sequence[Caution]]
    days: Mapping[int, date]  # of each entry, by its identity
    readings: Mapping[str, list[Named]]  # of pH, by label
    doubts: Doubts
    poured: Poured


def waste_of_book(
    things: Sequence[Thing],
    runs: Sequence[Run],
    chemistry: Mapping[str, Sequence[StageChemistry]],
    uses: Mapping[str, Sequence[SupplyUse]],
    cautions: Mapping[str, Sequence[Caution]],
    days: Mapping[int, date],
) -> tuple[WasteContainer, ...]:
    """The waste of a book. Chemistry, uses and cautions are by run; plans count for nothing."""
    done = {run.name: run for run in runs if not run.planned}
    by_stage = {one.stage: one for run in done for one in chemistry.get(run, ())}
    doubts = uncounted((use for run in done for use in uses.get(run, ())), by_stage)
    raised: dict[StageKey, list[Caution]] = {}
    for run in done:
        for caution in cautions.get(run, ()):
            raised.setdefault(caution.stage, []).append(caution)
    held = acids_of(things, by_stage, done, doubts)
    by_key = {thing.key: thing for thing in things}
    readings = ph_by_label(done.values())
    poured = Poured(done, _inputs(things), _supplies(done, uses), raised)
    terms = WasteTerms(by_key, held, by_stage, done, raised, days, readings, Doubts(by_key), poured)
    return waste_containers(terms)


def _supplies(
    runs: Iterable[str], uses: Mapping[str, Sequence[SupplyUse]]
) -> Mapping[StageKey, Sequence[Portion]]:
    found: dict[StageKey, list[Portion]] = {}
    for run in runs:
        for use in uses.get(run, ()):
            found.setdefault(use.stage, []).append(use.portion)
    return found


def _inputs(things: Sequence[Thing]) -> Mapping[StageKey, Sequence[Thing]]:
    found: dict[StageKey, list[Thing]] = {}
    for thing in things:
        if thing.used_by is not None:
            found.setdefault(thing.used_by, []).append(thing)
    return found


def waste_containers(terms: WasteTerms) -> tuple[WasteContainer, ...]:
    """Every state of every waste container: what stands first, by label, then what has gone."""
    poured = {key for thing in terms.things.values() for key in thing.pooled_from}
    found = [
        _container(thing, terms)
        for thing in terms.things.values()
        if thing.key not in poured and _is_waste(thing)
    ]
    return tuple(sorted(found, key=lambda one: (not one.stands, not one.label, one.key)))


def _is_waste(thing: Thing) -> bool:
    """Whether a thing is waste, or was waste when a stage took it to be treated."""
    return thing.fate is Fate.WASTE or (thing.role is Role.WASTE and thing.used_by is not None)


def _container(thing: Thing, terms: WasteTerms) -> WasteContainer:
    held = terms.acids[thing.key]
    received = tuple(_received(thing, terms))
    sources = [terms.chemistry[key] for key in held.reach if key in terms.chemistry]
    ph = last_ph(thing, received, terms.readings, terms.runs)
    liquid = thing.volume.known or LIQUID.search(thing.what.lower()) is not None
    may_hold = tuple(_may_hold(thing, sources))
    contents = terms.doubts.contents(thing)
    base_in = caustic(held, sources)
    stages = _stages(thing.label, held, received, terms)
    metals = (*(name for name, one in contents.items() if one.best.high != 0), *may_hold)
    never = terms.poured.never_treated(thing.label, stages, received, metals)
    kind = Kind(
        liquid=liquid,
        ph=ph.figure,
        takes=held.takes,
        caustic=base_in is not None,
        contents=contents,
        may_hold=may_hold,
        as_it_is=bool(never),
        known=not held.doubts,
    )
    return WasteContainer(
        key=thing.key,
        label=thing.label,
        what=thing.what,
        state="liquid" if liquid else "solid",
        received=received,
        volume=thing.volume,
        gross=thing.gross,
        ph=ph.figure,
        ph_day=ph.day,
        contents=contents,
        may_hold=may_hold,
        acids=acids_left(held, sources),
        base=() if never else base_needs(contents, held, sources),
        heat=heat_of(held, sources),
        caustic=base_in,
        limits=compared(thing, contents, ph.figure, may_hold),
        steps=steps_for(kind),
        cautions=tuple(_cautions(thing.label, stages, terms)),
        last_run=_last_run(received),
        gone=_gone(thing, terms),
        gone_entries=thing.handed_over,
        taken_by=thing.used_by,
        notes=tuple(_notes(thing, never, liquid=liquid, known=not held.doubts)),
    )


def _received(thing: Thing, terms: WasteTerms) -> Iterable[Discarded]:
    """What was poured in, through jars that were poured into jars; each thing once."""
    seen: set[str] = set()
    stack = [thing.key]
    while stack:
        one = terms.things[stack.pop()]
        if one.key in seen:
            continue
        seen.add(one.key)
        behind = one.pooled_from or ((one.part_of,) if one.part_of else ())
        if behind:
            stack.extend(reversed(behind))
        else:
            yield Discarded(one.key, one.what, one.day, one.made_by, one.volume, one.entries)


def _last_run(received: Sequence[Discarded]) -> str:
    """The run that added to it last; of two on one day the later in the list."""
    last = ""
    latest = date.min
    for one in received:
        if one.stage is not None and (one.day or date.min) >= latest:
            last, latest = one.stage.run, one.day or date.min
    return last


def _gone(thing: Thing, terms: WasteTerms) -> date | None:
    """The day on which a line says that it left the book."""
    days = [terms.days[id(entry)] for entry in thing.handed_over if id(entry) in terms.days]
    return max(days, default=None)


def _may_hold(thing: Thing, sources: Sequence[StageChemistry]) -> Iterable[str]:
    """Metals that were put in or taken beside it, of which no balance tells how much is here."""
    by_symbol = {metal.symbol: metal.name for metal in metals().values()}
    found: dict[str, None] = {}
    for source in sources:
        for one in source.added:
            try:
                symbols = atoms(one.formula)
            except MissingError:
                continue
            for symbol in symbols:
                if symbol in by_symbol:
                    found[by_symbol[symbol]] = None
        for metal in source.metals:
            found[metal] = None
    return (metal for metal in found if metal not in thing.held)


def _stages(
    label: str, held: AcidHeld, received: Sequence[Discarded], terms: WasteTerms
) -> tuple[StageKey, ...]:
    """The stages that it came through, that poured it, or whose prose says so."""
    poured = (one.stage for one in received if one.stage is not None)
    return tuple(dict.fromkeys((*held.through, *poured, *terms.poured.stages_told(label))))


def _cautions(label: str, stages: Iterable[StageKey], terms: WasteTerms) -> list[Caution]:
    """What was raised in the stages it came through, and in the vessel; each rule once."""
    of_stages = [one for stage in stages for one in terms.cautions.get(stage, ())]
    found: dict[str, Caution] = {}
    for caution in (*terms.poured.met_in(label), *of_stages):
        found.setdefault(caution.rule, caution)
    return sorted(found.values(), key=lambda one: one.signal != "danger")


def _notes(thing: Thing, never: Iterable[AsItIs], *, liquid: bool, known: bool) -> Iterable[str]:
    for one in never:
        yield f"{one.name} went in, or may have: {one.why}"
    if liquid and not known:
        yield NOT_ALL_KNOWN
    if not thing.label:
        yield WITHOUT_LABEL
    if liquid:
        yield from (OTHERS, OPEN_JAR, CLINGING)
