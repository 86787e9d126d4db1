"""How a finding is printed: place, weight, words in doubt, and what to write instead."""

from __future__ import annotations

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from logbook.findings import Finding, Weight
from logbook.source import SourceText, Span
from logbook.writing.finding_text import counted, finding_lines, marked_line


def finding(
    weight: Weight = Weight.ERROR, text: str = "# A\n- took 40 gramm contacts\n"
) -> Finding:
    """A finding on the word `gramm`."""
    start = text.index("gramm")
    span = Span(SourceText("runs/a.md", text), start, start + 5)
    return Finding("unit-unknown", weight, 'unit "gramm" is not known', span, "nothing", "g")


def test_a_finding_is_printed_in_four_lines() -> None:
    """Place with line and column from 1, weight and code, headline; quote; reading; remedy."""
    assert list(finding_lines(finding())) == [
        'runs/a.md:2:11: error (unit-unknown): unit "gramm" is not known',
        "    - took 40 »gramm« contacts",
        "    understood: nothing",
        "    instead: g",
    ]


def test_colour_adds_nothing_but_colour() -> None:
    """With the colours taken out, the lines are those without."""
    plain, coloured = list(finding_lines(finding())), list(finding_lines(finding(), colour=True))
    assert coloured[0].startswith("\x1b[1mruns/a.md")
    for code in ("\x1b[1m", "\x1b[31m", "\x1b[0m"):
        coloured = [line.replace(code, "") for line in coloured]
    assert coloured == plain


def test_a_long_line_is_cut_around_the_words() -> None:
    """A line of a million letters is quoted in a few hundred, with the words in it."""
    text = "x" * 500_000 + " gramm " + "y" * 500_000
    line = marked_line(finding(text=text).span)
    assert "»gramm«" in line
    assert len(line) < 400


def test_problems_are_counted_in_words() -> None:
    """Errors come first; one is one."""
    error, doubt = finding(), finding(Weight.DOUBT)
    assert counted([doubt, error, doubt]) == "1 error and 2 doubts"
    assert counted([doubt]) == "1 doubt"
    assert counted([error, error]) == "2 errors"


@given(st.text(), st.integers(0, 200), st.integers(0, 200))
def test_whatever_a_log_holds_one_printable_line_is_quoted(text: str, at: int, more: int) -> None:
    """No text and no span in it brings a control character or a second line to the terminal."""
    start = min(at, len(text))
    span = Span(SourceText("runs/a.md", text), start, min(start + more, len(text)))
    quoted = marked_line(span)
    assert not {unicodedata.category(letter) for letter in quoted} & {"Cc", "Cf", "Zl", "Zp"}
    assert "»" in quoted and "«" in quoted
