"""The documents behind what fineness.toml tells, in words for a reader."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from logbook.reference import load


def documents_of_ratio(name: str = "assay") -> tuple[str, ...]:
    """Who says how much silver goes to gold before parting.

    >>> documents_of_ratio()[0].startswith("ISO 11426:2014")
    True
    """
    rows = load("fineness.toml")["inquart"]
    return _documents(row for row in rows if row["name"] == name)


def documents_of_pair(metal: str, partner: str) -> tuple[str, ...]:
    """Who says how the volumes of two metals add.

    >>> "Rose" in documents_of_pair("gold", "silver")[0]
    True
    """
    rows = load("fineness.toml")["pair"]
    return _documents(row for row in rows if {metal, partner} == set(row["metals"]))


def documents_of_plating(metal: str) -> tuple[str, ...]:
    """Who says how dense a plated layer of a metal is: gold's is not that of fine gold."""
    if metal == "gold":
        rows = load("fineness.toml")["constant"]
        return _documents(row for row in rows if row["name"] == "plated gold")
    rows = load("fineness.toml")["spread"]
    return _documents(row for row in rows if row["metal"] == metal)


def _documents(rows: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    named: Mapping[str, str] = load("fineness.toml")["sources"]
    found: dict[str, None] = {}
    for row in rows:
        keys = [row["source"]] if isinstance(row["source"], str) else row["source"]
        found |= dict.fromkeys(f"{named[key]} ({row['standing']})" for key in keys)
    return tuple(found)
