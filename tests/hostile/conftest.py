"""The hostile book, poured once for the tests of this folder."""

from __future__ import annotations

import pytest

from tests.hostile.poured import Poured, pour_hostile


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Poured:
    """The hostile book in the first theme."""
    return pour_hostile(tmp_path_factory.mktemp("hostile"))
