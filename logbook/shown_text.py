"""Text without the signs that no page, feed or terminal may hold.

Control characters and what is no character are forbidden in HTML and XML (HTML Living Standard,
13.2.3.5; XML 1.0, 2.2). Embeddings, overrides and isolates turn the direction of all words
behind them (UAX 9, 2.1 to 2.5), so that a page would show another order than the log has.
"""

from __future__ import annotations

_UNSHOWN = dict.fromkeys(
    (
        *(sign for sign in range(0x20) if chr(sign) not in "\t\n\r"),
        *range(0x7F, 0xA0),
        *range(0xFDD0, 0xFDF0),
        *(plane + last for plane in range(0, 0x110000, 0x10000) for last in (0xFFFE, 0xFFFF)),
        *range(0x202A, 0x202F),
        *range(0x2066, 0x206A),
    ),
    "\ufffd",
)


def shown_text(text: str) -> str:
    r"""A text in which every sign that cannot be shown, or turns what stands around it, is �.

    Each sign stays one sign, so that places in the text are as they were.

    >>> shown_text("12 g\x00 [AG\u202e7-]")
    '12 g� [AG�7-]'
    """
    return text.translate(_UNSHOWN)
