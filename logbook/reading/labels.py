"""Labels in square brackets, one or several, and ranges of them."""

from __future__ import annotations

import re

from logbook.model.entry import Label
from logbook.reading.context import Reading

LABEL = re.compile(r"\[([^\[\]\n]{1,200})\](?!\()")
ONLY_LABELS = re.compile(
    r"[\s,]*(?:and\s+|to\s+)?(?:\[[^\[\]\n]+\](?!\()[\s,]*(?:and|to|&)?[\s,]*)+$"
)
_LOOKS_LIKE_ONE = re.compile(r"(?<![\w-])[A-Za-z]{1,4}-[A-Za-z]?\d{1,4}[a-z]?(?![\w-])")
_ELSEWHERE = frozenset({"from", "into", "in", "on"})  # clauses in which a label is another's
_BEHIND_OTHER = re.compile(
    r"\b(?:of|as|like|than|to|with|and|or|beside|near|under|over|before|after|see|via)\s*$"
)
_NUMBERED = re.compile(r"(.*?)(\d{1,18})$")
_LONGEST_RANGE = 500


def labels_in(reading: Reading, start: int, end: int) -> tuple[Label, ...]:
    """The labels between two offsets; `[F-1] to [F-12]` names all twelve."""
    text = reading.text
    labels: list[Label] = []
    previous_end = 0
    for match in LABEL.finditer(text, start, end):
        name = " ".join(match[1].split())
        if not name:
            continue
        if labels and text[previous_end : match.start()].strip() in {"to", "-", "–"}:
            labels += _between(reading, labels[-1], name, match.end())
        labels.append(Label(reading.span(match.start(), match.end()), name))
        previous_end = match.end()
    return tuple(labels)


def _between(reading: Reading, first: Label, last: str, end: int) -> list[Label]:
    low, high = _NUMBERED.match(first.name), _NUMBERED.match(last)
    if low is None or high is None or low[1] != high[1]:
        return []
    first_number, last_number = int(low[2]), int(high[2])
    numbers = range(first_number + 1, last_number)
    if last_number - first_number > _LONGEST_RANGE:
        reading.error(
            "label-range-long",
            first.span.start,
            end,
            "too many labels in one range",
            f"name at most {_LONGEST_RANGE} jars at a time",
        )
        return []
    width = len(low[2]) if low[2].startswith("0") else 0
    span = reading.span(first.span.start, end)
    return [Label(span, f"{low[1]}{number:0{width}d}") for number in numbers]


def names_behind(
    reading: Reading, word: str, start: int, end: int
) -> tuple[tuple[Label, ...], int]:
    """The labels at the end of a clause about something else, and where they begin.

    `dry [AG-7]`, `for $5 [BL-1]`: they name the thing of the entry, if it has no label yet.
    """
    text = reading.text
    first = text.find("[", start, end)
    if word in _ELSEWHERE or first < 0 or not ONLY_LABELS.match(text, first, end):
        return (), end
    if not text[start:first].strip() or _BEHIND_OTHER.search(text, start, first):
        return (), end
    return labels_in(reading, first, end), first


def without_brackets(reading: Reading, start: int, end: int) -> None:
    """Ask about what looks like a label and stands in no brackets: `into W-2`."""
    found = _LOOKS_LIKE_ONE.search(reading.text, start, end)
    if found is None:
        return
    reading.doubt(
        "label-without-brackets",
        found.start(),
        found.end(),
        f'"{found[0]}" looks like a label, and stands in no brackets',
        "words: no label was read",
        f"write [{found[0]}]",
    )
