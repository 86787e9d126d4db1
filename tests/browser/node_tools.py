"""Programs that judge pages and come by npm: axe-core, the Nu checker, Lighthouse, stylelint.

They are installed from package.json beside this file into a folder that FINEWEIGHT_NODE names.
Where it names none, the tests that need them are left out with the reason; where a browser is
required, a missing one is a failure.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

HOW = (
    "npm install --prefix FOLDER with tests/browser/package.json in it, then FINEWEIGHT_NODE=FOLDER"
)


def package(name: str) -> Path:
    """The folder of a package, or a test that is left out, or failed where it must run."""
    folder = os.environ.get("FINEWEIGHT_NODE", "")
    found = Path(folder, "node_modules", name)
    if folder and found.is_dir():
        return found
    return _missing(f"no {name} on this machine: {HOW}")


def program(name: str) -> str:
    """A program of the machine, such as node or java."""
    found = shutil.which(name)
    return found if found is not None else str(_missing(f"no {name} on this machine"))


def _missing(why: str) -> Path:
    if os.environ.get("FINEWEIGHT_BROWSER_REQUIRED"):
        pytest.fail(why)
    pytest.skip(why)
