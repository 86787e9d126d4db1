"""The real program in a folder of its own: what it prints, what it leaves, how it ends."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import CLEAN_LOG, LOG_WITH_MISTAKES, Program, environment, make_book, tree

HEAVY = {"pandas", "plotly", "jinja2", "PIL", "watchdog", "rich"}
# pint looks whether scipy is there, which loads its name and none of its parts.
HEAVY |= {f"scipy.{part}" for part in ("linalg", "optimize", "sparse", "special", "stats")}


def test_help_fits_one_screen(program: Program) -> None:
    """Each help is at most 24 lines of 80 columns."""
    for words in ([], ["begin"], ["begin", "run"], ["proof"], ["pour"], ["tend"]):
        helped = program(*words, "--help", env={"COLUMNS": "80"})
        lines = helped.out.splitlines()
        assert helped.code == 0
        assert 4 < len(lines) <= 24, words
        assert max(map(len, lines)) <= 80 + 20 * (not words), words


@pytest.mark.parametrize("word", ["proof", "pour", "tend"])
def test_outside_of_a_book_nothing_is_done(program: Program, tmp_path: Path, word: str) -> None:
    """Where there is no book the program says so, names the way out, and ends with 2."""
    ran = program(word)
    assert ran.code == 2
    assert ran.out == ""
    assert "--book FOLDER" in ran.err
    assert "begin book" in ran.err
    assert tree(tmp_path) == {}


def test_a_word_that_is_not_known_ends_with_2(program: Program) -> None:
    """A mistyped word is an error, and the words there are get listed."""
    ran = program("prof")
    assert ran.code == 2
    assert "proof" in ran.err


def test_the_nearest_book_upward_is_meant(program: Program, book: Path) -> None:
    """From a folder deep in a book, the program finds the book."""
    deep = book / "runs" / "photos" / "march"
    deep.mkdir(parents=True)
    assert program("proof", cwd=deep).out.endswith("\n1 log read: nothing to point out\n")


@pytest.mark.parametrize("order", [("--book", "BOOK", "proof"), ("proof", "--book", "BOOK")])
def test_a_book_can_be_named_before_and_after(
    program: Program, book: Path, order: tuple[str, ...]
) -> None:
    """`--book` counts wherever it stands."""
    words = [str(book) if word == "BOOK" else word for word in order]
    assert program(*words).code == 0


def test_a_folder_without_runs_is_no_book(program: Program, tmp_path: Path) -> None:
    """A folder that was named and is no book is refused by name."""
    ran = program("proof", "--book", str(tmp_path))
    assert ran.code == 2
    assert "is not a book" in ran.err


def test_proof_shows_the_place_the_words_and_what_to_write(
    program: Program, tmp_path: Path
) -> None:
    """A finding has file, line and column, the line with its words marked, and a way to mend it."""
    book = make_book(tmp_path, {"2026-03-14-slips.md": LOG_WITH_MISTAKES})
    ran = program("proof", cwd=book)
    told = ran.out.split("\n\n", maxsplit=1)[1]  # after the cautions
    head, quoted, *more, count = [line for line in told.splitlines() if line]
    assert ran.code == 1
    assert re.fullmatch(r"runs/2026-03-14-slips\.md:11:\d+: error \([a-z-]+\): .+", head)
    assert re.fullmatch(r"    - added 40 .*».*gramm.*«.*", quoted) or "»gramm«" in quoted
    assert any(line.startswith("    instead: ") for line in more)
    assert count.startswith("1 log read: 1 error")


def test_doubts_are_printed_and_do_not_fail(program: Program, tmp_path: Path) -> None:
    """A reading that is doubtful is told, and the program still ends with 0."""
    text = CLEAN_LOG.replace("2026-03-14", "03/04/2026")
    book = make_book(tmp_path, {"slips.md": text})
    ran = program("proof", cwd=book)
    assert "doubt (" in ran.out
    assert "error" not in ran.out
    assert ran.code == 0


def test_proof_tells_of_dangers_and_ends_as_it_would_without(
    program: Program, tmp_path: Path
) -> None:
    """Each danger with file and line, what it is and to do, and the code of before."""
    book = make_book(
        tmp_path,
        {
            "2026-03-01-a.md": "# A\n\n## Strip\n- added 90 mL bleach into [W-2]\n",
            "2026-05-01-b.md": "# B\n\n## Leach\n- added 90 mL vinegar into [W-2]\n",
        },
    )
    ran = program("proof", cwd=book)
    heading = "runs/2026-05-01-b.md:4: danger (hypochlorite-with-acid)\n"
    said = " ".join(ran.out.partition(heading)[2].split())
    assert said.startswith("In [W-2]")
    assert "1 March 2026 (2026-03-01-a, line 4)" in said
    assert "Local law and codes" in " ".join(ran.out.split())
    assert ran.out.endswith("2 logs read: nothing to point out\n")
    assert ran.code == 0


def test_proof_writes_nothing(program: Program, book: Path) -> None:
    """Proofing leaves the folder exactly as it was."""
    before = tree(book)
    program("proof", cwd=book)
    assert tree(book) == before


def test_proof_loads_no_heavy_library(book: Path) -> None:
    """What only figures and pages need is not loaded to proof a book."""
    code = (
        "import sys; from logbook.command import main; main(['proof']);"
        "print(*sorted(sys.modules), sep='\\n')"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=book, env=environment(), capture_output=True, check=True
    )
    loaded = set(ran.stdout.decode().split())
    assert "logbook.reading.read_book" in loaded
    assert not HEAVY & loaded


def _on_a_terminal(book: Path, env: dict[str, str]) -> str:
    """What proof prints when its output is a terminal."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "logbook", "proof"]
    with subprocess.Popen(command, cwd=book, env=environment(env), stdout=theirs) as process:
        os.close(theirs)
        printed = b""
        while chunk := _read(ours):
            printed += chunk
        process.wait(timeout=60)
    os.close(ours)
    return printed.decode()


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 4096)
    except OSError:  # how Linux says that the other end is closed
        return b""


