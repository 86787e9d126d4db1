"""The words that are typed: arguments → one frozen set of options → the work → an exit code.

0: done; 1: `proof` found something in a log that could not be used, or `ask` has no answer;
2: it could not be done.
What a word needs is loaded only when that word is typed.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
import traceback
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from shutil import get_terminal_size
from typing import TYPE_CHECKING, TextIO

from logbook import __version__
from logbook.writing.book_folder import RUNS, nearest_book

if TYPE_CHECKING:
    from logbook.build import PourOptions

DONE, ERRORS_IN_LOGS, COULD_NOT = 0, 1, 2
NOT_ANSWERED = 1
HELP_END = """\
A book is a folder with a folder "runs", and in it one text file for each piece of work.
Without --book, the nearest folder upward that is a book is meant. No word ever changes a log.
"proof" ends with 1 when something in a log could not be used, "ask" when it has no answer;
any word ends with 2 when it could not do its work.
"""


class CommandError(Exception):
    """The work cannot be done; the words say why."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what was typed and return the exit code."""
    _speak_any_alphabet(sys.stdout, sys.stderr)
    typed = parser().parse_args(arguments)
    try:
        code = _do(typed)
        sys.stdout.flush()
        return code
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # Whoever read the output has gone; nothing more may be written to it on the way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return COULD_NOT
    except CommandError as error:
        return _could_not(str(error))
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        return _could_not(f"{place}{error.strerror or error}")
    except Exception:
        traceback.print_exc()
        return _could_not("this is a mistake of the program, not of your logs; please report it")


