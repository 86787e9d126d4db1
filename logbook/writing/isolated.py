"""Words that are written from right to left, kept from turning the line that they stand in.

A label in Hebrew before a weight would move the weight to its other side. Each such run of
words is put between two invisible marks, behind which the line goes on as it was (UAX 9, 2.4:
first strong isolate and its end). Figures stay outside of them.
"""

from __future__ import annotations

import re
from unicodedata import normalize

_LETTERS = (
    "\u0590-\u05ff\u0600-\u065f\u066a-\u06ef\u06fa-\u08ff\u200e\u200f\ufb1d-\ufdff\ufe70-\ufefc"
    "\U00010800-\U00010fff\U0001e800-\U0001efff"
)
_WORD = rf"[{_LETTERS}][{_LETTERS}\u0300-\u036f]*"
_RUN = re.compile(rf"{_WORD}(?:[ \u00a0'\"]{_WORD})*")
_ISOLATE, _END = "\u2068", "\u2069"


def isolated(value: object) -> object:
    r"""A value of a template; where it is text, with words from right to left set apart.

    Text is also put into the form in which one letter is written in one way (UAX 15, NFC), as
    HTML asks. HTML that was made already stays as it is.

    >>> ascii(isolated("silver in [\u05db-7] 12.4 g"))
    "'silver in [\\u2068\\u05db\\u2069-7] 12.4 g'"
    """
    if type(value) is not str or value.isascii():
        return value
    return _RUN.sub(rf"{_ISOLATE}\g<0>{_END}", normalize("NFC", value))