def test_colour_only_on_a_terminal_and_never_with_no_color(
    program: Program, tmp_path: Path
) -> None:
    """Colour is for terminals whose keeper has not asked for none."""
    book = make_book(tmp_path, {"2026-03-14-slips.md": LOG_WITH_MISTAKES})
    assert "\x1b[" in _on_a_terminal(book, {"TERM": "xterm"})
    assert "\x1b[" not in _on_a_terminal(book, {"TERM": "xterm", "NO_COLOR": "1"})
    assert "\x1b[" not in program("proof", cwd=book).out


def test_a_log_cannot_speak_to_the_terminal(program: Program, tmp_path: Path) -> None:
    """Control characters of a log are not passed on."""
    text = LOG_WITH_MISTAKES.replace("gramm", "gra\x1b]0;owned\x07mm")
    book = make_book(tmp_path, {"2026-03-14-slips.md": text})
    printed = program("proof", cwd=book).out
    assert "owned" in printed
    assert "\x1b" not in printed
    assert "\x07" not in printed


def test_an_alphabet_that_the_terminal_lacks_does_not_stop_it(
    program: Program, tmp_path: Path
) -> None:
    """Where marks cannot be printed, others stand in their place."""
    book = make_book(tmp_path, {"2026-03-14-slips.md": LOG_WITH_MISTAKES})
    ran = program("proof", cwd=book, env={"PYTHONIOENCODING": "ascii"})
    assert ran.code == 1
    assert ran.err == ""


def test_a_reader_that_goes_away_is_no_failure(book: Path) -> None:
    """`fineweight proof | head` leaves no traceback."""
    command = f"{sys.executable} -m logbook proof | true"
    ran = subprocess.run(
        ["bash", "-c", command], cwd=book, env=environment(), capture_output=True, check=False
    )
    assert ran.stderr == b""
