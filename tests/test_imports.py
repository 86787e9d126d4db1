"""Who may know whom: the levels of the flow, and one owner for each library."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.conftest import ROOT

PACKAGE = ROOT / "logbook"

# Each step imports only what stands on an earlier line, or in its own folder.
LEVELS = (
    {"", "record", "shown_text", "collector"},
    {"source"},
    {"findings"},
    {"model"},
    {"reference", "commonmark"},
    {"units"},
    {"chemistry"},
    {"reading", "calculation"},
    {"pages"},
    {"writing"},
    {"proof", "begin", "progress", "edition"},
    {"build", "ask"},
    {"tend"},
    {"command"},
    {"__main__"},
)
OWNERS = {
    "markdown_it": {"commonmark.py", "reading/blocks.py"},  # the blocks come as its tokens
    "pint": {"units.py"},
    "pandas": {"calculation/trends.py"},
    "jinja2": {"writing/templates.py"},
    "markupsafe": {"writing/templates.py"},
    "watchdog": {"tend.py"},
    "PIL": {"writing/photos.py"},
    "rich": {"progress.py"},
    "plotly": set(),  # its script is copied; the package itself is never loaded
    "scipy": {
        *(f"calculation/network/{name}.py" for name in ("limits", "parity")),
        "calculation/across/intervals.py",  # quantiles of Student's distribution
    },
    "numpy": {
        "model/errors.py",  # only where a figure rests on very many readings
        *(f"calculation/network/{name}.py" for name in ("coupled", "known", "limits", "parity")),
        "calculation/network/separations.py",
    },
}
DISK_AND_CLOCK = {"os", "io", "shutil", "tempfile", "time", "socket", "subprocess", "threading"}
PURE = ("model", "chemistry", "reading", "calculation", "pages")

Import = tuple[str, str, int]  # file, what it imports, line


def imports() -> Iterator[Import]:
    """Every import of the package, in whatever place it stands."""
    for file in sorted(PACKAGE.rglob("*.py")):
        name = file.relative_to(PACKAGE).as_posix()
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                yield from ((name, alias.name, node.lineno) for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                assert node.level == 0, f"{name}:{node.lineno} imports by dots"
                yield name, str(node.module), node.lineno


def room_of(dotted: str) -> str:
    """The room of a module: the first name below the package."""
    return [*dotted.split("."), ""][1]


def level_of(room: str) -> int:
    """The level on which a room stands."""
    found = [level for level, rooms in enumerate(LEVELS) if room in rooms]
    assert len(found) == 1, f"{room} has no level"
    return found[0]


def test_each_step_imports_only_earlier_ones() -> None:
    """No module imports from a later step, nor from another room of its own step."""
    wrong = []
    for name, target, line in imports():
        if target.partition(".")[0] != "logbook":
            continue
        here = Path(name).parts[0].removesuffix(".py")
        here = "" if here == "__init__" else here
        there = room_of(target)
        later = level_of(there) > level_of(here)
        beside = level_of(there) == level_of(here) and there != here
        if later or beside:
            wrong.append(f"{name}:{line} imports {target}")
    assert wrong == []


def test_reading_and_calculation_do_not_know_each_other() -> None:
    """They meet in the records of the model alone."""
    for name, target, line in imports():
        rooms = {Path(name).parts[0], room_of(target)} if target.startswith("logbook") else set()
        assert not {"reading", "calculation"} <= rooms, f"{name}:{line} imports {target}"


@pytest.mark.parametrize("library", OWNERS)
def test_each_library_has_one_owner(library: str) -> None:
    """A library is imported by its owner, and by nobody else."""
    users = {name for name, target, _ in imports() if target.partition(".")[0] == library}
    assert users <= OWNERS[library]


def test_the_pure_steps_touch_neither_disk_nor_clock() -> None:
    """Reading, calculation and pages import nothing that could."""
    wrong = [
        f"{name}:{line} imports {target}"
        for name, target, line in imports()
        if name.startswith(PURE) and target.partition(".")[0] in DISK_AND_CLOCK
    ]
    assert wrong == []


def test_the_pure_steps_do_not_ask_for_the_day() -> None:
    """Nothing in them calls for today or now, or opens a file."""
    wrong = []
    for room in PURE:
        for file in sorted((PACKAGE / room).rglob("*.py")):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Attribute) and node.attr in {"today", "now", "utcnow"}:
                    wrong.append(f"{file.name}:{node.lineno} {node.attr}")
                if isinstance(node, ast.Call) and getattr(node.func, "id", "") in {"open", "print"}:
                    wrong.append(f"{file.name}:{node.lineno} open or print")
    assert wrong == []


def test_every_module_opens_with_what_it_is_for() -> None:
    """The first thing in a module is a paragraph on what it is for."""
    for file in sorted(PACKAGE.rglob("*.py")):
        assert ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))), file
