"""The progress bar: only on a terminal, only after a moment, and gone when the work is done."""

from __future__ import annotations

import io

import pytest

from logbook import progress
from logbook.progress import Progress


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """As a terminal would answer."""
        return True


def _work(stream: io.StringIO) -> str:
    with Progress(stream) as bar:
        for done in range(4):
            bar.told("writing the pages", done, 4)
    return stream.getvalue()


def test_nothing_is_shown_where_nobody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file or a pipe gets no bar, however long the work takes."""
    monkeypatch.setattr(progress, "A_MOMENT", 0.0)
    assert _work(io.StringIO()) == ""


def test_short_work_shows_no_bar() -> None:
    """What is done within a moment shows nothing, on a terminal too."""
    assert _work(Terminal()) == ""


def test_long_work_shows_a_bar_with_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """After a moment the bar says what is being done and how much of it."""
    monkeypatch.setattr(progress, "A_MOMENT", 0.0)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "80")
    shown = _work(Terminal())
    assert "writing the pages" in shown
    assert "3/4" in shown
