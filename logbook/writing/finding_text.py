"""Findings as they are printed on a terminal: the place, the words in doubt, what to write.

Nothing here judges a text or decides where the words go. Whatever a log holds, no control
character of it reaches the terminal.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence

from logbook.findings import Finding, Weight
from logbook.source import Span

SHOWN_BEFORE = 60  # characters of a line kept before the doubtful words
SHOWN_OF_THEM = 80
SHOWN_AFTER = 40
CUT = "…"
RED, YELLOW, BOLD, PLAIN = "\x1b[31m", "\x1b[33m", "\x1b[1m", "\x1b[0m"
COLOURS = {Weight.ERROR: RED, Weight.DOUBT: YELLOW}


def finding_lines(finding: Finding, *, colour: bool = False) -> Iterator[str]:
    """A finding, line by line."""
    span = finding.span
    weight = f"{finding.weight} ({finding.code})"
    place = f"{_printable(span.path)}:{span.line}:{span.column}"
    if colour:
        weight = f"{COLOURS[finding.weight]}{weight}{PLAIN}"
        place = f"{BOLD}{place}{PLAIN}"
    yield f"{place}: {weight}: {_printable(finding.headline)}"
    if span.source.text:
        yield f"    {quoted_line(span)}"
    if finding.understood:
        yield f"    understood: {_printable(finding.understood)}"
    if finding.hint:
        yield f"    instead: {_printable(finding.hint)}"


def quoted_line(span: Span) -> str:
    """The line on which a span starts, its words between » and «; long lines are cut.

    >>> from logbook.source import SourceText
    >>> quoted_line(Span(SourceText("runs/a.md", "- took 40 gramm contacts"), 10, 15))
    '- took 40 »gramm« contacts'
    """
    line = span.source.line(span.line)
    start = span.column - 1
    end = min(start + (span.end - span.start), len(line))
    before, words, after = line[:start].lstrip(), line[start:end], line[end:]
    if len(before) > SHOWN_BEFORE:
        before = CUT + before[-SHOWN_BEFORE:]
    if len(words) > SHOWN_OF_THEM:
        words = words[:SHOWN_OF_THEM] + CUT
    if len(after) > SHOWN_AFTER:
        after = after[:SHOWN_AFTER] + CUT
    return _printable(f"{before}»{words}«{after}")


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


def _printable(text: str) -> str:
    r"""Text without control characters or marks that turn the direction of writing.

    >>> _printable("a\x1b[2Jb\tc")
    'a�[2Jb c'
    """
    return "".join(_shown(letter) for letter in text)


def _shown(letter: str) -> str:
    if letter in "\t\n":
        return " "
    return "\ufffd" if unicodedata.category(letter) in {"Cc", "Cf", "Cs"} else letter
