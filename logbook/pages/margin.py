"""What stands in the margin of a run's page, and beside which line it belongs.

Figures go beside the entry that gave the thing, times beside the stage's heading, cautions
beside the entry that raised them, findings beside the doubtful line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from logbook.calculation.figure import Figure
from logbook.calculation.results import (
    Caution,
    ClaimCheck,
    Fate,
    Role,
    RunFigures,
    StageTime,
    Thing,
)
from logbook.calculation.results.answers import Answer
from logbook.findings import Finding
from logbook.model.entry import Entry
from logbook.model.run import Block, Run, Stage
from logbook.pages.addresses import Here, block_lines
from logbook.pages.answer_view import answer_view
from logbook.pages.block_view import Beside
from logbook.pages.caution_view import caution_group
from logbook.pages.claim_view import claim_view
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.finding_view import finding_view

NAMING = frozenset({"took", "added"})
CHECKED_ELSEWHERE = "reckoned figures are checked in the log of a run that was done"
ELSEWHERE = "questions are answered in the log of a run"
NOWHERE = 0  # in place of a line
SPOKEN_OF = frozenset({Role.PRODUCT, Role.SIDE, Role.LEFT, Role.LOSS})


@dataclass(frozen=True, slots=True)
class Margin:
    """The margin of one run's page, to be asked for each block and heading."""

    here: Here
    things: dict[int, list[Thing]]  # by the start of the entry that gave or took them
    cautions: dict[int, list[Caution]]  # by the start of the entry that raised them
    findings: dict[int, list[Finding]]  # by the first line of the block they stand beside
    times: dict[int, StageTime]  # by the place of the stage
    answers: Mapping[int, Answer] = field(default_factory=dict)  # by the start of the entry
    claims: Mapping[int, ClaimCheck] = field(default_factory=dict)  # by the start of the entry

    def beside(self, block: Block) -> Beside:
        """What stands beside a block."""
        findings = tuple(
            finding_view(found, self.here) for found in self.findings.get(block.span.line, ())
        )
        if not isinstance(block, Entry):
            return Beside(findings=findings, line=block.span.line)
        cautions = self.cautions.get(block.span.start, ())
        answer = self.answers.get(block.span.start)
        claim = self.claims.get(block.span.start)
        return Beside(
            figures=tuple(self._contents(block)),
            findings=findings,
            cautions=caution_group(cautions, self.here),
            notes=() if answer is not None or claim is not None else entry_notes(block),
            line=block.span.line,
            answer=answer_view(answer, self.here) if answer is not None else None,
            claim=claim_view(claim, self.here) if claim is not None else None,
        )

    def heading(self, place: int, stage: Stage) -> Beside:
        """What stands beside a stage's heading: its hours, and findings about the heading."""
        times = self.times.get(place)
        figures: list[Figure] = [] if times is None else [times.hands_on, times.elapsed]
        findings = self.findings.get(stage.span.line, ())
        return Beside(
            figures=tuple(
                figure_view(figure, self.here, levels=1)
                for figure in figures
                if figure.known or figure.low
            ),
            findings=tuple(finding_view(found, self.here) for found in findings),
            line=stage.span.line if stage.title else 0,
        )

    def elsewhere(self) -> Beside:
        """What is said of no block in particular: of the title, a fact, or the whole file."""
        found = self.findings.get(NOWHERE, ())
        return Beside(findings=tuple(finding_view(finding, self.here) for finding in found))

    def _contents(self, entry: Entry) -> Iterator[FigureView]:
        """What the things of an entry hold; where that is not known, only of what is kept."""
        for thing in self.things.get(entry.span.start, ()):
            kept = thing.role in SPOKEN_OF or thing.fate is Fate.SHELF
            for content in thing.contents.values():
                if content.known or kept:
                    yield figure_view(content, self.here, levels=2)


def entry_notes(entry: Entry) -> tuple[str, ...]:
    """What the program has to say of an entry that it does not work out where it stands."""
    if entry.action == "ask":
        return (ELSEWHERE,)
    if entry.action == "reckoned":
        return (CHECKED_ELSEWHERE,)
    return ()


def run_margin(
    run: Run, figures: RunFigures | None, findings: Iterable[Finding], here: Here
) -> Margin:
    """Sort what there is to say about a run by the line it stands beside."""
    return Margin(
        here=here,
        things=_things_by_entry(run, figures) if figures is not None else {},
        cautions=_cautions_by_entry(figures) if figures is not None else {},
        findings=_findings_by_line(run, findings),
        times={time.stage.index: time for time in figures.stage_times} if figures else {},
        answers=figures.answers if figures is not None else {},
        claims={one.entry.span.start: one for one in figures.claims} if figures else {},
    )


def _things_by_entry(run: Run, figures: RunFigures) -> dict[int, list[Thing]]:
    found: dict[int, list[Thing]] = {}
    for thing in (*figures.things_in, *figures.things_out):
        entry = _entry_of(thing, run)
        if entry is not None:
            found.setdefault(entry.span.start, []).append(thing)
    return found


def _entry_of(thing: Thing, run: Run) -> Entry | None:
    """The entry of a run beside which a thing stands: where it was taken, or where it was got."""
    if thing.used_by is not None and thing.used_by.run == run.name:
        for entry in run.stages[thing.used_by.index].entries:
            named = {label.name for portion in entry.portions for label in portion.labels}
            named.update(label.name for label in entry.sources)
            if entry.action in NAMING and (entry in thing.entries or thing.label in named):
                return entry
        return None
    own = [entry for entry in thing.entries if entry.span.source is run.source]
    return own[0] if own else None


def _cautions_by_entry(figures: RunFigures) -> dict[int, list[Caution]]:
    found: dict[int, list[Caution]] = {}
    for caution in figures.cautions:
        found.setdefault(caution.entry.span.start, []).append(caution)
    return found


def _findings_by_line(run: Run, findings: Iterable[Finding]) -> dict[int, list[Finding]]:
    """Findings by the first line of the block that holds them, or of the heading above."""
    homes = {stage.span.line: stage.span.line for stage in run.stages}
    for blocks in (run.opening, *(stage.blocks for stage in run.stages)):
        for block in blocks:
            words = block.span.text.rstrip().count("\n")
            first = block.span.line
            homes.update(dict.fromkeys(range(first, first + words + 1), first))
            homes.update(dict.fromkeys(block_lines(block), first))
    found: dict[int, list[Finding]] = {}
    for finding in sorted(findings, key=lambda finding: finding.sort_key):
        found.setdefault(homes.get(finding.span.line, NOWHERE), []).append(finding)
    return found
