"""What tests of several rooms share: the real program, small books, and the poured demo."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

import pytest

from logbook.writing.theme_folders import GROUND, program_themes

ROOT = Path(__file__).parent.parent

CLEAN_LOG = """\
# Contacts of one relay

Date: 2026-03-14
Metal: silver

## Dissolve

- took 10.0 g silver wire [SW-1], silver 92.5 ± 0.5 %
- added 30 mL nitric acid 68 %
- got 60 mL silver nitrate solution
"""
LOG_WITH_MISTAKES = CLEAN_LOG + "- added 40 gramm copper bar\n"


@dataclass(frozen=True)
class Ran:
    """What came of running the program."""

    code: int
    out: str
    err: str


Program = Callable[..., Ran]


def environment(more: Mapping[str, str] | None = None) -> dict[str, str]:
    """The surroundings in which the program runs: those of the tests, without colour."""
    kept = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    return {**kept, "PYTHONPATH": str(ROOT), **(more or {})}


@pytest.fixture
def program(tmp_path: Path) -> Program:
    """Runs the real program in a folder and returns its exit code and what it printed."""

    def run(*words: str, cwd: Path = tmp_path, env: Mapping[str, str] | None = None) -> Ran:
        done = subprocess.run(
            [sys.executable, "-m", "logbook", *words],
            cwd=cwd,
            env=environment(env),
            capture_output=True,
            timeout=120,
            check=False,
        )
        return Ran(done.returncode, done.stdout.decode(), done.stderr.decode())

    return run


def make_book(folder: Path, files: Mapping[str, str | bytes]) -> Path:
    """A book in a folder, from texts or bytes by name within `runs`."""
    for name, content in files.items():
        file = folder / "runs" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small book without mistakes."""
    return make_book(tmp_path / "book", {"2026-03-14-contacts.md": CLEAN_LOG})


def tree(folder: Path) -> dict[str, str]:
    """Every file below a folder, with the digest of its content."""
    return {
        file.relative_to(folder).as_posix(): sha256(file.read_bytes()).hexdigest()
        for file in sorted(folder.rglob("*"))
        if file.is_file()
    }


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of the demo book, poured once for all tests."""
    from logbook.build import PourOptions, pour

    site = tmp_path_factory.mktemp("demo") / "site"
    pour(PourOptions(ROOT, site))
    return site


@pytest.fixture(scope="session", params=program_themes())
def themed_site(
    request: pytest.FixtureRequest, demo_site: Path, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """The site of the demo book in each theme that comes with the program."""
    from logbook.build import PourOptions, pour

    if request.param == GROUND:
        return demo_site
    site = tmp_path_factory.mktemp(request.param) / "site"
    pour(PourOptions(ROOT, site, theme=request.param))
    return site
