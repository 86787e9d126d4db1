"""Questions to a book: what a jar is worth or holds, whether there is enough, a plan like a run."""

from __future__ import annotations

import re

from logbook.model.amount import Amount, Dimension
from logbook.model.question import Kind, Question
from logbook.reading.asking import Asking, Read
from logbook.reading.question_parts import (
    Part,
    amounts_in,
    labels_of,
    materials_in,
    metals_in,
    supplies_in,
    trimmed,
)
from logbook.reading.question_work import JOINTS

_WORTH = re.compile(r"(?<!\w)(?:(?:is|are)\s+)?(?:the\s+)?(?:worth|value)(?!\w)(?:\s+of)?", re.I)


def worth(asking: Asking) -> Read:
    """`worth of 12.3 g of silver 99 %`, `what is [A-1] worth`."""
    found = asking.search(_WORTH)
    if found is None:
        return None
    asking.without(Part(found.start(), found.end()))
    price = _price(asking)
    materials, unread = materials_in(asking.reading, asking.whole)
    labels = labels_of(asking.reading, asking.whole)
    if not materials and not labels:
        return asking.refusal(
            "of how much of what, or of which jar: for example 12.3 g of silver 99 %, or [A-1]"
        )
    return Question(
        Kind.WORTH, asking.text, asking.span, of=materials, labels=labels, unread=unread,
        amounts=(("price", price),) if price is not None else (),
    )  # fmt: skip


_PRICES = frozenset({Dimension.PRICE})
_AT = re.compile(r"(?:\s*,)?\s*(?<!\S)(?:at|@|for)\s+(?:a\s+price\s+of\s+)?$", re.I)


def _price(asking: Asking) -> Amount | None:
    """The price that a question takes, blanked out where it was read."""
    price = next(amounts_in(asking.reading, asking.whole, _PRICES), None)
    if price is not None:
        opening = _AT.search(asking.reading.text, asking.whole.start, price.span.start)
        start = opening.start() if opening else price.span.start
        asking.without(Part(start, price.span.end))
    return price


_FINE = re.compile(r"(?<!\w)(?:fineness|purity|how\s+(?:fine|pure)|fine|pure)(?!\w)", re.I)
_BY_DENSITY = re.compile(r"(?<!\w)(?:by|from)\s+(?:its\s+)?density(?!\w)", re.I)


def fineness(asking: Asking) -> Read:
    """`fineness of [A-1]`, `fineness by density of [A-1] with copper`."""
    labels = labels_of(asking.reading, asking.whole)
    if not labels or asking.search(_FINE) is None:
        return None
    return Question(
        Kind.FINENESS, asking.text, asking.span, labels=labels[:1],
        metals=metals_in(_WITHOUT_LABELS.sub(" ", asking.words(asking.whole))),
        unit="density" if asking.search(_BY_DENSITY) else "",
    )  # fmt: skip


_WITHOUT_LABELS = re.compile(r"\[[^\]]*\]")
_LEFT = re.compile(
    r"\s+(?:(?:is|are|do|did|we|I|have|has|there|still|got)\s+)*"
    r"(?:left(?:\s+over)?|remaining|in\s+(?:stock|hand)|on\s+(?:the|my|our)\s+shelf)"
    r"(?:\s+(?:in\s+(?:stock|hand)|on\s+(?:the|my|our)\s+shelf|now))?\W*$",
    re.I,
)


def stock(asking: Asking) -> Read:
    """`how much nitric acid is left`."""
    found = asking.search(_LEFT)
    if found is None or labels_of(asking.reading, asking.whole):
        return None
    asked = supplies_in(asking.reading, asking.around(found)[0])
    if len(asked) != 1 or asked[0].amount is not None:
        return None
    return Question(Kind.STOCK, asking.text, asking.span, asked)


_IN_JAR = re.compile(r"(?<!\w)(?:left|still|in|inside|holds?|contains?|stands?|there)(?!\w)", re.I)


def content(asking: Asking) -> Read:
    """`how much silver is in [A-1]`, `what is left in [R-3]`."""
    labels = labels_of(asking.reading, asking.whole)
    if not labels or (asking.search(_IN_JAR) is None and asking.text[0] != "["):
        return None
    words = asking.words(Part(asking.whole.start, labels[0].span.start))
    return Question(Kind.CONTENT, asking.text, asking.span, metals=metals_in(words), labels=labels)


_IN = re.compile(r"(?<!\w)(?:(?:is|are)\s+)?(?:there\s+)?in(?!\w)", re.I)


def claimed(asking: Asking) -> Read:
    """`how much gold is in 10 g of 14 kt gold`: what a thing holds by what is said of it."""
    found = asking.search(_IN)
    if found is None:
        return None
    before, behind = asking.around(found)
    metals = metals_in(asking.words(before))
    materials, unread = materials_in(asking.reading, behind)
    if len(metals) != 1 or not materials:
        return None
    return Question(
        Kind.CONTENT, asking.text, asking.span, of=materials, metals=metals, unread=unread
    )


_ENOUGH = re.compile(r"(?<!\w)(?:enough|sufficient)(?!\w)", re.I)
_FOR_WHAT = re.compile(r"(?<!\S)(?:for|to|left|in\s+stock|here|there)(?!\S)", re.I)


def enough(asking: Asking) -> Read:
    """`is there enough nitric acid for this`."""
    found = asking.search(_ENOUGH)
    if found is None:
        return None
    before, behind = asking.around(found)
    end = asking.search(_FOR_WHAT, behind)
    named = trimmed(asking.reading, behind.start, end.start() if end else behind.end)
    asked = supplies_in(asking.reading, named) or supplies_in(asking.reading, before)
    if not asked:
        return asking.refusal("enough of what: for example nitric acid 68 %")
    for kind, joint in JOINTS.items():
        if work := asking.search(joint, behind):
            materials, unread = materials_in(asking.reading, asking.around(work, behind)[1])
            if materials:
                return Question(kind, asking.text, asking.span, asked, materials, unread=unread)
    return Question(Kind.ENOUGH, asking.text, asking.span, asked)


_PLAN = re.compile(r"(?<!\w)(?:a\s+)?plan(?!\w)(?:\s+(?:for|of|to\s+work))?", re.I)
_LIKE = re.compile(
    r",?\s*(?<!\S)(?:like|after|as\s+in|following)\s+(?:the\s+run\s+)?(.+?)"
    r"(?=\s+for\s|[.,;?\s]*$)",
    re.I | re.S,
)


def plan(asking: Asking) -> Read:
    """`plan for 1.2 kg contacts like 2026-01-15-first-lot`."""
    found = asking.search(_PLAN)
    if found is None:
        return None
    like = asking.search(_LIKE)
    run = " ".join(like[1].split()).strip('"') if like is not None else ""
    if like is not None:
        asking.without(Part(like.start(), like.end()))
    asking.without(Part(found.start(), found.end()))
    materials, unread = materials_in(asking.reading, asking.whole)
    missing = []
    if not materials:
        missing.append("for how much of what: for example 1.2 kg contacts")
    if not run:
        missing.append(
            "like which run: for example like 2026-01-15-first-lot, or like the words of its title"
        )
    if missing:
        return asking.refusal(*missing)
    return Question(Kind.PLAN, asking.text, asking.span, of=materials[:1], run=run, unread=unread)
