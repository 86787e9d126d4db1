"""The content of waste.toml, read once. It judges nothing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from logbook.reference import load


@cache
def waste_data() -> Mapping[str, Any]:
    """Limits, hydroxides, charges, acidities and steps, as the file has them."""
    return load("waste.toml")
