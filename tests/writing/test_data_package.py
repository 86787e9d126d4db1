"""The data folder: every promised file and column, read by other programs than ours."""

from __future__ import annotations

import csv
import json
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from logbook.build import PourOptions, pour
from tests.conftest import CLEAN_LOG, ROOT, make_book

# What users rely on, in this order. Written from the design of the data files, not from code.
PROMISED = {
    "runs": "run, date, end, title, status, page, feed_g, hours_hands_on, hours_elapsed, "
    "hours_heated, hours_carried_in, cost, cost_with_feed, cost_carried_in, cost_unallocated, "
    "hours_unallocated, worth, "
    "worth_latest, net, net_per_hour, earned_per_hour, earned_per_hour_u, "
    "earned_per_hour_without_feed",
    "balances": "run, metal, head_g, head_u_g, head_basis, product_g, product_u_g, shelf_g, "
    "waste_g, lost_g, unaccounted_g, unaccounted_u_g, recovery, recovery_u, accountability, "
    "closes, gap_group, why",
    "things": "thing, label, what, made_by, used_by, gross_g, volume_l, metal, measured_g, "
    "measured_u_g, content_g, content_u_g, adjustment_sd, low_g, high_g, standing, "
    "allocated_g, share_rule, cost_carried, hours_carried, on_shelf, cost_rule, worth, worth_low, "
    "worth_high",
    "entries": "file, line, run, stage, action, what, label, role, value, uncertainty, unit, "
    "base_value, base_unit",
    "reagents": "run, stage, reagent, strength, used, used_unit, needed_low, needed_high, "
    "excess_low, excess_high, cost",
    "supplies": "supply, strength, bought, used, left, unit, unit_cost, runs_out, runs_out_why, "
    "paid, consumed, left_cost, left_low, left_high",
    "costs": "run, kind, amount",
    "tests": "run, file, line, test, of, seen, finding",
    "waste": "container, volume_l, ph, metal, content_g, low_g, high_g, standing, last_run, gone",
    "claims": "file, line, claim, claimed, computed, agrees, why, unit, difference, slip, premises",
    "cautions": "file, line, rule, signal, text, source",
    "problems": "file, line, column, weight, message, understood, hint",
    "stages": "run, stage, kind, date, hours_hands_on, hours_elapsed, hours_heated",
    "gas": "run, stage, gas, low_l, high_l, low_g, high_g, room_ppm, air_m3, limit",
    "prices": "metal, date, price, unit",
    "sales": "run, date, label, metal, gross_g, fine_g, received, estimated, fee, difference",
    "totals": "period, metal, head_g, product_g, product_u_g, recovery, cost, hours, net, "
    "unaccounted_g, unaccounted_u_g, stock_g, stock_u_g, stock_low_g, stock_high_g, "
    "accountability",
    "lots": "lot, metal, head_g, head_u_g, product_g, product_u_g, shelf_g, recovery, runs",
}

BENCH = "# The relay bench\n\nCurrency: USD\nHour: $18\n"
PRICES = "# Prices\n\n- 2026-03-01 priced silver at 1.08 $/g\n"
LOG = """\
# Wire, "a" lot; 50 % off, über

Date: 2026-03-14
Metal: silver

## Dissolve, 14 March 09:20

- took 12.4 g silver wire [SW-1], silver 80 ± 1 %, for $5
- added 30 mL nitric acid 68 %
- tested salt: clear, white cloud
- worked 50 min
- got 60 mL silver nitrate solution

## Dissolve

- took 100.0 grain silver wire [SW-2]
- heated at 140 F for 1 h
- got 30 mL silver nitrate solution
- added 3 gramm salt

## Melt, 16 March

- got 9.00 g silver bar [AG-1], silver 99.0 ± 0.5 %
- reckoned recovery 91 %
"""


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data folder of a small book with a little of everything."""
    folder = tmp_path_factory.mktemp("book")
    files = {"bench.md": BENCH, "prices.md": PRICES, "2026-03-14-wire.md": LOG}
    make_book(folder, files)
    pour(PourOptions(folder, folder / "site"))
    return folder / "site" / "data"


def test_every_promised_file_is_there_and_no_other(data: Path) -> None:
    """Each table is there as CSV and as JSON, beside one description."""
    promised = {f"{name}.{ending}" for name in PROMISED for ending in ("csv", "json")}
    assert {file.name for file in data.iterdir()} == promised | {"datapackage.json"}


@pytest.mark.parametrize("name", PROMISED)
def test_every_promised_column_is_there_in_its_order(data: Path, name: str) -> None:
    """The columns come in the promised order, in every form of the table."""
    columns = PROMISED[name].split(", ")
    rows = list(csv.reader((data / f"{name}.csv").read_text(encoding="utf-8").splitlines()))
    records = json.loads((data / f"{name}.json").read_text(encoding="utf-8"))
    package = json.loads((data / "datapackage.json").read_text(encoding="utf-8"))
    resource = next(one for one in package["resources"] if one["name"] == name)
    assert rows[0] == columns
    assert all(list(record) == columns for record in records)
    assert [field["name"] for field in resource["schema"]["fields"]] == columns
    assert all(field["description"] for field in resource["schema"]["fields"])


@pytest.mark.parametrize("name", PROMISED)
def test_pandas_reads_every_table(data: Path, name: str) -> None:
    """Pandas reads CSV and JSON of a table to the same values, with empty cells as not known."""
    table = pd.read_csv(data / f"{name}.csv")
    records = json.loads((data / f"{name}.json").read_text(encoding="utf-8"))
    assert len(table) == len(records)
    for (_, row), record in zip(table.iterrows(), records, strict=True):
        for column, cell in record.items():
            assert pd.isna(row[column]) if cell is None else row[column] == cell, column


def test_another_program_finds_the_description_right(data: Path) -> None:
    """frictionless, the standard's own checker, reads every table against its description."""
    code = (
        "import sys; from frictionless import validate; report = validate(sys.argv[1]);"
        "print(report.to_summary()); sys.exit(0 if report.valid and len(report.tasks) == 18 else 1)"
    )
    command = [sys.executable, "-W", "ignore", "-c", code, "datapackage.json"]
    ran = subprocess.run(command, cwd=data, capture_output=True, timeout=120, check=False)
    assert ran.returncode == 0, (ran.stdout + ran.stderr).decode()


