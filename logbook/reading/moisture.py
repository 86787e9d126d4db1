"""Damp, wet or dry: the words for it, and what they come down to."""

from __future__ import annotations

import re

MOISTURE = re.compile(r"(?:still\s+|a\s+bit\s+|slightly\s+|bone[- ])?(damp|wet|moist|dry)\b", re.I)


def moisture_named(match: re.Match[str]) -> str:
    """Damp, wet or dry, from the word the writer used."""
    word = match[1].lower()
    return "damp" if word == "moist" else word
