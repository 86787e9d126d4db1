"""The guide is true: its examples are read by the program's own reader, its words are all there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib.resources import files

import pytest

from logbook.findings import Finding
from logbook.model.book import Book
from logbook.reading.read_book import read_book
from logbook.reference import Action, actions, stage_kinds

FENCE = re.compile(r"^```(\w[^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
HEAD = "# An example\n\nDate: 2026-03-14\nMetal: silver\n\n"


@dataclass(frozen=True, slots=True)
class Example:
    """A fenced block of the guide: `log`, `log mistakes` or `log` with the name of a page."""

    chapter: str
    number: int
    about: str
    text: str

    @property
    def path(self) -> str:
        """Where the example would lie in a book."""
        _, _, name = self.about.partition(" ")
        return name if name.startswith("runs/") else "runs/2026-03-14-example.md"

    @property
    def log(self) -> str:
        """The example as a whole file: a few entries are put under a title and a heading."""
        if self.text.startswith("# "):
            return self.text
        return HEAD + (self.text if self.text.startswith("## ") else f"## Work\n\n{self.text}")


def chapters() -> dict[str, str]:
    """The chapters of the guide by file name, in order."""
    folder = files("logbook") / "guide"
    pages = sorted(page.name for page in folder.iterdir() if page.name.endswith(".md"))
    return {name: (folder / name).read_text(encoding="utf-8") for name in pages}


def examples() -> list[Example]:
    """Every example of a log in the guide."""
    return [
        Example(name, number, found[1], found[2])
        for name, text in chapters().items()
        for number, found in enumerate(FENCE.finditer(text), start=1)
        if found[1].split()[0] == "log"
    ]


def name_of(example: Example) -> str:
    """How an example is called in the output of the tests."""
    return f"{example.chapter}-{example.number}"


def read(example: Example) -> Book:
    """The example read as a book of its own."""
    return read_book({example.path: example.log})


RIGHT = [example for example in examples() if example.about != "log mistakes"]
NO_ENTRIES = ("runs/scales.md", "runs/sources.md", "runs/bench.md")
ENTRIES = [example for example in RIGHT if example.path not in NO_ENTRIES]
WRONG = [example for example in examples() if example.about == "log mistakes"]


def shown(findings: tuple[Finding, ...]) -> list[str]:
    """Findings as words, for a failing test."""
    return [f"{f.span.line}: {f.headline} »{f.span.text}«" for f in findings]


@pytest.mark.parametrize("example", RIGHT, ids=name_of)
def test_examples_are_read_without_a_finding(example: Example) -> None:
    """What the guide shows as right is right."""
    assert shown(read(example).findings) == []


@pytest.mark.parametrize("example", ENTRIES, ids=name_of)
def test_every_item_of_an_example_is_an_entry(example: Example) -> None:
    """No list item of an example is quietly taken for prose."""
    book = read(example)
    pages = [page for page in (book.supplies, book.prices) if page is not None]
    entries = [e for run in book.runs for e in run.entries] + [e for p in pages for e in p.entries]
    items = re.findall(r"^- ", example.log, re.MULTILINE)
    assert len(entries) == len(items)


@pytest.mark.parametrize("example", WRONG, ids=name_of)
def test_every_item_with_a_mistake_is_found(example: Example) -> None:
    """Where the guide shows mistakes, every list item of the example has a finding."""
    lines = {finding.span.line for finding in read(example).findings}
    for number, line in enumerate(example.log.splitlines(), start=1):
        if line.startswith("- "):
            assert number in lines, line


def test_there_are_examples_of_both_kinds() -> None:
    """The lists above are not empty by an accident of the pattern."""
    assert len(RIGHT) >= 12
    assert WRONG


def listed() -> dict[str, str]:
    """The actions that the guide lists: past form and plain form."""
    text = chapters()["20-words.md"]
    alone = dict.fromkeys(re.findall(r"^- `(\w+)`:", text, re.MULTILINE), "")
    return alone | dict(re.findall(r"`(\w+)` \(`(\w+)`\)", text))


def test_the_guide_lists_every_action_and_no_other() -> None:
    """The words that start an entry are the actions of actions.toml."""
    assert listed().keys() == actions().keys()


@pytest.mark.parametrize("action", actions().values(), ids=lambda action: str(action.name))
def test_the_guide_gives_the_plain_form(action: Action) -> None:
    """The plain form in the guide is one that the reader takes, or both give none."""
    assert listed()[action.name] in (action.plain or ("",))


def test_the_guide_lists_every_kind_of_stage() -> None:
    """The kinds in the guide are those of stages.toml."""
    rows = re.findall(r"^- \*\*[\w ]+\*\*: (.+)$", chapters()["50-stages.md"], re.MULTILINE)
    kinds = {kind for row in rows for kind in row.split(", ")}
    assert kinds == set(stage_kinds())


def test_the_first_chapter_is_about_safety() -> None:
    """Safety is read first, and says that a missing caution means nothing."""
    first = next(iter(chapters().values()))
    assert first.startswith("# Safety first")
    assert "no caution is shown says nothing about safety" in first


def test_chapters_are_plain_commonmark() -> None:
    """Tables are no part of CommonMark: on the page they would be a row of bars."""
    for name, text in chapters().items():
        assert not re.search(r"^\|", FENCE.sub("", text), re.MULTILINE), name


def test_chapters_have_one_title_each() -> None:
    """A chapter opens with its title, and has no other of the first level."""
    for name, text in chapters().items():
        prose = FENCE.sub("", text)
        assert text.startswith("# "), name
        assert len(re.findall(r"^# ", prose, re.MULTILINE)) == 1, name
