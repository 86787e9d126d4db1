"""A run as it was written: title, facts, stages, and in each the writer's own prose in order."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from logbook.model.amount import Amount
from logbook.model.entry import Entry, When
from logbook.source import SourceText, Span


class Status(StrEnum):
    """How far a run has come."""

    PLANNED = "planned"
    OPEN = "open"
    FINISHED = "finished"
    ABANDONED = "abandoned"


@dataclass(frozen=True, slots=True)
class Fact:
    """A `Word: value` line under the title, kept whether its word is known or not."""

    span: Span
    word: str
    value: str


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown that carries no entry: shown on the page, never counted."""

    span: Span
    private: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo or a drawing beside a stage. `path` is as written, from the log's folder.

    `seen` says what is to be seen where the caption says something else.
    """

    span: Span
    path: str
    caption: str
    seen: str = ""


Block = Prose | Picture | Entry


@dataclass(frozen=True, slots=True)
class Stage:
    """A second-level heading and what stands below it.

    `kinds` are names in stages.toml, most often one; empty where the heading is a name
    of the writer's own. `trial` stages count in cost and hours and are shown apart.
    The text before the first heading is a stage without a title, if it holds entries.
    """

    span: Span
    title: str
    kinds: tuple[str, ...]
    when: When | None
    trial: bool
    blocks: tuple[Block, ...]

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries of the stage, in the order they were written."""
        return tuple(block for block in self.blocks if isinstance(block, Entry))


@dataclass(frozen=True, slots=True)
class Likeness:
    """A run whose ratios a plan takes, from its `Like:` line, or the part of it that is meant.

    `run` is what the writer calls that run; `from_stage` and `without` are stages in the
    writer's words, empty where the whole run is meant.
    """

    span: Span
    run: str
    from_stage: str = ""
    without: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """One run log. `name` is the file's name without its ending."""

    name: str
    source: SourceText
    title: str
    day: date | None
    status: Status
    metals: tuple[str, ...]
    continues: str
    public: bool | None
    facts: tuple[Fact, ...]
    opening: tuple[Block, ...]  # prose between the facts and the first stage
    stages: tuple[Stage, ...]
    like: tuple[Likeness, ...] = ()
    meant: Amount | None = None  # the weight of scrap a plan is for, from its `For:` line
    room: Amount | None = None  # L; the room of this run, where it was not the bench's

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry of the run, in the order they were written."""
        return tuple(entry for stage in self.stages for entry in stage.entries)

    @property
    def planned(self) -> bool:
        """Whether the log is a plan: nothing in it has been done."""
        return self.status is Status.PLANNED
