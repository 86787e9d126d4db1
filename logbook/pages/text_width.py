"""About how wide a text stands in a drawing, so that none of it runs into another.

The reader's fonts are not known here: widths are taken on the wide side of what the sans
serifs of the theme's list need ("from memory"), never on the narrow one.
"""

from __future__ import annotations

from unicodedata import combining, east_asian_width

NARROW = frozenset("iljtfrI.,:;'|![]()/ \u00a0\u202f-")
WIDE = frozenset("mwMW@%…—")
EM_NARROW, EM_LOWER, EM_CAPITAL, EM_WIDE, EM_SQUARE = 0.36, 0.58, 0.72, 0.95, 1.05
ELLIPSIS = "…"


def text_width(text: str, size: float) -> float:
    """The width of a text at a size of letters, in the same unit.

    >>> text_width("", 12.0), text_width("m", 10.0)
    (0.0, 9.5)
    """
    return size * sum(_ems(letter) for letter in text)


def cut_to(text: str, width: float, size: float) -> str:
    """As much of a text as fits, with three dots where some of it does not.

    >>> cut_to("relay contacts", 200.0, 12.0), cut_to("relay contacts", 60.0, 12.0)
    ('relay contacts', 'relay co…')
    """
    if text_width(text, size) <= width:
        return text
    kept = len(text)
    while kept and text_width(text[:kept].rstrip() + ELLIPSIS, size) > width:
        kept -= 1
    return text[:kept].rstrip() + ELLIPSIS


def _ems(letter: str) -> float:
    if combining(letter):
        return 0.0
    if east_asian_width(letter) in "WF":
        return EM_SQUARE
    if letter in NARROW:
        return EM_NARROW
    if letter in WIDE:
        return EM_WIDE
    return EM_CAPITAL if letter.isupper() else EM_LOWER
