"""A public edition: what is kept back is in no file of the site, whatever kind of file it is."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from time import perf_counter

import pytest
from PIL import Image

from logbook.build import PourOptions, pour
from logbook.edition import public_book
from logbook.model.amount import Dimension
from logbook.reading.read_book import read_book
from logbook.reading.sums_in_text import has_sum, without_sums
from tests.conftest import ROOT, Program, make_book

SUMS = (
    *("17.31", "0.3137", "1.0777", "43.21", "61.57", "71.93", "34.77", "12.43", "91.17"),
    *("277.19", "9.23", "88.41", "55.55", "3.19", "€"),
)
PRIVATE = ("SILENTWORD", "hushedlabel")
HIDDEN = (
    *("Unbekannt", "hidden-client", "HIDDENJAR", "hidden lot", "secretphoto", "77.7"),
    "Quiet Lane",
)
KEEPER = ("Keepername",)
OPEN_SIZE, HIDDEN_SIZE = (40, 30), (52, 26)  # pixels: by these a photo is known

BENCH = """\
# The bench of a test

Keeper: Keepername Vorname
Currency: EUR
Hour: 17.31 EUR
Tariff: 0.3137 EUR per kWh
Public: without keeper
Address: 12 Quiet Lane

Open on some evenings; an hour here is counted at 17.31 EUR.
"""
SUPPLIES = """\
# Supplies

The acid came from the shop by the canal, for 43.21 EUR.

- 2026-01-02 bought 2.5 L nitric acid 68 % for 43.21 EUR
- 2026-01-02 bought 3 kg copper bar for 55.55 EUR each
- 2026-01-03 spent 3.19 EUR on gloves
- private: SILENTWORD paid in cash
"""
HIDDEN_RUN = """\
# Medallions of Frau Unbekannt

Date: 2026-01-05
Metal: silver
Public: no

A hidden lot.

![the medals](secretphoto.jpg)

## Dissolve

- took 77.7 g medallions [HIDDENJAR], silver 80 %
- kept 2 filters [F-1], silver 1.5 ± 0.2 g
- got 60 g silver bar [AG-1], silver 99 %
"""
OPEN_RUN = """\
# Contacts

Date: 2026-01-10
Metal: silver
Continues: 2026-01-05-hidden-client
Client: after Medallions of Frau Unbekannt

He asked 71.93 EUR, and € 61.57 was what he got. It followed Medallions of Frau Unbekannt.

## Dissolve, 09:00

- took 100 g contacts [C-1], silver 70 ± 1 %, for 61.57 EUR, on the bench scale
- took [F-1]
- added 200 mL nitric acid 68 %
- added 5 g salt, would cost 3.19 EUR
- worked 1 h
- spent 34.77 EUR on gas
- broke a crucible, 12.43 EUR
- private: SILENTWORD the neighbour complained
- kept 1 filter [hushedlabel-9] (private: behind the door)

![a filter](photo.jpg)

## Melt

- got 68 g silver bar [AG-2], silver 99 ± 0.5 % by density
- reckoned net 91.17 EUR
- reckoned worth 88.41 EUR of [AG-2] at 1.0777 EUR per g
- reckoned recovery 96 %
- ask what did an hour earn
- sold [AG-2] for 277.19 EUR (fee 9.23 EUR)
"""


def picture(size: tuple[int, int]) -> bytes:
    """A small picture with a secret among what a camera writes into it."""
    content = BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "SILENTWORD"
    Image.new("RGB", size, "grey").save(content, "JPEG", exif=exif)
    return content.getvalue()


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with something of every kind that must not get out."""
    return make_book(
        tmp_path / "book",
        {
            "bench.md": BENCH,
            "supplies.md": SUPPLIES,
            "prices.md": "# Prices\n\n- 2026-01-09 priced silver at 1.0777 EUR/g\n",
            "2026-01-05-hidden-client.md": HIDDEN_RUN,
            "2026-01-10-contacts.md": OPEN_RUN,
            "photo.jpg": picture(OPEN_SIZE),
            "secretphoto.jpg": picture(HIDDEN_SIZE),
        },
    )


