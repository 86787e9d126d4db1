"""The program as others get it: the wheel in an environment of its own, README's commands."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

from tests.conftest import ROOT, tree
from tests.install.readme import blocks, command

NOT_COPIED = shutil.ignore_patterns(
    ".git", ".env*", ".venv*", "__pycache__", ".*_cache", ".hypothesis", ".benchmarks"
)


def _run(command: list[str], cwd: Path, home: Path) -> str:
    """Run a command with an empty HOME and without this environment; return what it printed."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    kept |= {"HOME": str(home), "NO_COLOR": "1"}
    ran = subprocess.run(
        command, cwd=cwd, env=kept, capture_output=True, text=True, timeout=900, check=False
    )
    assert ran.returncode == 0, f"{command}: {ran.returncode}\n{ran.stdout}\n{ran.stderr}"
    return ran.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    _run([sys.executable, "-m", "pip", "wheel", "--no-deps", "-w", ".", str(ROOT)], folder, folder)
    (found,) = folder.glob("fineweight-*.whl")
    return found


@pytest.mark.install
def test_the_wheel_holds_what_the_program_reads(wheel: Path) -> None:
    """Themes, data and guide are in the wheel; tests, logs and pictures of README are not."""
    with zipfile.ZipFile(wheel) as packed:
        names = set(packed.namelist())
    for folder in ("data", "guide", "themes"):
        ours = ROOT / folder if folder == "themes" else ROOT / "logbook" / folder
        files = [file for file in ours.rglob("*") if file.suffix not in {".pyc", ""}]
        assert files
        for file in files:
            assert f"logbook/{folder}/{file.relative_to(ours).as_posix()}" in names
    tops = {name.split("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"logbook"}


@pytest.mark.install
def test_the_wheel_works_far_from_the_checkout(wheel: Path, tmp_path: Path) -> None:
    """In an empty environment the wheel lays out a book, proofs it and pours it, all of it."""
    venv.create(tmp_path / "env", with_pip=True)
    home = tmp_path / "home"
    home.mkdir()
    python, program = (str(tmp_path / "env" / "bin" / name) for name in ("python", "fineweight"))
    _run([python, "-m", "pip", "install", str(wheel)], tmp_path, home)
    _run([program, "begin", "book", "mine"], tmp_path, home)
    mine = tmp_path / "mine"
    said = _run([program, "proof"], mine, home)  # the example's cautions, and then that it is read
    assert "danger (nitrogen-dioxide)" in said
    assert said.endswith("\n1 log read: nothing to point out\n")
    assert _run([program, "pour"], mine, home).startswith("poured 1 run as ")
    made = tree(mine / "site")
    chapters = len(list((ROOT / "logbook" / "guide").glob("*.md")))
    assert len([path for path in made if path.startswith("guide/")]) == chapters + 1
    for path in ("index.html", "runs/2026-01-10-example.html", "assets/plotly.min.js"):
        assert path in made


@pytest.mark.install
def test_readmes_first_command_pours_the_demo(tmp_path: Path) -> None:
    """In a clean folder with an empty HOME, the one line gives the site of the demo."""
    clone, home = tmp_path / "clone", tmp_path / "home"
    home.mkdir()
    shutil.copytree(ROOT, clone, ignore=NOT_COPIED)
    for file in (clone / "site").iterdir():
        if file.name != "README.md":
            shutil.rmtree(file) if file.is_dir() else file.unlink()
    printed = _run(["bash", "-c", command("demo")], clone, home)
    assert "poured " in printed
    assert (clone / "site" / "index.html").is_file()
    assert (clone / "site" / "README.md").is_file()


def test_readme_has_two_commands_of_one_line() -> None:
    """Set-up is two blocks of shell, each one line."""
    shell = blocks("sh")
    assert len(shell) == 2
    assert all(block.strip().count("\n") == 0 for block in shell)


def test_readmes_log_has_twelve_lines_and_proofs_clean() -> None:
    """The log that README shows is read without a problem."""
    from logbook.calculation.book_figures import whole_book_findings
    from logbook.reading.read_book import read_book

    (log,) = blocks("log")
    assert len([line for line in log.splitlines() if line.strip()]) == 12
    book = read_book({"runs/2026-03-14-watch-cases.md": log})
    assert (*book.findings, *whole_book_findings(book)) == ()


def test_readmes_pictures_are_there() -> None:
    """Every file that README points at lies in the checkout."""
    import re

    text = (ROOT / "README.md").read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)]+)\)", text):
        assert (ROOT / target).is_file(), target
