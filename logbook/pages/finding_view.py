"""A finding as a page shows it: the line quoted, with the doubtful words between » and «."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.findings import Finding, Weight
from logbook.pages.addresses import Here, LineLink
from logbook.source import Span

AROUND = 90  # characters of a long line that are kept on either side
WEIGHT_WORDS = {Weight.ERROR: "not used", Weight.DOUBT: "doubtful"}


@dataclass(frozen=True, slots=True)
class FindingView:
    """A problem: what it is, where, and what to write instead."""

    code: str
    weight: str  # error, doubt
    word: str
    headline: str
    place: LineLink
    column: str
    before: str
    doubtful: str
    after: str
    understood: str
    hint: str


def finding_view(finding: Finding, here: Here) -> FindingView:
    """A finding with its place and its quoted line."""
    before, doubtful, after = quoted_line(finding.span)
    return FindingView(
        code=finding.code,
        weight=finding.weight.value,
        word=WEIGHT_WORDS[finding.weight],
        headline=finding.headline,
        place=here.line(finding.span),
        column=f"column {finding.span.column}",
        before=before,
        doubtful=doubtful,
        after=after,
        understood=finding.understood,
        hint=finding.hint,
    )


def quoted_line(span: Span) -> tuple[str, str, str]:
    """The line on which a span starts, in three parts: before it, the span, and after it."""
    line = span.source.line(span.line)
    start = span.column - 1
    end = min(len(line), start + span.end - span.start)
    before, doubtful, after = line[:start], line[start:end], line[end:]
    if len(before) > AROUND:
        before = f"…{before[-AROUND:]}"
    if len(doubtful) > 2 * AROUND:
        doubtful = f"{doubtful[:AROUND]} … {doubtful[-AROUND:]}"
    if len(after) > AROUND:
        after = f"{after[:AROUND]}…"
    return before, doubtful, after