def test_cells_say_what_the_log_says(data: Path) -> None:
    """Some cells by hand, from the log above.

    12.4 g × 0.80 = 9.92 g; 9.00 g × 0.990 = 8.91 g; 50 min = 5/6 h; one grain is 0.06479891 g
    (NIST SP 811, appendix B.8); 140 F = 60 C; half a last digit, rectangular, is a standard
    uncertainty of one digit over the root of twelve (JCGM 100:2008, 4.3.7).
    """
    balance = pd.read_csv(data / "balances.csv").query("metal == 'silver'").iloc[0]
    assert balance["head_g"] != balance["head_g"]  # SW-2 was never assayed: not known
    assert balance["product_g"] == pytest.approx(8.91)
    things = pd.read_csv(data / "things.csv").set_index("label")
    assert things.loc["SW-1", "content_g"] == pytest.approx(9.92)
    assert things.loc["SW-1", "standing"] == "measured"
    assert things.loc["SW-2", "standing"] == "bounded"
    assert things.loc["SW-2", "gross_g"] == pytest.approx(100 * 0.06479891)
    assert bool(things.loc["AG-1", "on_shelf"]) and not bool(things.loc["SW-1", "on_shelf"])
    entries = pd.read_csv(data / "entries.csv")
    heat = entries.query("role == 'temperature'").iloc[0]
    assert (heat["value"], heat["base_value"]) == (140, pytest.approx(60))
    grain = entries.query("label == 'SW-2' and role == 'amount'").iloc[0]
    assert grain["uncertainty"] == pytest.approx(0.1 / 12**0.5)
    stages = pd.read_csv(data / "stages.csv")
    assert list(stages["stage"]) == ["Dissolve", "Dissolve (2)", "Melt"]
    assert stages.loc[0, "hours_hands_on"] == pytest.approx(5 / 6)
    assert list(pd.read_csv(data / "prices.csv").iloc[0]) == ["silver", "2026-03-01", 1.08, "USD/g"]
    assert list(pd.read_csv(data / "claims.csv")["agrees"]) == ["unknown"]
    assert pd.read_csv(data / "tests.csv").loc[0, "test"] == "salt"
    problem = pd.read_csv(data / "problems.csv").query("weight == 'error'").iloc[0]
    assert (problem["file"], problem["line"]) == ("runs/2026-03-14-wire.md", 19)


def test_nothing_is_rounded_and_days_are_days(data: Path) -> None:
    """Figures keep every digit that a program needs; days are written 2026-03-14."""
    entries = pd.read_csv(data / "entries.csv")
    minutes = entries.query("role == 'time' and unit == 'min'").iloc[0]
    assert minutes["base_value"] == 50 / 60
    assert date.fromisoformat(pd.read_csv(data / "runs.csv").loc[0, "date"]) == date(2026, 3, 14)


def test_a_unit_is_named_once(data: Path) -> None:
    """A column of figures has its unit in the description, or beside it in another column."""
    package = json.loads((data / "datapackage.json").read_text(encoding="utf-8"))
    for resource in package["resources"]:
        fields = {field["name"]: field for field in resource["schema"]["fields"]}
        for name, field in fields.items():
            if name.endswith("_g"):
                assert field["unit"] == "g"
            if name.startswith("hours"):
                assert field["unit"] == "h"
    runs = next(one for one in package["resources"] if one["name"] == "runs")
    money = next(field for field in runs["schema"]["fields"] if field["name"] == "cost")
    assert money["unit"] == "USD"


def test_no_licence_is_claimed_for_the_keeper(data: Path) -> None:
    """The description names no licence, no creation time and no author."""
    package = json.loads((data / "datapackage.json").read_text(encoding="utf-8"))
    assert package.keys() == {"profile", "name", "title", "description", "resources"}
    assert package["title"] == "The relay bench"


def test_the_line_for_pandas_in_the_guide_works(tmp_path: Path) -> None:
    """It prints what it says, from the folder of the book."""
    chapter = (ROOT / "logbook" / "guide" / "95-data-files.md").read_text(encoding="utf-8")
    (line,) = re.findall(r"^```python\n(.*?)\n```$", chapter, re.MULTILINE | re.DOTALL)
    assert "\n" not in line
    book = make_book(tmp_path / "book", {"2026-03-14-contacts.md": CLEAN_LOG})
    pour(PourOptions(book, book / "site"))
    ran = subprocess.run(
        [sys.executable, "-c", line], cwd=book, capture_output=True, text=True, check=True
    )
    assert ran.stdout.split()[:3] == ["run", "metal", "recovery"]
    assert "2026-03-14-contacts" in ran.stdout
