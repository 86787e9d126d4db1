"""Tests of the knowledge of the trade: data files, marks, cautions."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any


def caution_cases() -> list[dict[str, Any]]:
    """The logs of caution_cases.toml, two for each rule or more."""
    text = (Path(__file__).parent / "caution_cases.toml").read_text(encoding="utf-8")
    cases: list[dict[str, Any]] = tomllib.loads(text)["case"]
    return cases
