"""File names of pages: safe for any text, and never shared by two texts."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.pages.slugs import label_slug, run_slug

SAFE = re.compile(r"[a-z0-9][a-z0-9._-]{0,79}")
HOSTILE = [
    *("", " ", ".", "..", "../../etc/passwd", "a/b", "a\\b", "C:", "con", "CON", "NUL", "nul.txt"),
    *("\0", "A\0B", "🧪", "Ä-1", "A-1 ", "ﬁlter", "é", "e\u0301", "-", "--", "A--B", "a" * 200),
    *("A" * 200, "F-21", "f-21", "F 21", "F_21", "F.21", "F-21.html", "<script>", '"', "\ud800"),
    *("COM1", "LPT9", "AUX", "PRN", "%2e%2e", "?a=b", "#top", "١"),
]


@pytest.mark.parametrize("make", [label_slug, run_slug])
def test_hostile_texts_get_safe_names(make: object) -> None:
    """No text can leave its folder, be too long, or be a name that a system keeps."""
    assert callable(make)
    for text in HOSTILE:
        slug = make(text)
        assert SAFE.fullmatch(slug), (text, slug)
        assert slug.split(".")[0] not in {"con", "prn", "aux", "nul", "com1", "lpt9"}


@pytest.mark.parametrize("make", [label_slug, run_slug])
def test_hostile_texts_share_no_name(make: object) -> None:
    """Texts that look alike, or differ in case alone, still get pages of their own."""
    assert callable(make)
    names = [make(text).casefold() for text in HOSTILE]
    assert len(set(names)) == len(HOSTILE)


@given(st.text(max_size=40), st.text(max_size=40))
def test_two_texts_share_no_name(one: str, other: str) -> None:
    """Any two labels that differ have pages that differ, on any file system."""
    assert (label_slug(one) == label_slug(other)) == (one == other)
    assert SAFE.fullmatch(label_slug(one))


def test_plain_names_stay_readable() -> None:
    """The labels and files that people write most keep their look."""
    assert label_slug("AG-7") == "ag-7"
    assert label_slug("W1") == "w1"
    assert run_slug("2026-03-14-relay-contacts") == "2026-03-14-relay-contacts"
    assert run_slug("2026-03-14_relay.contacts") == "2026-03-14_relay.contacts"
    assert label_slug("Ag 7 old").startswith("ag-7-old--")