# What stands in names of figures, heads of tables, notes and the ways between pages.
SAID_BY_THE_PROGRAM = re.compile(
    r'<(?:dt|th|caption|summary|figcaption|nav|p class="(?:qualified|note|evidence)")[^>]*>([^<]+)'
)
OF_MONEY = re.compile(r"\b(?:worth|costs?|prices?|net|earn(?:s|ed)|money|fees?)\b", re.I)


def found(site: Path, words: tuple[str, ...], *, guide: bool = False) -> list[str]:
    """Where any of some words stands: in the name of a file, or among its bytes."""
    told = []
    for file in sorted(site.rglob("*")):
        path = file.relative_to(site).as_posix()
        if not file.is_file() or (path.startswith("guide/") and not guide):
            continue
        if path.startswith("assets/"):  # the program's own, the same for every book
            continue
        content = file.read_bytes()
        told += [
            f"{word} in {path}"
            for word in words
            if word.lower() in path.lower() or word.lower().encode() in content.lower()
        ]
    return told


def test_nothing_that_is_kept_back_is_in_any_file(book: Path, tmp_path: Path) -> None:
    """Money, the keeper, a log that is not public and private notes, in names and bytes."""
    site = tmp_path / "site"
    pour(PourOptions(book, site, public=True))
    assert found(site, (*PRIVATE, *HIDDEN, *KEEPER), guide=True) == []
    assert found(site, SUMS) == []
    shown = [file for file in site.rglob("*.*") if "guide" not in file.parts]
    assert not [file.name for file in shown if b" EUR" in file.read_bytes()]


def test_the_words_of_this_test_are_found_where_nothing_is_kept_back(
    book: Path, tmp_path: Path
) -> None:
    """What the test above relies on: in the whole book each of them is somewhere."""
    site = tmp_path / "site"
    pour(PourOptions(book, site, with_private=True))
    for word in (*(word for word in SUMS if word != "€"), *HIDDEN, *KEEPER, "SILENTWORD"):
        assert found(site, (word,)) != [] or word == "secretphoto", word


def test_private_notes_are_out_of_the_usual_edition(book: Path, tmp_path: Path) -> None:
    """They need no word of the keeper to be left out."""
    site = tmp_path / "site"
    pour(PourOptions(book, site))
    assert found(site, PRIVATE) == []


def photos(site: Path) -> set[tuple[int, int]]:
    """The sizes of the photos of a site, none of which has anything but pixels in it."""
    sizes = set()
    for file in sorted((site / "pictures").iterdir()):
        with Image.open(file) as image:
            assert not image.getexif(), file.name
            sizes.add(image.size)
    return sizes


def test_photos_of_a_log_that_is_not_public_are_left_out(book: Path, tmp_path: Path) -> None:
    """Under any name: the photo is known by its size, and the whole book has both."""
    pour(PourOptions(book, tmp_path / "whole"))
    pour(PourOptions(book, tmp_path / "public", public=True))
    assert photos(tmp_path / "whole") == {OPEN_SIZE, HIDDEN_SIZE}
    assert photos(tmp_path / "public") == {OPEN_SIZE}


def test_what_is_public_is_still_all_there(book: Path, tmp_path: Path) -> None:
    """The metal, the hours and the cautions of the open run, and what the edition leaves out."""
    site = tmp_path / "site"
    report = pour(PourOptions(book, site, public=True))
    page = (site / "runs" / "2026-01-10-contacts.html").read_text("utf-8")
    assert report.runs == 1
    for words in ("100 g contacts", "silver 70 ± 1 %", "on the bench scale", "nitrogen dioxide"):
        assert words in page
    for words in ("(a sum left out)", "money, who keeps it and 1 run are left out"):
        assert words in page
    assert not (site / "money.html").exists()
    assert not (site / "prices.html").exists()
    assert "sold" in page


