"""Tables as files: CSV and JSON for people and programs, and a description of them all.

The description follows Data Package v1 (specs.frictionlessdata.io), an open standard. It
names no licence: that is for the keeper of the book to say.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Sequence
from typing import Any

from logbook.pages.table import Cell, Column, Kind, Table

FOLDER = "data"
FORMULA = ("=", "+", "-", "@", "\t", "\r")  # what makes a program for tables run a cell of words


def data_files(tables: Sequence[Table], title: str) -> Iterator[tuple[str, str]]:
    """Every file of the data folder: its path in the site, and its text."""
    for table in tables:
        yield f"{FOLDER}/{table.name}.csv", csv_text(table)
        yield f"{FOLDER}/{table.name}.json", json_text(table)
    yield f"{FOLDER}/datapackage.json", package_text(tables, title)


def csv_text(table: Table) -> str:
    """A table as comma-separated values. A cell that is not known is empty.

    Words that a program for tables would take for a formula get an apostrophe before them
    (OWASP, CSV Injection). The JSON file has them as they are.
    """
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(column.name for column in table.columns)
    writer.writerows(map(_csv_cell, row) for row in table.rows)
    return written.getvalue()


def _csv_cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, str) and cell.startswith(FORMULA):
        return f"'{cell}"
    return repr(cell) if isinstance(cell, float) else str(cell)


def json_text(table: Table) -> str:
    """A table as a list of records. A cell that is not known is null."""
    names = [column.name for column in table.columns]
    return _json([dict(zip(names, row, strict=True)) for row in table.rows])


def package_text(tables: Sequence[Table], title: str) -> str:
    """What the files are and what each column means, as datapackage.json."""
    return _json(
        {
            "profile": "tabular-data-package",
            "name": "book",
            "title": title,
            "description": "The figures of a book of run logs. The JSON files beside the CSV "
            "files hold the same rows. An empty cell is not known.",
            "resources": [_resource(table) for table in tables],
        }
    )


def _resource(table: Table) -> dict[str, Any]:
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": f"{table.name}.csv",
        "description": f"A row is {table.row_is}.",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "dialect": {"lineTerminator": "\n"},
        "schema": {
            "fields": [_field(column) for column in table.columns],
            "missingValues": [""],
        },
    }


def _field(column: Column) -> dict[str, Any]:
    field = {
        "name": column.name,
        "type": column.kind.value,
        "description": column.description,
    }
    if column.kind is Kind.NUMBER and column.unit:
        field["unit"] = column.unit
    return field


def _json(content: Any) -> str:
    return json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
