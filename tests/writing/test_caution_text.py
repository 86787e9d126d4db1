"""How cautions are printed: a line for each danger, its places, and the words that follow."""

from __future__ import annotations

import pytest

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.results import Caution, StageKey
from logbook.model.entry import Entry
from logbook.source import SourceText, Span
from logbook.writing.caution_text import caution_lines


def caution(
    line: int = 3,
    rule: str = "bleach",
    signal: str = "danger",
    vessel: str = "",
    path: str = "a.md",
) -> Caution:
    """A caution on one line of a log."""
    text = "\n" * (line - 1) + "- added bleach"
    entry = Entry("added", Span(SourceText(f"runs/{path}", text), line - 1, len(text)), line)
    said = f"In [{vessel}]: Chlorine. It kills." if vessel else "Chlorine. It kills."
    return Caution(rule, signal, said, "Go.", "X", StageKey("a", 0), entry, None, vessel)


def test_no_caution_no_line() -> None:
    """Where nothing is raised nothing is said, for there is nothing to put in its place."""
    assert list(caution_lines([])) == []


def test_a_danger_is_told_with_its_places() -> None:
    """File and line first, the rule, the further places by number; then what it is and to do."""
    found = [caution(line) for line in (3, 3, 5, 7, 9)]
    heading, words, *deferral = caution_lines(found)
    assert heading == "runs/a.md:3: danger (bleach), and 3 places more"
    assert words == "    Chlorine. It kills. Go."
    assert " ".join(deferral) == DEFERRAL


@pytest.mark.parametrize("width", [40, 72, 300])
def test_no_line_of_words_is_wider_than_the_terminal(width: int) -> None:
    """Words are wrapped, at a width that can be read where the terminal is very wide."""
    _, *words = caution_lines([caution()], width=width)
    assert max(map(len, words)) <= min(width, 100)


def test_dangers_come_first_and_vessels_have_lines_of_their_own() -> None:
    """A warning stands below, and each container in which things meet is named."""
    found = [
        caution(3, "water", "warning"),
        caution(4, vessel="W-1"),
        caution(5, vessel="W-2"),
        caution(6),
    ]
    lines = list(caution_lines(found))
    headings = [line for line in lines if line.startswith("runs/")]
    assert [line.split(":")[1] for line in headings] == ["4", "5", "6", "3"]
    assert "In [W-1]: Chlorine." in lines[1]
    assert headings[3].startswith("runs/a.md:3: warning (water)")


def test_colour_adds_nothing_but_colour() -> None:
    """With the colours taken out, the lines are those without."""
    plain, coloured = (
        list(caution_lines([caution()])),
        list(caution_lines([caution()], colour=True)),
    )
    for code in ("\x1b[1m", "\x1b[31m", "\x1b[0m"):
        coloured = [line.replace(code, "") for line in coloured]
    assert coloured == plain


def test_a_file_name_cannot_speak_to_the_terminal() -> None:
    """No control character of a name is passed on."""
    assert "\x1b" not in "".join(caution_lines([caution(path="a\x1b[2J.md")]))