def test_what_came_from_a_log_that_is_not_public_is_no_mistake(book: Path, tmp_path: Path) -> None:
    """The label of a filter that the hidden run kept is not called unknown."""
    site = tmp_path / "site"
    pour(PourOptions(book, site, public=True))
    problems = json.loads((site / "data" / "problems.json").read_text("utf-8"))
    assert [row for row in problems if row["message"].startswith("[F-1]")] == []


def test_the_data_hold_no_column_of_money(book: Path, tmp_path: Path) -> None:
    """Nor a table of it, and the description of the data agrees with what is there."""
    site = tmp_path / "site"
    pour(PourOptions(book, site, public=True))
    package = json.loads((site / "data" / "datapackage.json").read_text("utf-8"))
    resources = {one["name"]: one for one in package["resources"]}
    assert not {"costs", "prices"} & resources.keys()
    names = {field["name"] for one in resources.values() for field in one["schema"]["fields"]}
    assert not {"cost", "worth", "net", "net_per_hour", "received", "cost_with_feed"} & names
    for one in resources.values():
        path = site / "data" / one["path"]
        head = path.read_text("utf-8").splitlines()[0]
        assert head.split(",") == [field["name"] for field in one["schema"]["fields"]]


def test_no_figure_of_the_public_demo_is_about_money(tmp_path: Path) -> None:
    """No row, heading or note that the program adds speaks of worth, costs or prices.

    A figure of money that had no sums to work from would say 0, or why it is not known.
    """
    site = tmp_path / "site"
    pour(PourOptions(ROOT, site, public=True))
    pages = [file for file in site.rglob("*.html") if "guide" not in file.parts]
    told = [
        f"{words} in {file.name}"
        for file in pages
        for words in SAID_BY_THE_PROGRAM.findall(file.read_text("utf-8"))
        if OF_MONEY.search(words)
    ]
    assert told == []
    assert not [file.name for file in pages if "\u00a4" in file.read_text("utf-8")]


@pytest.mark.parametrize(
    ("said", "money", "keeper"),
    [
        ("", False, True),
        ("Public: all", True, True),
        ("Public: with money, without keeper", True, False),
        ("Public: no money and no keeper", False, False),
        ("Public: yes", True, True),
        ("Public: perhaps", False, True),
    ],
)
def test_the_keeper_says_what_is_public(said: str, money: bool, keeper: bool) -> None:
    """Money stays out unless it is let in: a price that was published cannot be taken back."""
    texts = {
        "runs/bench.md": f"# Bench\n\nKeeper: Somebody\nCurrency: EUR\nHour: 17 EUR\n{said}\n",
        "runs/2026-01-10-a.md": "# A\n\nMetal: silver\n\n- took 12 g wire for 30 EUR\n",
    }
    public = public_book(read_book(texts), texts)
    (entry,) = public.runs[0].entries
    assert (entry.price is not None, bool(public.bench.keeper)) == (money, keeper)
    assert (public.bench.hour is not None) is money
    assert public.edition.money is money


def test_what_stands_on_two_lines_is_cut_out_as_well() -> None:
    """A sum, and the title of a hidden log, that a writer's editor has wrapped."""
    text = "# A\n\nHe paid 71\nEUR after the Grey\nLady came.\n\n- took 12 g wire for 30\n  EUR\n"
    texts = {
        "runs/2026-01-10-a.md": text,
        "runs/2026-01-09-b.md": "# The Grey Lady\n\nNothing yet.\n\nPublic: no\n",
        "runs/2026-01-08-c.md": "# Grey Lady\n\nPublic: not yet\n",
    }
    public = public_book(read_book(texts), texts)
    (run,) = public.runs
    assert not has_sum(run.source.text)
    assert "71" not in run.source.text
    assert "Lady" not in run.source.text
    assert run.entries[0].price is None
    assert run.source.text.count("\n") == text.count("\n")


