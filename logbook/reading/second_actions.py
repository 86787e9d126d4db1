"""A second action in one entry: it is not counted, and that is said."""

from __future__ import annotations

from logbook.reading.context import Reading
from logbook.reading.vocabulary import action_words


def second_action_checked(reading: Reading, start: int, end: int) -> None:
    """A second action in one entry that would move something is not counted: say so."""
    word = reading.text[start:end].split(" ", 1)[0].lower()
    action, _ = action_words().get(word, (None, False))
    if action is None or action.reads != "thing":
        return
    reading.doubt(
        "second-action",
        start,
        end,
        f'a second action, "{word}", stands in the same entry',
        "a remark: nothing in it is counted",
        f'put it on a line of its own: "- {reading.text[start:end].strip()}"',
    )
