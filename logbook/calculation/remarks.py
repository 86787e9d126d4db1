"""What there is to say about labels that were written wrongly, in words.

Which of these holds is decided in `walk.py`, while the book is walked through; here are only
the findings themselves.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from logbook.calculation.holdings import COUNTED, Holding
from logbook.findings import Finding, Weight, nearest_word
from logbook.model.amount import Amount
from logbook.model.entry import Label


def unknown(label: Label, labels: Iterable[str], weight: Weight) -> Finding:
    """A label is used though nothing of that name is there."""
    by_small = {name.lower(): name for name in labels}
    near = nearest_word(label.name, by_small)
    return Finding(
        "label-unknown",
        weight,
        f"[{label.name}] is used here, but nothing of that name was there on this day",
        label.span,
        "what it held is not known",
        f"did you mean [{by_small[near]}]?"
        if near
        else "name a thing that was got, kept or bought before, or say what is taken",
    )


def made_later(said: Finding, label: str, where: str, day: date) -> Finding:
    """A label that was not known turns out to be made later: two runs may wait for each other."""
    on = f" on {day}" if day not in (date.min, date.max) else ""
    return replace(
        said,
        understood=f"{said.understood}; [{label}] is made later, in {where}{on}",
        hint="correct the label, or one of the two dates: a thing is there once it is made",
    )


def empty(label: Label) -> Finding:
    """A label is used though all of what it named was taken before."""
    return Finding(
        "label-empty",
        Weight.ERROR,
        f"nothing of [{label.name}] was left: all of it was taken before",
        label.span,
        "what it held is not known",
        "give the label again where the jar was filled again, or correct the earlier entry",
    )


def again(label: Label) -> Finding:
    """A label is given again while it still holds something."""
    return Finding(
        "label-again",
        Weight.DOUBT,
        f"[{label.name}] is given again while it still holds something",
        label.span,
        "read as adding to what it holds",
        f"write `into [{label.name}]` to add, or take all of [{label.name}] first",
    )


def into_itself(label: Label) -> Finding:
    """A jar is poured into itself."""
    return Finding(
        "label-into-itself",
        Weight.DOUBT,
        f"[{label.name}] goes into [{label.name}] itself",
        label.span,
        "nothing comes or goes: it holds what it held",
        "name the jar that it went into, or leave this entry out",
    )


def overdrawn(label: Label, amount: Amount) -> Finding:
    """More is taken than there was."""
    return Finding(
        "label-overdrawn",
        Weight.ERROR,
        f"more is taken from [{label.name}] than it held",
        amount.span,
        "the content of what was taken is not known, and nothing is left",
        "correct this amount, an earlier one, or what the jar held at first",
    )


def blind_draw(held: Holding, amount: Amount, label: Label) -> Finding:
    """An amount is taken, and what is left cannot be known: says which of the two is missing."""
    jar, all_of_it = f"how much [{label.name}] held", f"take `all of [{label.name}]`"
    weighed = [kind for kind in COUNTED if held.held(kind) is not None]
    span = label.span
    if not amount.known and weighed:
        told, hint, span = "how much was taken was not written", "write how much", amount.span
    elif not amount.known:
        told, hint = f"neither {jar} nor how much was taken was written", "write both"
    else:
        kind = f" as a {amount.dimension.value}" if weighed else ""
        told, hint = f"{jar} was not written{kind}", f"write {jar}{kind}"
    return Finding(
        "draw-unknown",
        Weight.DOUBT,
        f"{told}, so its rest is not known",
        span,
        f"some of [{label.name}] was taken and some is left",
        f"{hint}, or {all_of_it}",
    )
