"""The whole site by the Nu checker, which follows the HTML Living Standard, and its styles."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest

from tests.browser.node_tools import package, program
from tests.conftest import ROOT

pytestmark = pytest.mark.browser

# Safari reads a list without markers as a list only where it says that it is one.
KNOWN = ("The “list” role is unnecessary",)


def complaints(site: Path) -> list[str]:
    """What the Nu checker says of the pages of a site."""
    jar = package("vnu-jar") / "build" / "dist" / "vnu.jar"
    words = [program("java"), "-Xss8m", "-jar", str(jar), "--format", "json", "--skip-non-html"]
    done = subprocess.run([*words, str(site)], capture_output=True, check=False, timeout=300)
    found = json.loads(done.stderr.decode() or '{"messages": []}')["messages"]
    return [
        f"{Path(one['url']).name}:{one.get('lastLine')} {one['message']} {one.get('extract', '')}"
        for one in found
        if one["type"] == "error" or one.get("subType") == "warning"
        if not one["message"].startswith(KNOWN)
    ]


def test_every_page_is_valid(themed_site: Path) -> None:
    """No error and no warning on any page."""
    assert complaints(themed_site) == []


def test_the_checker_sees_a_mistake(tmp_path: Path) -> None:
    """What the test above relies on: a broken page is told."""
    (tmp_path / "broken.html").write_text("<!doctype html><title>a</title><p><div id=a id=b>")
    assert any("Duplicate attribute" in one for one in complaints(tmp_path))


# Rules of order and of doubled selectors: the styles stand by part of the page, and print last.
NOT_OURS = {"no-descending-specificity": None, "no-duplicate-selectors": None}


def test_styles_are_linted(tmp_path: Path) -> None:
    """No style of a theme breaks another recommended rule of stylelint."""
    extends = str(package("stylelint-config-recommended") / "index.js")
    config = tmp_path / "stylelint.json"
    config.write_text(json.dumps({"extends": extends, "rules": NOT_OURS}))
    linter = package("stylelint") / "bin" / "stylelint.mjs"
    words = [program("node"), str(linter), "--config", str(config), "--formatter", "unix"]
    styles = sorted(map(str, (ROOT / "themes").rglob("*.css")))
    done = subprocess.run([*words, *styles], capture_output=True, check=False, timeout=120)
    assert (done.returncode, (done.stdout + done.stderr).decode()) == (0, "")
    assert styles
