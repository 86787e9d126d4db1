"""Pieces weighed in air and in water, from logs as a writer would write them."""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, DensityCheck
from logbook.pages.rounding import rounded
from logbook.reading.read_book import read_book

SILVER = """\
# A bar

Date: 14 March 2026
Metal: silver

## Melt

- took 300.0 g cement silver [C-1], silver 92.7 ± 0.5 % by assay, dry
- got 279.6 g silver bar [AG-7], silver 99.5 ± 0.3 % by density
"""
GOLD = """\
# A button

Date: 14 March 2026
Metal: gold

## Melt

- took 20.00 g rings [R-1], gold 585
"""


def figures(log: str, *more: str) -> BookFigures:
    """The figures of a book of one log, some lines being added to it."""
    return work_out(
        read_book({"runs/2026-03-14-a.md": log + "".join(f"- {one}\n" for one in more)})
    )


def check(log: str, *more: str) -> DensityCheck:
    """The only piece of the log that was weighed in water."""
    (found,) = figures(log, *more).runs["2026-03-14-a"].densities
    return found


def codes(book: BookFigures) -> list[str]:
    """What there is to say of a book."""
    return [finding.code for finding in book.findings]


def test_a_weighing_in_water_is_no_second_weighing() -> None:
    """The balance, the weight of the bar and every content stay as they were without it."""
    plain = figures(SILVER)
    under = figures(SILVER, "weighed [AG-7] 252.98 g in water at 21 C")
    again = figures(SILVER, "weighed [AG-7] 252.98 g")
    for one, other in zip(plain.things, under.things, strict=True):
        assert one.gross.value is not None
        assert other.gross.value is not None
        assert one.gross.value.value == other.gross.value.value
        assert one.gross.notes == other.gross.notes
    before, after = (book.runs["2026-03-14-a"].balances[0] for book in (plain, under))
    assert (before.closes, after.closes) == ("yes", "yes")
    assert before.product.value is not None
    assert after.product.value is not None
    assert before.product.value.value == after.product.value.value
    wrecked = again.runs["2026-03-14-a"].balances[0]
    assert wrecked.closes == "no"  # as a plain weighing it would be one


def test_density_and_fineness_of_a_bar() -> None:
    """By hand: 0.997992 − 0.0012 over 26.62, times 279.6, and 0.0012: 10.4709 g/cm3.

    10.5 × (10.4709 − 8.96) / (10.4709 × 1.54) is 0.9838, with the volume of the alloy a
    little more.
    """
    found = check(SILVER, "weighed [AG-7] 252.98 g in water at 21 C")
    assert found.density.value is not None
    assert found.density.value.value == pytest.approx(10.4709, abs=2e-4)
    (fineness,) = found.fineness
    assert fineness.value is not None
    assert fineness.value.value == pytest.approx(0.984, abs=0.002)
    assert fineness.value.u > 0.008  # tables of pure silver alone differ by 0.03 g/cm3
    assert "does not contradict" in fineness.notes[0]
    assert "never proves" in fineness.notes[-1]
    assert found.contradicts == ()
    assert rounded(found.density.value.value, found.density.value.u, "g/cm3").unit == "g/cm3"


def test_the_working_leads_to_both_weighings() -> None:
    """The density rests on the weight in air, on that in water, and on how warm it was."""
    found = check(SILVER, "weighed [AG-7] 252.98 g in water at 21 C")
    read = {span.text for span in found.density.leaves()}
    assert {"279.6 g", "252.98 g", "21 C"} <= read
    assert {"279.6 g", "252.98 g"} <= {span.text for span in found.fineness[0].leaves()}


@pytest.mark.parametrize(
    "line",
    [
        "weighed [AG-7] 252.98 g in water at 21 C",
        "weighed [AG-7] 252.98 g in 21 C water",
        "weighed in distilled water: [AG-7] 252.98 g, at 21 C",
        "weighed [AG-7], 252.98 g under water at 21 C",
    ],
)
def test_however_it_is_said(line: str) -> None:
    """Four ways of saying it are one."""
    density = check(SILVER, line).density.value
    assert density is not None
    assert density.value == pytest.approx(10.4709, abs=2e-4)


def test_a_claim_that_no_partner_allows_is_asked_about() -> None:
    """A bar of 99.5 % that is lighter than copper alone holds pores, or is none."""
    book = figures(SILVER, "weighed [AG-7] 247.00 g in water at 21 C")
    (found,) = book.runs["2026-03-14-a"].densities
    (fineness,) = found.fineness
    assert fineness.value is None
    assert "lighter than copper" in fineness.why
    assert [one.value.value for one in found.contradicts if one.value] == [pytest.approx(0.995)]
    assert codes(book) == ["fineness-contradicted"]
    assert book.findings[0].span.text == "99.5 ± 0.3 %"


def test_poor_silver_sold_as_fine_is_contradicted() -> None:
    """10.16 g/cm3 is about 800 thousandths with copper, and 99.5 % is written."""
    book = figures(SILVER, "weighed [AG-7] 252.13 g in water at 21 C")
    (found,) = book.runs["2026-03-14-a"].densities
    value = found.fineness[0].value
    assert value is not None
    assert value.value == pytest.approx(0.80, abs=0.03)
    assert "so alloyed, the density contradicts it" in found.fineness[0].notes[0]
    assert codes(book) == ["fineness-contradicted"]


