"""The blocks of a log as a page shows them: prose, pictures and entries, in their own order.

An entry is shown in the writer's words, line by line, each line with an anchor of its own.
What the program has to add stands beside it and never inside it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby

from logbook.model.entry import Entry
from logbook.model.run import Block, Picture
from logbook.model.site_picture import SitePicture
from logbook.pages.addresses import Here, labels_of
from logbook.pages.answer_view import AnswerView
from logbook.pages.caution_view import CautionGroup
from logbook.pages.claim_view import ClaimView
from logbook.pages.figure_view import FigureView
from logbook.pages.finding_view import FindingView
from logbook.pages.privacy import is_private
from logbook.pages.prose_view import PictureView, ProseHtml, picture_view, prose_view

LIST_MARK = re.compile(r"\s*(?:[-*+]|\d{1,9}[.)])\s+")
NO_PICTURES: Mapping[str, SitePicture] = {}
FIRST_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands in the margin beside a paragraph, an entry or a heading.

    `line` is the line of the log that it belongs to, which has an anchor; 0 where none has.
    """

    figures: tuple[FigureView, ...] = ()
    findings: tuple[FindingView, ...] = ()
    cautions: CautionGroup | None = None
    notes: tuple[str, ...] = ()
    line: int = 0
    answer: AnswerView | None = None  # which stands below the question, not in the margin
    claim: ClaimView | None = None

    @property
    def empty(self) -> bool:
        """Whether there is nothing to say in the margin."""
        told = self.figures or self.findings or self.cautions or self.notes or self.claim
        return not told


@dataclass(frozen=True, slots=True)
class Segment:
    """Some words of an entry: plain words, the action, or a label with a link."""

    text: str
    kind: str = "words"
    href: str = ""


@dataclass(frozen=True, slots=True)
class EntryLine:
    """One line of the log that an entry takes."""

    number: int
    anchor: str
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class EntryView:
    """An entry, with what stands beside it."""

    lines: tuple[EntryLine, ...]
    private: bool
    beside: Beside


@dataclass(frozen=True, slots=True)
class BlockView:
    """Prose, a picture, or some entries in a row; `kind` tells which."""

    kind: str  # prose, picture, entries
    anchor: str = ""
    prose: ProseHtml | None = None
    picture: PictureView | None = None
    entries: tuple[EntryView, ...] = ()
    private: bool = False
    beside: Beside = field(default_factory=Beside)


def block_views(
    blocks: Iterable[Block],
    here: Here,
    beside: Callable[[Block], Beside],
    pictures: Mapping[str, SitePicture] = NO_PICTURES,
    prefix: str = "line-",
    below: int = 1,
) -> tuple[BlockView, ...]:
    """Blocks in their order, entries that follow one another taken together.

    `below` is the level of the heading that they stand under.
    """
    views: list[BlockView] = []
    for is_entry, group in groupby(blocks, lambda block: isinstance(block, Entry)):
        if is_entry:
            entries = tuple(
                entry_view(block, here, beside(block), prefix)
                for block in group
                if isinstance(block, Entry)
            )
            views.append(BlockView("entries", entries=entries))
        else:
            views.extend(
                _prose_or_picture(block, here, beside, pictures, prefix, below) for block in group
            )
    return tuple(views)


def _prose_or_picture(
    block: Block,
    here: Here,
    beside: Callable[[Block], Beside],
    pictures: Mapping[str, SitePicture],
    prefix: str,
    below: int,
) -> BlockView:
    anchor = f"{prefix}{block.span.line}"
    if isinstance(block, Picture):
        picture = picture_view(block, here, pictures)
        return BlockView("picture", anchor, picture=picture, beside=beside(block))
    prose = prose_view(block.span.text, here, below)
    return BlockView("prose", anchor, prose=prose, private=is_private(block), beside=beside(block))


def entry_view(entry: Entry, here: Here, beside: Beside, prefix: str = "line-") -> EntryView:
    """An entry in the writer's words."""
    words = entry.span.text.rstrip().split("\n")
    lines = tuple(
        EntryLine(
            entry.span.line + place,
            f"{prefix}{entry.span.line + place}",
            _segments(LIST_MARK.sub("", text, count=1).strip(), entry, here, first=place == 0),
        )
        for place, text in enumerate(words)
    )
    return EntryView(lines, is_private(entry), beside)


def _segments(text: str, entry: Entry, here: Here, *, first: bool) -> tuple[Segment, ...]:
    """The words of a line: its action where it is the first, its labels linked."""
    names = {label.name: here.label(label.name) for label in labels_of(entry)}
    found: list[Segment] = []
    action = _action_word(text, entry) if first else None
    at = 0
    if action is not None:
        found += [Segment(text[: action.start()]), Segment(action[0], "action")]
        at = action.end()
    for bracket in re.finditer(r"\[([^\[\]]+)\]", text):
        link = names.get(bracket[1].strip())
        if link is None or bracket.start() < at:
            continue
        found += [Segment(text[at : bracket.start()]), Segment(link.text, "label", link.href)]
        at = bracket.end()
    found.append(Segment(text[at:]))
    return tuple(segment for segment in found if segment.text)


def _action_word(text: str, entry: Entry) -> re.Match[str] | None:
    """The word that is the action: the first one, after an entry's own date or time."""
    start = 0
    if entry.when is not None and entry.when.span.text and text.startswith(entry.when.span.text):
        start = len(entry.when.span.text)
    return FIRST_WORD.search(text, start)
