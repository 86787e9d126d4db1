"""Names that people write on jars → names that every file system and address can carry.

A slug depends on its text alone, so a page keeps its address whatever else is in the book.
Different texts never share a slug, even where a file system takes `A` and `a` for one.
"""

from __future__ import annotations

import re
import unicodedata
from hashlib import sha256

LONGEST_PLAIN = 60
LONGEST_READABLE = 30
DIGEST_DIGITS = 20  # 80 bits: two of a million texts meet by chance once in 10^12 books
PLAIN_LABEL = re.compile(r"[A-Z0-9]+(-[A-Z0-9]+)*")
PLAIN_NAME = re.compile(r"[a-z0-9]+([-_.][a-z0-9]+)*")
DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?")  # names that Windows keeps


def label_slug(label: str) -> str:
    """The file name, without ending, of a label's page.

    Labels in capitals, as most are, keep their own look; every other one gets a digest of
    its text behind a double dash, which no plain label has. (The digest below is what
    `sha256sum` gives.)

    >>> label_slug("AG-7")
    'ag-7'
    >>> label_slug("../Ag 7")
    'ag-7--7a9b3af06bcdf071a70b'
    """
    return _slug(label, PLAIN_LABEL)


def run_slug(name: str) -> str:
    """The file name, without ending, of a run's or a guide chapter's page.

    >>> run_slug("2026-03-14-relay-contacts")
    '2026-03-14-relay-contacts'
    """
    return _slug(name, PLAIN_NAME)


def _slug(text: str, plain: re.Pattern[str]) -> str:
    lower = text.lower()
    if len(text) <= LONGEST_PLAIN and plain.fullmatch(text) and not DEVICES.fullmatch(lower):
        return lower
    flat = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    readable = re.sub(r"[^a-z0-9]+", "-", flat).strip("-")[:LONGEST_READABLE].strip("-")
    digest = sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:DIGEST_DIGITS]
    return f"{readable or 'label'}--{digest}"
