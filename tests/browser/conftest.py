"""A browser for the tests of this folder, or the reason why there is none."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest

from tests.browser.chromium import Chromium, find_chromium


@pytest.fixture(scope="session")
def browser() -> Iterator[Chromium]:
    """A running Chromium. Where it is required (FINEWEIGHT_BROWSER_REQUIRED), none is a failure."""
    program = find_chromium()
    if program is None:
        why = "no Chromium on this machine: these tests open the pages in one"
        if os.environ.get("FINEWEIGHT_BROWSER_REQUIRED"):
            pytest.fail(why)
        pytest.skip(why)
    with Chromium(program) as chromium:
        yield chromium