def test_lines_keep_their_numbers() -> None:
    """What is said of a line in a public edition is said of the same line of the log."""
    texts = {
        "runs/2026-01-10-a.md": "# A\n\n- spent 3 EUR on gas\n- private: no\n- took 12 g wire\n"
    }
    public = public_book(read_book(texts), texts)
    (entry,) = public.runs[0].entries
    assert (entry.line, entry.span.text) == (5, "took 12 g wire")


def test_the_public_demo_has_no_sum_in_any_entry() -> None:
    """Every entry of the demo read again: no amount is money, but a gift that cost nothing."""
    folder = ROOT / "runs"
    texts = {
        f"runs/{file.relative_to(folder).as_posix()}": file.read_text("utf-8")
        for file in sorted(folder.rglob("*.md"))
    }
    book = read_book(texts)
    public = public_book(book, texts)
    told = [entry for run in public.runs for entry in run.entries]
    told += list(public.supplies.entries) if public.supplies is not None else []
    for entry in told:
        assert entry.price is None or entry.price.amount.value == 0, entry.span.text
        assert entry.fee is None
        assert entry.per is None
        assert entry.claim is None or entry.claim.amount.dimension is not Dimension.MONEY
    assert public.prices is None
    before = [entry for run in book.runs for entry in run.entries]
    assert len(told) > len(before) * 0.9, "more was cut than money"
    assert replace(public, edition=book.edition) != book


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("- bought 2 L acid for $42", "- bought 2 L acid"),
        ("- bought 3 jars of acid, 12 EUR each, in town", "- bought 3 jars of acid, in town"),
        ("- took 5 g wire, worth about 20-25 dollars, damp", "- took 5 g wire, damp"),
        ("- took 5 g wire, would cost € 20 ± 2, damp", "- took 5 g wire, damp"),
        ("- sold [A] for 1,250.50 USD (fee $12)", "- sold [A]"),
        ("- broke a dish, 9 euros", "- broke a dish"),
        ("- took 412.6 g wire [RC-3], silver 71 %", "- took 412.6 g wire [RC-3], silver 71 %"),
        ("- heated at 70 C for 2 h 30 min", "- heated at 70 C for 2 h 30 min"),
    ],
)  # fmt: skip
def test_a_sum_is_cut_out_with_the_word_that_leads_to_it(line: str, left: str) -> None:
    """And nothing else of the entry is."""
    assert without_sums(line, entry=True) == left
    assert not has_sum(left)


@pytest.mark.parametrize(
    "sum_of_money",
    [
        *("US$ 40", "40,- EUR", "CHF 30.-", "12.50€", "1 200 EUR", "1\u00a0200,50 EUR", "$1.2k"),
        *("20-odd euros", "1'200.50 CHF", "EUR 3,5", "20 to 25 dollars"),
    ],
)
def test_sums_are_found_however_they_are_written(sum_of_money: str) -> None:
    """No digit of one is left, wherever in a sentence it stands."""
    left = without_sums(f"He gave {sum_of_money} for it, at last.", entry=False)
    assert left == "He gave (a sum left out) for it, at last."


def test_a_line_of_digits_is_looked_through_in_time() -> None:
    """Two hundred thousand signs that only look like a number stay as they are, within seconds."""
    long = "1," * 100_000
    start = perf_counter()
    assert without_sums(long, entry=True) == long
    assert perf_counter() - start < 20


def test_both_editions_at_once_are_refused(book: Path, program: Program) -> None:
    """One leaves private notes out and the other shows them: nothing is written."""
    ran = program("pour", "--public", "--with-private", cwd=book)
    assert ran.code == 2
    assert "choose one of the two" in ran.err
    assert not (book / "site").exists()
