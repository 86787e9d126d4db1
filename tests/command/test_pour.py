"""Pouring a book with the real program: what it writes, what it leaves alone, how it ends."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.conftest import CLEAN_LOG, LOG_WITH_MISTAKES, Program, make_book, tree


def test_pour_says_in_one_line_what_it_did(program: Program, book: Path) -> None:
    """One line on the output, nothing on the error stream, exit 0; again: nothing to write."""
    first, second = program("pour", cwd=book), program("pour", cwd=book)
    assert (first.code, first.err) == (0, "")
    assert first.out.startswith("poured 1 run as ")
    assert first.out.endswith("0 removed; in the logs nothing to point out\n")
    assert "files 0 written" in second.out


def test_errors_in_logs_are_told_and_the_site_is_there(program: Program, tmp_path: Path) -> None:
    """A broken entry costs itself: the site is written, and says what is wrong."""
    book = make_book(tmp_path, {"2026-03-14-slips.md": LOG_WITH_MISTAKES})
    ran = program("pour", cwd=book)
    assert ran.code == 0
    assert "in the logs 1 error" in ran.out
    assert "gramm" in (book / "site" / "attention.html").read_text()
    assert "gramm" in (book / "site" / "data" / "problems.csv").read_text()


def test_logs_are_never_touched(program: Program, book: Path) -> None:
    """Content, times and names of everything in runs/ stay as they are."""

    def state() -> dict[str, tuple[int, int, bytes]]:
        return {
            str(file): (file.stat().st_mtime_ns, file.stat().st_ino, file.read_bytes())
            for file in (book / "runs").rglob("*")
        }

    before = state()
    program("pour", cwd=book)
    program("proof", cwd=book)
    assert state() == before


def test_nothing_is_written_outside_of_the_site(program: Program, book: Path) -> None:
    """Of the book's folder only site/ changes."""
    before = tree(book)
    program("pour", cwd=book)
    after = {path: digest for path, digest in tree(book).items() if not path.startswith("site/")}
    assert after == before


def test_stale_pages_go_and_the_keepers_own_files_stay(program: Program, book: Path) -> None:
    """What an earlier pour wrote and this one does not is removed; nothing else is."""
    extra = book / "runs" / "2026-03-20-second.md"
    extra.write_text(CLEAN_LOG.replace("SW-1", "SW-2").replace("2026-03-14", "2026-03-20"))
    program("pour", cwd=book)
    own = book / "site" / "runs" / "my-own-notes.html"
    own.write_text("mine")
    page = book / "site" / "runs" / "2026-03-20-second.html"
    assert page.is_file()
    extra.unlink()
    ran = program("pour", cwd=book)
    assert not page.exists()
    assert own.read_text() == "mine"
    assert " 0 removed" not in ran.out


def test_a_page_of_somebody_else_is_not_written_over(program: Program, book: Path) -> None:
    """A file in the way that fineweight did not write stops the pour and stays."""
    other = book / "public" / "index.html"
    other.parent.mkdir()
    other.write_text("another site")
    ran = program("pour", "--into", "public", cwd=book)
    assert ran.code == 2
    assert "was not written by fineweight" in ran.err
    assert other.read_text() == "another site"


@pytest.mark.parametrize("into", ["runs", "runs/site", "themes/x", ".", ".."])
def test_a_site_is_not_poured_over_the_book(program: Program, book: Path, into: str) -> None:
    """The site's folder can be neither the book nor a part of its logs or themes."""
    before = tree(book)
    ran = program("pour", "--into", into, cwd=book)
    assert ran.code == 2
    assert tree(book) == before


def test_links_are_not_followed_out_of_the_site(program: Program, book: Path) -> None:
    """A folder of the site that is a link elsewhere stops the pour; nothing lands there."""
    elsewhere = book.parent / "elsewhere"
    elsewhere.mkdir()
    (book / "site").mkdir()
    (book / "site" / "runs").symlink_to(elsewhere)
    ran = program("pour", cwd=book)
    assert ran.code == 2
    assert "is a link" in ran.err
    assert list(elsewhere.iterdir()) == []


MEANT_AS_PRIVATE = """\
# Contacts of one relay

Date: 2026-03-14
Private: Quixote
Metal: silver

Private: Quixote

A plain line.
Private: Quixote

## Dissolve

- took 10.0 g silver wire [SW-1], silver 92.5 ± 0.5 %
- **private**: Quixote
- (private: Quixote)
- [ ] private: Quixote
- added 20 mL tap water, private: Quixote
- tested with salt:
  - first rinse: cloud
  - second rinse: none (private: Quixote)
- privat: Quixote
- private Quixote, with 40 gramm of it

> private: Quixote

## Private matters of Quixote

- took 9.0 g of Quixote

## Melt

### Private

Quixote
"""