def test_marked_gold_by_its_density() -> None:
    """585 with silver and copper is 13.0 to 14.3 g/cm3: 13.29 contradicts neither of them."""
    found = check(GOLD, "weighed [R-1] 18.50 g in water at 20.0 C")
    names = [one.name for one in found.fineness]
    assert names == [
        "gold in [R-1] by density, if the rest is silver",
        "gold in [R-1] by density, if the rest is copper",
        "gold in [R-1] by density, with any of the usual partners",
    ]
    both = found.fineness[-1]
    assert both.value is None
    assert (both.low or 0.0) < 0.585 < (both.high or 0.0)
    assert "does not contradict" in both.notes[0]
    assert found.contradicts == ()


def test_gilded_tungsten_is_never_called_pure() -> None:
    """A bar of 100.00 g that weighs 94.83 g is as dense as gold, and the page says what else is."""
    log = GOLD + "- got 100.00 g gold bar [AU-1], gold 99.9 %\n"
    found = check(log, "weighed [AU-1] 94.83 g in water at 20.0 C")
    assert found.density.value is not None
    assert found.density.value.value == pytest.approx(19.3, abs=0.05)
    for figure in found.fineness:
        assert any("tungsten" in note for note in figure.notes)
        assert any("never proves" in note for note in figure.notes)


def test_the_wrong_ounce_is_contradicted() -> None:
    """A bar of 10 troy ounces (311.0 g, 294.9 g in water) noted as plain ounces.

    10 oz of 28.35 g are less than what it weighs in water.
    """
    log = GOLD + "- got 283.5 g gold bar [AU-1], gold 99.9 %\n"
    found = check(log, "weighed [AU-1] 294.9 g in water at 20.0 C")
    assert found.density.value is None
    assert "weighs no less in water" in found.density.why
    right = GOLD + "- got 10.000 ozt gold bar [AU-1], gold 99.9 %\n"
    density = check(right, "weighed [AU-1] 294.9 g in water at 20.0 C").density.value
    assert density is not None
    assert density.value == pytest.approx(19.3, rel=0.01)


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("weighed [AG-7] 258.0 g in acetone at 21 C", "density of acetone is not in the tables"),
        ("weighed [AG-7] in water at 21 C", "is not written"),
        ("weighed [AG-7] 252.98 g in water at 80 C", "not in the table"),
        ("weighed [AG-7] 279.6 g in water at 21 C", "weighs no less in water"),
    ],
)
def test_what_gives_no_density(line: str, why: str) -> None:
    """Another liquid, no figure, hot water, a piece that touched the bottom."""
    found = check(SILVER, line)
    assert found.density.value is None
    assert why in found.density.why
    assert found.fineness == ()


def test_a_damp_weight_gives_no_density() -> None:
    """Water that is weighed in air with the piece is no metal."""
    log = SILVER.replace("silver bar [AG-7]", "silver bar [AG-7], damp")
    found = check(log, "weighed [AG-7] 252.98 g in water at 21 C")
    assert "weighed damp in air" in found.density.why


def test_without_a_label_it_is_asked_of_what() -> None:
    """It is no weight of the charge, and nobody knows of what it is one."""
    book = figures(SILVER, "weighed 252.98 g in water at 21 C")
    assert codes(book) == ["weighed-in-water"]
    assert book.runs["2026-03-14-a"].densities == ()
    assert book.runs["2026-03-14-a"].balances[0].closes == "yes"


def test_a_temperature_that_is_missing_is_said() -> None:
    """The water is then taken to have any temperature of a room."""
    found = check(SILVER, "weighed [AG-7] 252.98 g in water")
    assert "10 to 30 C was taken" in found.density.notes[0]
    warm = check(SILVER, "weighed [AG-7] 252.98 g in water at 21 C").density.value
    assert found.density.value is not None
    assert warm is not None
    assert found.density.value.u > warm.u


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("gold 99.5 % by assay", "gold in [AU-1], purity"),
        ("gold 99.5 %", "gold in [AU-1], purity as claimed"),
        ("gold 750", "gold in [AU-1], purity as claimed"),
        ("gold 18 kt", "gold in [AU-1], purity as claimed"),
    ],
)
def test_a_purity_without_evidence_is_shown_as_claimed(said: str, name: str) -> None:
    """A mark and a word claim; a method measures."""
    book = figures(GOLD, f"got 11.60 g gold button [AU-1], {said}")
    (purity,) = book.runs["2026-03-14-a"].purities
    assert purity.name == name


def test_filled_and_plated_feed_counts_by_hand() -> None:
    """412 g of 1/20 12 K are 10.3 g of gold; 0.5 µm on 120 cm² are 0.108 g at 18 g/cm3."""
    log = GOLD.replace("20.00 g rings [R-1], gold 585", "412 g watch cases [W-1], gold 1/20 12 kt")
    cases = next(one for one in figures(log).things if one.label == "W-1")
    assert cases.contents["gold"].value is not None
    assert cases.contents["gold"].value.value == pytest.approx(10.3)
    log = GOLD.replace("20.00 g rings [R-1], gold 585", "300 g links [X-1], gold 0.5 µm on 120 cm2")
    links = next(one for one in figures(log).things if one.label == "X-1")
    assert links.contents["gold"].value is not None
    assert links.contents["gold"].value.value == pytest.approx(0.108)
    assert any("as claimed" in note for note in links.contents["gold"].notes)


def test_plating_on_counted_pieces_is_for_each() -> None:
    """200 pins with 0.76 µm on 0.3 cm² each: by hand 200 × 0.000076 × 0.3 × 18 = 0.08208 g."""
    log = GOLD.replace(
        "20.00 g rings [R-1], gold 585", "200 pins [P-1], gold 0.76 µm on 0.3 cm2 each"
    )
    pins = next(one for one in figures(log).things if one.label == "P-1")
    assert pins.contents["gold"].value is not None
    assert pins.contents["gold"].value.value == pytest.approx(0.08208)
