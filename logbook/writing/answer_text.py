"""Answers as they are printed on a terminal, wrapped to its width: sentence, working, cautions.

Nothing here works anything out. No control character of a question reaches the terminal.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from logbook.pages.answer_view import AnswerView, WarnedView, WorkingLine
from logbook.pages.rounding import NO_BREAK
from logbook.writing.finding_text import BOLD, PLAIN, RED, YELLOW, printable

WIDEST, NARROWEST = 88, 24
COLOURS = {"danger": RED, "warning": YELLOW}
PREMISE = "as the question says"
LISTED = "fineweight ask, without a question, lists it"


def answer_lines(view: AnswerView, width: int, *, colour: bool = False) -> Iterator[str]:
    """An answer, line by line."""
    page = _Page(max(NARROWEST, min(width, WIDEST)), colour)
    if view.sentence:
        yield from page.wrapped(view.sentence)
    elif view.wrong:
        yield from page.wrapped(" ".join(("That is not so.", *(true for true, _ in view.wrong))))
        yield from page.section("Sources", (source for _, source in view.wrong))
    else:
        yield from page.wrapped("This cannot be answered as it stands.")
        yield from page.section("Missing", view.missing)
        if view.form:
            yield from page.section("A question that is understood", (view.form,))
        yield from page.section("All that is understood", (LISTED,))
    for same in view.signals:
        names = "; ".join(dict.fromkeys(one.title for one in same))
        yield ""
        yield from page.wrapped(f"{same[0].word.upper()}, in full below: {names}", "", "  ")
    if view.working:
        yield ""
        yield page.heading("Working")
        yield from _working(view.working, page)
    yield from page.section("Note", view.notes)
    yield from page.section("Sources", view.sources)
    for caution in view.cautions:
        yield ""
        yield from _caution(caution, page)
    yield ""
    yield from page.wrapped(view.deferral)


def example_lines(examples: Sequence[tuple[str, str]], width: int) -> Iterator[str]:
    """The questions that are understood: an example of each, and what its answer tells."""
    page = _Page(max(NARROWEST, min(width, WIDEST)), colour=False)
    for question, says in examples:
        yield from page.wrapped(f'fineweight ask "{question}"', hanging="    ")
        yield from page.wrapped(says, "    ")


class _Page:
    """A terminal of some width."""

    __slots__ = ("colour", "width")

    def __init__(self, width: int, colour: bool) -> None:
        self.width, self.colour = width, colour

    def wrapped(self, text: str, indent: str = "", hanging: str | None = None) -> Iterator[str]:
        """A text in lines that fit; figures are held together with their unit."""
        following = indent if hanging is None else hanging
        room = max(self.width - len(indent), 12) + len(indent)
        for line in textwrap.wrap(
            printable(text),
            room,
            initial_indent=indent,
            subsequent_indent=following,
            break_on_hyphens=False,
        ):
            yield line.replace(NO_BREAK, " ")

    def heading(self, words: str, colour: str = "") -> str:
        """Words that open a section."""
        return f"{colour or BOLD}{words}{PLAIN}" if self.colour else words

    def section(self, name: str, texts: Iterable[str]) -> Iterator[str]:
        """Some texts under a heading, each with a dash; nothing where there is none."""
        found = list(texts)
        if not found:
            return
        yield ""
        yield self.heading(name)
        for text in found:
            yield from self.wrapped(text, "  - ", "    ")


def _working(lines: Sequence[WorkingLine], page: _Page) -> Iterator[str]:
    """A working, each level set in; a reason is given once, where it first holds."""
    said: set[str] = set()
    for line in lines:
        indent = "  " * (line.depth + 1)
        if not line.text:
            yield from page.wrapped(line.name, indent)
            continue
        words = f"{line.name}: {line.text.replace(' ', NO_BREAK)}"
        short = line.how == PREMISE or (line.how and not line.why and len(line.how) < 24)
        if short:
            words = f"{words}, {line.how}" if line.how == PREMISE else f"{words} = {line.how}"
        yield from page.wrapped(words, indent, indent + "  ")
        if line.how and not short:
            yield from page.wrapped(f"= {line.how}", indent + "  ", indent + "    ")
        if line.why and line.why not in said:
            said.add(line.why)
            yield from page.wrapped(f"because {line.why}", indent + "  ", indent + "    ")


def _caution(caution: WarnedView, page: _Page) -> Iterator[str]:
    yield page.heading(f"{caution.word.upper()}: {caution.title}", COLOURS[caution.signal])
    yield from page.wrapped(caution.text, "  ")
    yield from page.wrapped(caution.do, "  ")
    yield from page.wrapped(f"Source: {caution.source}", "  ", "    ")
