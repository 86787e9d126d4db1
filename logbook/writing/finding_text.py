"""Findings as they are printed on a terminal: the place, the words in doubt, what to write.

Nothing here judges a text or decides where the words go. Whatever a log holds, no control
character of it reaches the terminal.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence

from logbook.findings import Finding, Weight
from logbook.pages.finding_view import quoted_line
from logbook.source import Span

RED, YELLOW, BOLD, PLAIN = "\x1b[31m", "\x1b[33m", "\x1b[1m", "\x1b[0m"
COLOURS = {Weight.ERROR: RED, Weight.DOUBT: YELLOW}


def finding_lines(finding: Finding, *, colour: bool = False) -> Iterator[str]:
    """A finding, line by line."""
    span = finding.span
    weight = f"{finding.weight} ({finding.code})"
    place = f"{printable(span.path)}:{span.line}:{span.column}"
    if colour:
        weight = f"{COLOURS[finding.weight]}{weight}{PLAIN}"
        place = f"{BOLD}{place}{PLAIN}"
    yield f"{place}: {weight}: {printable(finding.headline)}"
    if span.source.text:
        yield f"    {marked_line(span)}"
    if finding.understood:
        yield f"    understood: {printable(finding.understood)}"
    if finding.hint:
        yield f"    instead: {printable(finding.hint)}"


def marked_line(span: Span) -> str:
    """The line on which a span starts, its words between » and «; long lines are cut.

    >>> from logbook.source import SourceText
    >>> marked_line(Span(SourceText("runs/a.md", "- took 40 gramm contacts"), 10, 15))
    '- took 40 »gramm« contacts'
    """
    before, words, after = quoted_line(span)
    return printable(f"{before.lstrip()}»{words}«{after}")


def counted(findings: Iterable[Finding]) -> str:
    """How many errors and doubts there are, in words.

    >>> counted([])
    'nothing to point out'
    """
    weights = [finding.weight for finding in findings]
    parts = [
        f"{number} {weight}{'' if number == 1 else 's'}"
        for weight in Weight
        if (number := weights.count(weight))
    ]
    return " and ".join(parts) or "nothing to point out"


def any_error(findings: Iterable[Finding]) -> bool:
    """Whether something of a log could not be used."""
    return any(finding.weight is Weight.ERROR for finding in findings)


def in_order(findings: Iterable[Finding]) -> Sequence[Finding]:
    """Findings by file, then by place."""
    return sorted(findings, key=lambda finding: finding.sort_key)


def printable(text: str) -> str:
    r"""Text without control characters or marks that turn the direction of writing.

    >>> printable("a\x1b[2Jb\tc")
    'a�[2Jb c'
    """
    return "".join(_shown(letter) for letter in text)


def _shown(letter: str) -> str:
    kind = unicodedata.category(letter)
    if letter in "\t\n" or kind in {"Zl", "Zp"}:
        return " "
    return "\ufffd" if kind in {"Cc", "Cf", "Cs"} else letter
