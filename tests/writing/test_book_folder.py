"""Reading a book's folder: which files are texts, what is left alone, what is reported."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.writing.book_folder import LARGEST_TEXT, nearest_book, read_folder
from tests.conftest import make_book


def test_texts_and_other_files_are_told_apart(tmp_path: Path) -> None:
    """Texts are .md and .txt in any case; other files are named; hidden ones are left alone."""
    names = ("a.md", "b.TXT", "2026/c.Md", "d.jpg", "e.md~", ".hidden.md", ".git/f.md", "#g.md#")
    found = read_folder(make_book(tmp_path, dict.fromkeys(names, "x")))
    assert set(found.texts) == {"runs/a.md", "runs/b.TXT", "runs/2026/c.Md"}
    assert set(found.other_files) == {"runs/d.jpg", "runs/e.md~", "runs/#g.md#"}
    assert found.findings == ()


def test_files_come_in_the_same_order_everywhere(tmp_path: Path) -> None:
    """The order depends on names alone, not on the disk."""
    names = ("b.md", "a/z.md", "a.md", "c/a.md", "B.md")
    found = read_folder(make_book(tmp_path, dict.fromkeys(names, "x")))
    assert list(found.texts) == sorted(found.texts)


def test_the_first_letter_that_is_no_utf_8_is_pointed_at(tmp_path: Path) -> None:
    """The finding stands at the line and column of the first bad byte."""
    text = b"# Relais\n\n- took 5 g silver \xb1 2 %\n"
    (finding,) = read_folder(make_book(tmp_path, {"a.md": text})).findings
    assert (finding.span.line, finding.span.column) == (3, 19)
    assert "UTF-8" in finding.headline


@pytest.mark.parametrize("more", [0, 1])
def test_a_file_too_large_for_a_log_is_not_read(tmp_path: Path, more: int) -> None:
    """A text of the largest size is read; one byte more is reported instead."""
    found = read_folder(make_book(tmp_path, {"a.md": b"x" * (LARGEST_TEXT + more)}))
    assert (len(found.texts), len(found.findings)) == (1 - more, more)


def test_a_linked_folder_is_reported_and_not_followed(tmp_path: Path) -> None:
    """Logs behind a link to a folder are not read, and the keeper is told so."""
    make_book(tmp_path / "other", {"secret.md": "# Secret"})
    book = make_book(tmp_path / "book", {"a.md": "# A"})
    (book / "runs" / "linked").symlink_to(tmp_path / "other" / "runs")
    found = read_folder(book)
    assert list(found.texts) == ["runs/a.md"]
    assert [finding.code for finding in found.findings] == ["folder-linked"]


def test_the_nearest_book_is_the_innermost(tmp_path: Path) -> None:
    """A book within a book is its own; outside of any there is none."""
    inner = tmp_path / "outer" / "x" / "inner"
    (inner / "runs" / "deep").mkdir(parents=True)
    (tmp_path / "outer" / "runs").mkdir()
    assert nearest_book(inner / "runs" / "deep") == inner
    assert nearest_book(tmp_path / "outer" / "x") == tmp_path / "outer"
