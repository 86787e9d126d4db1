"""`fineweight ask` as it is typed: what it prints, how it ends, and what it loads."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.reading.question_forms import FORMS
from tests.command.test_words import HEAVY
from tests.conftest import CLEAN_LOG, Program, environment, make_book, tree

PRICES = "# Prices\n\n- 2026-03-01 priced silver at 1.20 EUR/g\n"
OF_A_BOOK = (
    "worth of",
    "how much silver is in",
    "is there enough",
    "plan for",
    "fineness of [",
    "how much nitric acid is left",
)


def plain(text: str) -> str:
    """Words without the line ends of a terminal."""
    return " ".join(text.split())


def test_a_question_is_answered_without_a_book(program: Program, tmp_path: Path) -> None:
    """12 g of gold take 8.69 g of metabisulfite (by hand, 12 x 0.7238); it ends with 0.

    Its gas, were it all in acid: 8.686 x 0.2574 = 2.236 L of sulfur dioxide, rounded up.
    """
    ran = program("ask", "sodium metabisulfite to drop 12 g gold")
    assert ran.code == 0
    assert ran.err == ""
    first = ran.out.split("\n\n")[0]
    asked, gas = plain(first).split(". ")
    assert asked == "To drop 12 g gold the equations ask for 8.69 g of sodium metabisulfite"
    assert "at most 2.24 L of sulfur dioxide" in gas
    assert "4 HAuCl4 + 3 Na2S2O5" in plain(ran.out)
    assert "DANGER: sulfite with acid" in ran.out
    assert plain(ran.out).endswith(plain(DEFERRAL))
    assert tree(tmp_path) == {}


def test_the_words_need_no_quotes(program: Program) -> None:
    """A question may be typed as so many words."""
    quoted = program("ask", "salt to drop 80 g silver")
    assert program("ask", "salt", "to", "drop", "80", "g", "silver").out == quoted.out


def test_limits_are_limits(program: Program) -> None:
    """Two routes are two limits, rounded outwards: 81.5 and 122.3 mL by hand."""
    out = plain(program("ask", "nitric acid 68 % to dissolve 100 g silver").out)
    assert "between 81.4 and 123 mL of nitric acid 68 %" in out


@pytest.mark.parametrize(
    "text",
    [
        "nitric acid 68 % to dissolve silver",
        "what is the weather",
        "nitric acid 68 % to dissolve 10 g gold",
        "urea to destroy 100 mL nitric acid 68 %",
        "worth of [AG-7]",
    ],
)
def test_without_an_answer_it_ends_with_1(program: Program, text: str) -> None:
    """What cannot be answered is told, with what is missing or what is true instead."""
    ran = program("ask", text)
    assert ran.code == 1
    assert ran.err == ""
    assert "Missing" in ran.out or ran.out.startswith("That is not so.")


def test_a_book_that_is_none_ends_with_2(program: Program, tmp_path: Path) -> None:
    """A folder that was named and is no book is refused, as by every word."""
    ran = program("ask", "2 ozt in g", "--book", str(tmp_path))
    assert ran.code == 2
    assert "is not a book" in ran.err


def test_a_book_is_asked(program: Program, tmp_path: Path) -> None:
    """12.3 g x 0.99 x 1.20 EUR/g = 14.61 EUR, from the folder upward or by name; no doubt, since
    an amount that a question names is exact.
    """
    book = make_book(tmp_path / "book", {"2026-03-14-contacts.md": CLEAN_LOG, "prices.md": PRICES})
    before = tree(book)
    for words, folder in ((("--book", str(book)), tmp_path), ((), book / "runs")):
        ran = program("ask", "worth of 12.3 g of silver 99 %", *words, cwd=folder)
        assert ran.code == 0
        assert "is worth 14.61 EUR." in plain(ran.out)
    assert tree(book) == before


def test_the_book_says_how_numbers_are_written(program: Program, tmp_path: Path) -> None:
    """Where bench.md has decimal commas, so has a question."""
    book = make_book(tmp_path / "book", {"bench.md": "# A bench\n\nNumbers: 1.250,5\n"})
    out = program("ask", "copper to cement 1.000,5 g silver", cwd=book).out
    assert "295 g of copper" in plain(out)  # 1000.5 x 0.2945 by hand


def test_without_a_question_it_lists_what_can_be_asked(program: Program) -> None:
    """Each form is listed once, with what its answer tells."""
    ran = program("ask", env={"COLUMNS": "120"})
    assert ran.code == 0
    for form in FORMS:
        assert plain(ran.out).count(f'fineweight ask "{form.example}"') == 1
        assert form.says in plain(ran.out)


@pytest.mark.parametrize(
    "example", [one.example for one in FORMS if not one.example.startswith(OF_A_BOOK)]
)
def test_every_example_has_an_answer(program: Program, example: str) -> None:
    """What help and guide show works as it stands, but for what only a book can tell."""
    assert program("ask", example).code == 0


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_lines_fit_the_terminal(program: Program, columns: int) -> None:
    """No line is wider than the terminal, nor than a line that is good to read."""
    for text in ("nitric acid 68 % to dissolve 250 g sterling", "what is the weather"):
        out = program("ask", text, env={"COLUMNS": str(columns)}).out
        assert max(map(len, out.splitlines())) <= min(columns, 88)


def test_a_question_cannot_speak_to_the_terminal(program: Program) -> None:
    """Control characters of a question are not passed on."""
    out = program("ask", "salt to drop 80 g silver, \x1b]0;owned\x07").out
    assert "\x1b" not in out
    assert "\x07" not in out


def test_an_ounce_of_gold_is_asked_about(program: Program, tmp_path: Path) -> None:
    """The two readings of an ounce stand with the answer."""
    prices = PRICES.replace("silver", "gold").replace("1.20", "100")
    book = make_book(tmp_path / "book", {"prices.md": prices})
    assert "has two readings" in plain(program("ask", "worth of 2 oz gold", cwd=book).out)


def test_a_question_of_chemistry_loads_no_heavy_library(tmp_path: Path) -> None:
    """Neither what pages need nor what figures of a book need is loaded."""
    code = (
        "import sys; from logbook.command import main;"
        "main(['ask', 'nitric acid 68 % to dissolve 100 g silver']);"
        "print(*sorted(sys.modules), sep='\\n')"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env=environment(),
        capture_output=True,
        check=True,
    )
    loaded = set(ran.stdout.decode().split())
    assert "logbook.calculation.answers.work" in loaded
    assert not HEAVY & loaded
    assert "markdown_it" not in loaded
