"""A new book and a new log: what is laid out, and that nothing is ever written over."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from logbook.begin import BeginError, begin_run, file_name
from tests.conftest import Program, tree


def test_a_new_book_proofs_clean_and_pours(program: Program, tmp_path: Path) -> None:
    """What `begin book` lays out has no problem, gives a page, and says it is invented."""
    folder = tmp_path / "mine"
    made = program("begin", "book", "mine")
    assert made.code == 0
    assert "made mine/runs/bench.md" in made.out.splitlines()
    names = {"bench", "supplies", "prices", "scales", "sources", "2026-01-10-example"}
    assert {file.stem for file in (folder / "runs").iterdir()} == names
    assert "invented example" in (folder / "runs" / "2026-01-10-example.md").read_text()
    proof = program("proof", cwd=folder)
    assert proof.code == 0
    assert proof.out.endswith("\n1 log read: nothing to point out\n")
    assert program("pour", cwd=folder).code == 0
    assert (folder / "site" / "runs" / "2026-01-10-example.html").is_file()


def test_the_example_weighs_no_more_than_it_can() -> None:
    """The example log is physically possible.

    Silver: 12.4 g × 0.80 = 9.92 g is in the cases; the bar holds 9.78 g × 0.994 = 9.72 g.
    Cementing 9.92 g silver takes 9.92 / 107.87 / 2 × 63.55 = 2.92 g copper; the bar lost
    9.62 - 6.41 = 3.21 g, of which acid left over took the rest. By hand; atomic weights
    107.87 and 63.55 from the IUPAC table of 2021 (from memory).
    """
    from logbook.begin import EXAMPLE

    for words in ("12.4 g", "80 ± 1 %", "9.78 g", "99.4 ± 0.3 %", "9.62 g", "6.41 g"):
        assert words in EXAMPLE
    silver_in, silver_out = 12.4 * 0.80, 9.78 * 0.994
    copper_needed, copper_gone = silver_in / 107.87 / 2 * 63.55, 9.62 - 6.41
    assert silver_out < silver_in
    assert copper_needed < copper_gone


def test_a_book_is_not_laid_over_another(program: Program, book: Path) -> None:
    """Where logs are, `begin book` refuses and changes nothing."""
    before = tree(book)
    ran = program("begin", "book", str(book))
    assert ran.code == 2
    assert "is there already" in ran.err
    assert tree(book) == before


def test_a_new_log_has_the_day_and_the_title(program: Program, book: Path) -> None:
    """The file is named after day and title, holds both, and proofs clean."""
    ran = program("begin", "run", "Gold leads, lot 2", "--date", "2026-05-02", cwd=book)
    file = book / "runs" / "2026-05-02-gold-leads-lot-2.md"
    assert ran.out == "made runs/2026-05-02-gold-leads-lot-2.md\n"
    assert file.read_text().startswith("# Gold leads, lot 2\n\nDate: 2026-05-02\n")
    assert program("proof", cwd=book).code == 0


def test_a_log_is_not_written_over(program: Program, book: Path) -> None:
    """A second log of the same day and title is refused, and the first stays as it is."""
    words = ("begin", "run", "Gold", "--date", "2026-05-02")
    program(*words, cwd=book)
    file = book / "runs" / "2026-05-02-gold.md"
    file.write_text("mine")
    assert program(*words, cwd=book).code == 2
    assert file.read_text() == "mine"


@pytest.mark.parametrize("words", ["2026-13-01", "yesterday", "14.03.2026"])
def test_a_day_that_is_none_is_refused(program: Program, book: Path, words: str) -> None:
    """`--date` takes one way of writing a day and says which."""
    ran = program("begin", "run", "Gold", "--date", words, cwd=book)
    assert ran.code == 2
    assert "as in 2026-03-14" in ran.err


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("../../etc/passwd", "etc-passwd"),
        ("CON", "con"),  # safe: the day stands before it
        ("a" * 300, "a" * 60),
        ("🜚 ☉", "run"),
        ("Überzug: Gold & Silber", "uberzug-gold-silber"),
    ],
)
def test_any_title_gives_a_safe_name(title: str, name: str) -> None:
    """No title leads out of the folder or asks for a name that a disk refuses."""
    assert file_name(title) == name


def test_a_title_is_one_line(tmp_path: Path) -> None:
    """A title cannot bring lines of its own into the log; an empty one is refused."""
    (tmp_path / "runs").mkdir()
    file = begin_run(tmp_path, "Gold\n- took 5 kg gold", date(2026, 5, 2))
    assert file.read_text().splitlines()[0] == "# Gold - took 5 kg gold"
    with pytest.raises(BeginError):
        begin_run(tmp_path, " \n ", date(2026, 5, 2))
