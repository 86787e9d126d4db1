"""Cautions as a page shows them: the graver first, and never without the words that follow.

A caution is a reminder. Wherever one is shown, the sentences stand with it that put local
codes, ventilation, protection and licensed practice first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.results import Caution
from logbook.pages.addresses import Here, LineLink

SIGNALS = ("danger", "warning")


@dataclass(frozen=True, slots=True)
class CautionView:
    """One rule that is met, with every line that raised it. `title` is the rule's short name.

    `others` are lines of other logs whose things it meets in a labelled vessel.
    """

    rule: str
    title: str
    signal: str
    word: str
    text: str
    do: str
    source: str
    lines: tuple[LineLink, ...]
    others: tuple[LineLink, ...]


@dataclass(frozen=True, slots=True)
class CautionGroup:
    """Cautions that are shown together, and the sentences that put them in their place."""

    cautions: tuple[CautionView, ...]
    deferral: str

    @property
    def dangers(self) -> tuple[CautionView, ...]:
        """The dangers of the group."""
        return tuple(caution for caution in self.cautions if caution.signal == "danger")

    @property
    def warnings(self) -> tuple[CautionView, ...]:
        """What is no danger by its signal word, and still a caution."""
        return tuple(caution for caution in self.cautions if caution.signal != "danger")


def caution_group(cautions: Iterable[Caution], here: Here) -> CautionGroup | None:
    """Cautions that say the same taken together, dangers first; None where there is none."""
    same: dict[tuple[str, str], list[Caution]] = {}
    for caution in cautions:
        same.setdefault((caution.rule, caution.text), []).append(caution)
    if not same:
        return None
    rows = sorted(same.values(), key=lambda found: SIGNALS.index(found[0].signal))
    return CautionGroup(tuple(_caution(found, here) for found in rows), DEFERRAL)


def _caution(found: list[Caution], here: Here) -> CautionView:
    first = found[0]
    spans = dict.fromkeys(caution.entry.span for caution in found)
    others = dict.fromkeys(one.other.span for one in found if one.other is not None)
    return CautionView(
        rule=first.rule,
        title=first.rule.replace("-", " "),
        signal=first.signal,
        word=first.signal.capitalize(),
        text=first.text,
        do=first.do,
        source=first.source,
        lines=tuple(here.line(span) for span in spans),
        others=tuple(here.line(span) for span in others),
    )
