"""The last pH that was read of what a waste container holds.

A reading counts where its line names the label, or where it was read in the stage just before
the only thing in the container was poured in. A range that was read stays a range.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Discarded, StageKey, Thing
from logbook.calculation.schedule import steps_of_run
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Entry
from logbook.model.run import Run

Named = tuple[Step, Amount]
LABEL = re.compile(r"\[\s*([^\]\n]*?)\s*\]")
NEVER = "no pH was read of it"
SINCE = "something was poured in after its pH was read"


@dataclass(frozen=True, slots=True)
class Reading:
    """A pH with the day on which it was read."""

    figure: Figure
    day: date | None


def ph_by_label(runs: Iterable[Run]) -> Mapping[str, list[Named]]:
    """Every pH whose own line names a label, by the label."""
    found: dict[str, list[Named]] = {}
    for run in runs:
        for step in steps_of_run(run):
            amount = _ph_of(step.entry)
            if amount is not None:
                for label in LABEL.findall(step.entry.span.text):
                    found.setdefault(label, []).append((step, amount))
    return found


def last_ph(
    thing: Thing,
    received: Sequence[Discarded],
    named: Mapping[str, list[Named]],
    runs: Mapping[str, Run],
) -> Reading:
    """The last pH of what is in a container; not known where something came in since."""
    found = named.get(thing.label, [])
    last_in = max((one.day for one in received if one.day is not None), default=None)
    if found:
        step, amount = max(found, key=lambda one: one[0].day)
        if last_in is not None and step.day < last_in:
            return Reading(not_known("pH", "1", SINCE), None)
        return _reading(amount, step.day)
    if len(received) == 1 and received[0].stage is not None:
        before = _before_it_went(received[0], received[0].stage, runs)
        if before is not None:
            return _reading(before, received[0].day)
    return Reading(not_known("pH", "1", NEVER), None)


def _reading(amount: Amount, day: date | None) -> Reading:
    return Reading(leaf("pH", amount, "it was read between two limits"), day)


def _ph_of(entry: Entry) -> Amount | None:
    """The pH that an entry read; of several the last."""
    read = [one for one in entry.conditions if one.dimension is Dimension.PH]
    return read[-1] if read else None


def _before_it_went(one: Discarded, stage: StageKey, runs: Mapping[str, Run]) -> Amount | None:
    """The last pH read in a stage before a thing left it, after the last that was added."""
    run = runs.get(stage.run)
    if run is None:
        return None
    last: Amount | None = None
    for entry in run.stages[stage.index].entries:
        if any(entry is out for out in one.entries):
            break
        if entry.action in ("added", "took") or entry.supplies:
            last = None
        last = _ph_of(entry) or last
    return last
