"""What was worked out before, to be used again where nothing it rests on has changed."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

Made = TypeVar("Made")


class Kept:
    """Results by everything they were made of. What one round did not use is forgotten.

    >>> kept = Kept()
    >>> kept.made("a", lambda: 1), kept.made("a", lambda: 2)
    (1, 1)
    >>> kept.next_round(); kept.next_round()
    >>> kept.made("a", lambda: 2)
    2
    """

    def __init__(self) -> None:
        self._before: dict[Hashable, Any] = {}
        self._now: dict[Hashable, Any] = {}

    def made(self, of: Hashable, make: Callable[[], Made]) -> Made:
        """The result for a key: kept from this round or the last, or made now."""
        if of not in self._now:
            self._now[of] = self._before[of] if of in self._before else make()
        found: Made = self._now[of]
        return found

    def next_round(self) -> None:
        """Begin a round: what the last one used can still be had, and nothing older."""
        self._before, self._now = self._now, {}
