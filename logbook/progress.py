"""A progress bar for work that takes more than a moment, on a terminal only."""

from __future__ import annotations

from time import monotonic
from types import TracebackType
from typing import TYPE_CHECKING, Self, TextIO

if TYPE_CHECKING:
    from rich.progress import Progress as RichProgress

A_MOMENT = 0.5  # seconds


class Progress:
    """Shows what is being done, once it has taken more than a moment. Nothing is left behind."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._began = monotonic()
        self._bar: RichProgress | None = None

    def told(self, doing: str, done: int, of: int) -> None:
        """Take note of how far the work has come; `of` is 0 where that is not known."""
        if not self._stream.isatty() or monotonic() - self._began < A_MOMENT:
            return
        if self._bar is None:
            self._bar = _bar(self._stream)
            self._bar.add_task(doing)
            self._bar.start()
        task = self._bar.task_ids[0]
        self._bar.update(task, description=doing, completed=done, total=of or None)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._bar is not None:
            self._bar.stop()


def _bar(stream: TextIO) -> RichProgress:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    return Progress(*columns, console=Console(file=stream), transient=True)
