"""Each case is a log and the entries it must give, in files that a person can read.

`python -m tests.reading.test_cases` writes what the reader gives now; the change is then read.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from logbook.reading.read_book import read_book
from tests.reading import notation

FOLDER = Path(__file__).parent / "cases"
CASE = re.compile(
    r"^=== (?P<title>[^\n]+)\n(?P<log>.*?)^--- gives\n(?P<gives>.*?)(?=^=== |\Z)", re.M | re.S
)


def cases() -> list[tuple[str, str, str, str]]:
    """File, title, log and expected lines of every case."""
    return [
        (path.name, match["title"], match["log"].strip("\n"), match["gives"].strip())
        for path in sorted(FOLDER.glob("*.txt"))
        for match in CASE.finditer(path.read_text(encoding="utf-8"))
    ]


def given(log: str) -> str:
    """What the reader makes of a case."""
    text = log if log.startswith("# ") else f"# A case\n\n## Work\n\n{log}"
    lines = notation.book(read_book({"runs/2026-03-14-case.md": text})).splitlines()
    return "\n".join(line for line in lines if line != "## Work | no kind")


@pytest.mark.parametrize(("file", "title", "log", "gives"), cases(), ids=lambda value: value[:40])
def test_case(file: str, title: str, log: str, gives: str) -> None:
    """A log gives the entries and findings that stand beside it."""
    assert given(log) == gives, f"{file}: {title}"


def record() -> None:
    """Write what the reader gives now into the case files."""
    for path in sorted(FOLDER.glob("*.txt")):
        text = path.read_text(encoding="utf-8")
        path.write_text(
            CASE.sub(
                lambda match: (
                    f"=== {match['title']}\n{match['log']}--- gives\n"
                    f"{given(match['log'].strip(chr(10)))}\n\n"
                ),
                text,
            ).rstrip("\n")
            + "\n",
            encoding="utf-8",
        )


if __name__ == "__main__":
    record()
