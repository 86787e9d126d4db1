"""The folder of a book on the disk: find it, and read every text in it.

This only reads. A file that cannot be read costs that file and is reported; what the texts
mean is not known here.
"""

from __future__ import annotations

import os
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from unicodedata import normalize

from logbook.findings import Finding, Weight
from logbook.shown_text import shown_text
from logbook.source import SourceText, Span

RUNS = "runs"
TEXT_ENDINGS = frozenset({".md", ".txt"})
LARGEST_TEXT = 1_000_000  # bytes: a year of notes is a tenth of it
SHOWN_OF_A_BROKEN_TEXT = 10_000  # characters kept to quote from


@dataclass(frozen=True, slots=True)
class FolderContents:
    """What lies in a book's `runs/`: the texts by path, the other files, what went wrong."""

    texts: Mapping[str, str]
    other_files: tuple[str, ...]
    findings: tuple[Finding, ...]


def nearest_book(start: Path) -> Path | None:
    """The nearest folder, from `start` upward, that has a folder `runs`."""
    whole = start.absolute()
    return next((folder for folder in (whole, *whole.parents) if (folder / RUNS).is_dir()), None)


def bench_text(book: Path) -> str:
    """The text of a book's bench.md; empty where there is none that can be read."""
    for name in ("bench.md", "bench.txt"):
        path = f"{RUNS}/{name}"
        if (book / path).is_file() and _unfit(book, path) is None:
            text = _read_text(book / path, path)
            return shown_text(text) if isinstance(text, str) else ""
    return ""


def read_folder(book: Path) -> FolderContents:
    """Read every text of a book. Hidden files are left alone; links out of it are not followed."""
    texts: dict[str, str] = {}
    others: list[str] = []
    findings: list[Finding] = []
    for path in sorted(_files(book, findings)):
        trouble = _unfit(book, path)
        if trouble is not None:
            findings.append(trouble)
        elif PurePosixPath(path).suffix.lower() not in TEXT_ENDINGS:
            others.append(path)
        else:
            text = _read_text(book / path, path)
            if isinstance(text, Finding):
                findings.append(text)
            else:
                texts[path] = shown_text(text)
                findings += _unshown(path, text, texts[path])
    return FolderContents(texts, tuple(others), tuple(findings))


def _files(book: Path, findings: list[Finding]) -> Iterator[str]:
    """The path, from the book's folder, of every file below `runs/`."""

    def unreadable(error: OSError) -> None:
        place = Path(error.filename).relative_to(book).as_posix()
        findings.append(
            _finding("folder-not-readable", place, f"this folder cannot be read: {error.strerror}")
        )

    for folder, folders, names in os.walk(book / RUNS, onerror=unreadable):
        folders[:] = [name for name in folders if not name.startswith(".")]
        here = Path(folder).relative_to(book)
        linked = [name for name in folders if (book / here / name).is_symlink()]
        findings.extend(_linked_folder((here / name).as_posix()) for name in linked)
        yield from ((here / name).as_posix() for name in names if not name.startswith("."))


def _linked_folder(path: str) -> Finding:
    headline = "this is a link to a folder, and is not followed"
    return _finding("folder-linked", path, headline, hint="move the folder itself into the book")


def _unfit(book: Path, path: str) -> Finding | None:
    """Why a file is left out before it is opened; None where nothing speaks against it."""
    whole = book / path
    shown = shown_text(path.encode("utf-8", "replace").decode())
    if shown != path or "\n" in path or "\t" in path:
        return _finding(
            "file-name-not-text",
            shown,
            "the name of this file holds what cannot be shown",
            hint="give it another name",
        )
    try:
        inside = whole.resolve().is_relative_to((book / RUNS).resolve())
    except (OSError, RuntimeError):  # a link that leads to itself
        return _finding("file-not-readable", path, "this is a link that leads nowhere")
    if not inside:
        headline = "this is a link to a file outside of the book, and is not followed"
        return _finding("file-outside-book", path, headline, hint="copy the file into the book")
    if not whole.is_file():
        return _finding("file-not-readable", path, "this is not a file that can be read")
    return None


def _read_text(file: Path, path: str) -> str | Finding:
    """The text of a file with plain line ends and without a byte order mark, or what is wrong."""
    try:
        if file.stat().st_size > LARGEST_TEXT:
            headline = f"this file is larger than {LARGEST_TEXT // 1000} kB, too large for a log"
            return _finding(
                "file-too-large", path, headline, hint="split it, or give it another ending"
            )
        raw = file.read_bytes().removeprefix(BOM_UTF8)
    except OSError as error:
        return _finding("file-not-readable", path, f"this file cannot be read: {error.strerror}")
    try:
        return _plain(raw.decode("utf-8"))
    except UnicodeDecodeError as error:
        return _not_utf8(path, raw, error.start)


def _plain(text: str) -> str:
    """A text with plain line ends, each letter written in one way (UAX 15, NFC).

    Keyboards and disks differ in how they write an accent; a label is the same jar in both.
    """
    return normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))


def _unshown(path: str, text: str, shown: str) -> Iterator[Finding]:
    """The finding on a text that holds such signs, at the first of them."""
    if text == shown:
        return
    at = next(place for place, sign in enumerate(text) if sign != shown[place])
    yield Finding(
        "text-not-shown",
        Weight.DOUBT,
        "this text holds a sign that cannot be shown, or that turns the words around it",
        Span(SourceText(path, shown), at, at + 1),
        understood="it is shown as \ufffd, here and wherever there is another in this file",
        hint="take it out",
    )


def _not_utf8(path: str, raw: bytes, at: int) -> Finding:
    """The finding on a file that is not UTF-8, at the first byte that cannot be read."""
    utf16 = raw.startswith((BOM_UTF16_LE, BOM_UTF16_BE))
    before = "" if utf16 else _plain(raw[:at].decode("utf-8", "replace"))
    after = (
        "" if utf16 else _plain(raw[at : at + SHOWN_OF_A_BROKEN_TEXT].decode("utf-8", "replace"))
    )
    source = SourceText(path, shown_text(before + after))
    return Finding(
        "file-not-utf-8",
        Weight.ERROR,
        "this file is not saved as UTF-8, so nothing in it was read",
        Span(source, len(before), min(len(before) + 1, len(source.text))),
        understood="the rest of the book was read without it",
        hint="save it again as UTF-8: most editors offer it as the encoding under Save As",
    )


def _finding(code: str, path: str, headline: str, hint: str = "") -> Finding:
    """A finding on a whole file, which has no line to point at."""
    span = Span(SourceText(path, ""), 0, 0)
    return Finding(
        code, Weight.ERROR, headline, span, "the rest of the book was read without it", hint
    )