def test_nothing_that_was_meant_as_private_is_published(program: Program, tmp_path: Path) -> None:
    """However a note says that it is private, no file of the site holds its words."""
    book = make_book(
        tmp_path, {"2026-03-14-private.md": MEANT_AS_PRIVATE, "bench.md": MEANT_AS_PRIVATE}
    )
    assert program("pour", cwd=book).code == 0
    for file in (book / "site").rglob("*"):
        if file.is_file() and file.name != "plotly.min.js":
            assert b"Quixote" not in file.read_bytes(), file


def test_private_notes_are_in_no_file_unless_asked_for(program: Program, tmp_path: Path) -> None:
    """No file of the site holds a private note, or a finding on it, until the keeper asks."""
    text = CLEAN_LOG + "- private: the jeweller Zebedee paid 40 gramm too little\n"
    book = make_book(tmp_path, {"2026-03-14-contacts.md": text})

    def holding() -> list[str]:
        site = book / "site"
        return [str(f) for f in site.rglob("*") if f.is_file() and b"Zebedee" in f.read_bytes()]

    program("pour", cwd=book)
    assert holding() == []
    program("pour", "--with-private", cwd=book)
    names = {Path(file).name for file in holding()}
    assert names == {"2026-03-14-contacts.html", "search-index.js"}
    program("pour", cwd=book)
    assert holding() == []


ODD_FILES: dict[str, bytes] = {
    "empty.md": b"",
    "only-a-bom.md": b"\xef\xbb\xbf",
    "latin.md": CLEAN_LOG.encode("latin-1"),
    "utf-16.md": CLEAN_LOG.encode("utf-16"),
    "nul.md": CLEAN_LOG.replace("wire", "wi\0re").encode(),
    "one-long-line.md": b"# Long\n\n- took " + b"9" * 10_000_000 + b" g\n",
    "many-brackets.md": b"# Deep\n\n" + b"[" * 50_000 + b"\n" + b"> " * 5_000 + b"x\n",
    "no-end.md": b"# No end\n\n## Dissolve\n\n- took 5 g silver wire",
    "noise.md": bytes(range(32, 256)) * 40,
    "odd name \xe2\x98\x83.md": CLEAN_LOG.encode(),
}


def test_odd_files_cost_only_themselves(program: Program, tmp_path: Path) -> None:
    """Whatever lies in runs/, the other logs get their pages, and the odd ones are named."""
    files = {"2026-03-14-contacts.md": CLEAN_LOG, **ODD_FILES}
    book = make_book(tmp_path, files)
    (book / "runs" / "gone.md").symlink_to("nowhere.md")
    (book / "runs" / "secret.md").symlink_to("/etc/hostname")
    (book / "runs" / "folder.md").mkdir()
    os.mkfifo(book / "runs" / "pipe.md")
    ran = program("pour", cwd=book)
    problems = (book / "site" / "data" / "problems.csv").read_text()
    assert ran.code == 0
    assert ran.err == ""
    assert (book / "site" / "runs" / "2026-03-14-contacts.html").is_file()
    for name in ("latin", "utf-16", "one-long-line", "noise", "gone", "secret", "pipe"):
        assert f"runs/{name}.md" in problems, name
    assert not (book / "site" / "runs" / "secret.html").exists()


@pytest.mark.parametrize("ending", ["\r\n", "\r"])
def test_line_ends_and_byte_order_marks_make_no_difference(
    program: Program, tmp_path: Path, ending: str
) -> None:
    """A log saved by another editor gives the same site."""
    here = make_book(tmp_path / "here", {"2026-03-14-contacts.md": LOG_WITH_MISTAKES})
    there = make_book(
        tmp_path / "there",
        {
            "2026-03-14-contacts.md": b"\xef\xbb\xbf"
            + LOG_WITH_MISTAKES.replace("\n", ending).encode()
        },
    )
    for book in (here, there):
        program("pour", cwd=book)
    assert tree(here / "site") == tree(there / "site")


def test_a_pour_cut_short_leaves_no_half_page(book: Path) -> None:
    """A page stands there whole or not at all, and the next pour clears up what was left."""
    from logbook.build import PourOptions, pour
    from logbook.writing.site_folder import PART

    site = book / "site"
    pour(PourOptions(book, site))
    left = site / "runs" / PART.format(999999)
    left.write_bytes(b"<html>half")

    class CutError(Exception):
        pass

    def cut(doing: str, done: int, of: int) -> None:
        if doing == "writing the pages" and done == 3:
            raise CutError

    (book / "runs" / "2026-03-15-more.md").write_text(CLEAN_LOG.replace("SW-1", "SW-9"))
    with pytest.raises(CutError):
        pour(PourOptions(book, site), cut)
    for page in site.rglob("*.html"):
        assert page.read_text().rstrip().endswith("</html>"), page
    pour(PourOptions(book, site))
    fresh = book.parent / "fresh"
    pour(PourOptions(book, fresh))
    assert tree(site) == tree(fresh)