def parser() -> argparse.ArgumentParser:
    """The words and their options."""
    whole = argparse.ArgumentParser(
        prog="fineweight",
        description="Dated logs of a refining bench become a site where every gram is told.",
        epilog=HELP_END,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    whole.add_argument("--version", action="version", version=f"%(prog)s {__version__}")
    whole.add_argument("--book", metavar="FOLDER", type=Path, help="the folder of the book")
    of_a_book = argparse.ArgumentParser(add_help=False, allow_abbrev=False)
    of_a_book.add_argument(
        "--book", metavar="FOLDER", type=Path, default=argparse.SUPPRESS, help="the book's folder"
    )
    words = whole.add_subparsers(title="words", dest="word", required=True, metavar="WORD")
    _begin_words(
        words.add_parser("begin", help='begin a "book FOLDER" or a "run TITLE"'), of_a_book
    )
    words.add_parser("proof", help="say what is wrong in the logs", parents=[of_a_book])
    pour = words.add_parser("pour", help="write the site", parents=[of_a_book])
    tend = words.add_parser(
        "tend", help="keep the site fresh while the logs change, and show it", parents=[of_a_book]
    )
    for word in (pour, tend):
        word.add_argument(
            "--into", metavar="FOLDER", type=Path, help="where to (site, in the book)"
        )
        word.add_argument("--with-private", action="store_true", help="show private notes too")
        word.add_argument(
            "--public", action="store_true", help="for others: without what is kept back"
        )
        word.add_argument(
            "--theme", metavar="NAME", default="", help="bench, fair-copy, or the book's own"
        )
    question = words.add_parser("ask", help="answer a question in plain words", parents=[of_a_book])
    question.add_argument(
        "question", metavar="QUESTION", nargs="*", help="without one, what can be asked is listed"
    )
    tend.add_argument("--port", type=_port, default=0, help="port on this machine (any free one)")
    return whole


def _begin_words(begin: argparse.ArgumentParser, of_a_book: argparse.ArgumentParser) -> None:
    what = begin.add_subparsers(title="what", dest="what", required=True, metavar="WHAT")
    book = what.add_parser("book", help="lay out a new book")
    book.add_argument("folder", metavar="FOLDER", type=Path)
    run = what.add_parser("run", help="make a new log", parents=[of_a_book])
    run.add_argument("title", metavar="TITLE")
    run.add_argument(
        "--date", metavar="DAY", type=_day, default=None, help="its day, as 2026-03-14 (today)"
    )


def _day(words: str) -> date:
    try:
        return date.fromisoformat(words)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{words} is not a day, as in 2026-03-14") from None


def _port(words: str) -> int:
    if not words.isdecimal() or int(words) > 65535:
        raise argparse.ArgumentTypeError(f"{words} is not a port: a number from 0 to 65535")
    return int(words)


def _do(typed: argparse.Namespace) -> int:
    if typed.word == "begin":
        return _begin(typed)
    if typed.word == "ask":
        return _ask(typed)
    book = _book_of(typed)
    return {"proof": _proof, "pour": _pour, "tend": _tend}[typed.word](book, typed)


def _book_of(typed: argparse.Namespace) -> Path:
    """The book that is meant."""
    if typed.book is not None:
        if not (typed.book / RUNS).is_dir():
            raise CommandError(f'{typed.book} is not a book: it has no folder "{RUNS}"')
        return Path(typed.book)
    nearest = nearest_book(Path.cwd())
    if nearest is None:
        raise CommandError(
            f'no folder from here upward has a folder "{RUNS}": name the book with --book FOLDER, '
            "or lay one out with fineweight begin book FOLDER"
        )
    return nearest


def _begin(typed: argparse.Namespace) -> int:
    from logbook.begin import BeginError, begin_book, begin_run

    try:
        if typed.what == "book":
            made = begin_book(typed.folder)
        else:
            made = (begin_run(_book_of(typed), typed.title, typed.date or date.today()),)
    except BeginError as error:
        raise CommandError(str(error)) from error
    for file in made:
        print(f"made {_from_here(file)}")
    return DONE


def _ask(typed: argparse.Namespace) -> int:
    from logbook.ask import ask, examples
    from logbook.pages.answer_view import answer_view
    from logbook.writing.answer_text import answer_lines, example_lines

    width = get_terminal_size().columns
    if not typed.question:
        print(*example_lines([(one.question, one.says) for one in examples()], width), sep="\n")
        return DONE
    folder = _book_of(typed) if typed.book is not None else nearest_book(Path.cwd())
    answer = ask(" ".join(typed.question), folder)
    print(*answer_lines(answer_view(answer), width, colour=takes_colour(sys.stdout)), sep="\n")
    return DONE if answer.answered else NOT_ANSWERED


def _proof(book: Path, _: argparse.Namespace) -> int:
    from logbook.proof import proof
    from logbook.writing.caution_text import caution_lines
    from logbook.writing.finding_text import any_error, counted, finding_lines

    found = proof(book)
    colour = takes_colour(sys.stdout)
    width = get_terminal_size().columns
    for line in caution_lines(found.cautions, colour=colour, width=width):
        print(line)
    if found.cautions:
        print()
    for finding in found.findings:
        print(*finding_lines(finding, colour=colour), sep="\n", end="\n\n")
    logs = "1 log" if found.logs == 1 else f"{found.logs} logs"
    print(f"{logs} read: {counted(found.findings)}")
    return ERRORS_IN_LOGS if any_error(found.findings) else DONE


def _pour(book: Path, typed: argparse.Namespace) -> int:
    from logbook.build import pour
    from logbook.progress import Progress
    from logbook.writing.site_folder import SiteError

    options = _options(book, typed)
    try:
        with Progress(sys.stderr) as progress:
            report = pour(options, progress.told)
    except SiteError as error:
        raise CommandError(str(error)) from error
    print(report.in_words(str(_from_here(options.into))))
    return DONE  # what is wrong in the logs stands on the site; `proof` is the word that judges


def _tend(book: Path, typed: argparse.Namespace) -> int:
    from logbook.tend import tend

    tend(_options(book, typed), typed.port, lambda words: print(words, flush=True))
    return DONE


def _options(book: Path, typed: argparse.Namespace) -> PourOptions:
    from logbook.build import PourOptions

    if typed.public and typed.with_private:
        raise CommandError(
            "--public leaves private notes out and --with-private shows them: choose one of the two"
        )
    into = typed.into or book / "site"
    return PourOptions(book, into, typed.with_private, typed.public, typed.theme)


def _from_here(path: Path) -> Path:
    """A path as one would type it from here."""
    whole, here = path.absolute(), Path.cwd()
    return whole.relative_to(here) if whole.is_relative_to(here) else whole


def _could_not(words: str) -> int:
    print(f"fineweight: {words}", file=sys.stderr)
    return COULD_NOT


def takes_colour(stream: TextIO) -> bool:
    """Whether colour may be used: on a terminal, unless NO_COLOR is set (no-color.org)."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _speak_any_alphabet(*streams: TextIO) -> None:
    """Let a terminal that lacks a letter show a mark in its place, rather than stop."""
    for stream in streams:
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
