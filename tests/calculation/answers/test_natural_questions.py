"""Questions as people put them: what is asked is answered, and nothing is answered instead."""

from __future__ import annotations

import pytest

from logbook.calculation.answers.known import Known
from tests.calculation.answers.asked import NO_BOOK, ask, between, known, limits, words

SUPPLIES = """\
# Supplies

- 2026-01-01 bought 1 L nitric acid 68 % for 24 EUR
- 2026-01-01 bought 500 g sodium metabisulfite for 12 EUR
"""
LOG = """\
# Fingers in acid and peroxide

Date: 2026-02-07
Metal: gold

## Drop

- took 100.0 g fingers [FI-1], gold 1.0 ± 0.1 %
- added 40 g SMB
- got 0.95 g gold [AU-2], gold 98 ± 1 %

## Store the acid

- poured off 0.5 L spent acid as [W-2]
"""


def book() -> Known:
    """A run, its supplies, and no plan."""
    return known({"supplies.md": SUPPLIES, "2026-02-07-fingers.md": LOG})


def notes(text: str, where: Known = NO_BOOK) -> str:
    """The notes of an answer, together."""
    return " ".join(ask(text, where).notes)


@pytest.mark.parametrize(
    "text",
    [
        "silver to inquart 10 g of 18k with sterling",
        "sterling to inquart 10 g of 18k",
    ],
)
def test_an_alloy_is_divided_by_its_silver(text: str) -> None:
    """7.5 g of gold take 17.25 to 22.5 g of silver: 18.65 to 24.32 g at 92.5 % (by hand)."""
    low, high = between(text)
    assert low == pytest.approx(17.25 / 0.925)
    assert high == pytest.approx(22.5 / 0.925)
    assert "would take ... of sterling." in words(ask(text))
    assert "is to be added" not in words(ask(text))


def test_silver_of_a_stated_fineness_is_divided_too() -> None:
    """22.5 g at 80 % are 28.125 g (by hand)."""
    low, high = between("silver 80 % to inquart 10 g of 18k at 3:1")
    assert low == high == pytest.approx(28.125)


@pytest.mark.parametrize("what", ["copper", "14k gold"])
def test_what_is_no_silver_does_not_inquart(what: str) -> None:
    """What copper does is another rule, and gold does the contrary."""
    assert not ask(f"{what} to inquart 10 g of 18k").answered
    assert not ask(f"silver to inquart 10 g of 18k with {what}").answered


def test_a_weight_in_a_question_is_exact() -> None:
    """5 g x 0.99 x 85 = 420.75 (by hand), without doubt."""
    answer = ask("worth of 5 g gold 99% at $85/g")
    (worth,) = answer.figures
    assert worth.unit == "USD"
    assert worth.value is not None
    assert worth.value.value == pytest.approx(420.75)
    assert worth.value.u == 0.0


@pytest.mark.parametrize("text", ["worth of 10 g gold at 3 $/L", "worth of 10 g gold at $85"])
def test_a_price_of_something_else_is_no_price(text: str) -> None:
    """A price by the litre, or of nothing, prices no gold."""
    assert not ask(text).answered


def test_the_water_of_a_question_counts() -> None:
    """35.9 g in 100 g of water (CRC, from memory): half a litre, 499 g at 20 C, 179 g of salt."""
    low, high = between("solubility of salt in 500 mL water at 20 C")
    assert low <= 179.1 <= high
    assert high < 1.07 * low
    assert ask("solubility of salt in 500 mL water").missing == (
        "at which temperature: for example at 20 C",
    )


def test_crystals_count_as_they_are_sold() -> None:
    """A handbook gives 320 g of blue crystals to a litre of water at 20 C (from memory)."""
    low, high = between("saturation of copper sulfate in 1 L water at 20 C")
    assert low <= 320.0 <= high


@pytest.mark.parametrize(
    "text",
    [
        "how much nitric acid 68% is left over after dissolving 10 g silver in 30 mL",
        "how much nitric acid 68 % remains after dissolving 10 g silver",
        "nitric acid 68 % to dissolve 10 g silver, and store overnight",
        "what does nitric acid 68 % to dissolve 10 g silver cost",
        "how long does nitric acid 68 % take to dissolve 10 g silver",
        "dilute 500 mL nitric acid 68 % to 35 % and store it",
    ],
)
def test_another_question_is_not_answered_instead(text: str) -> None:
    """Words that turn a question are never passed over."""
    answer = ask(text)
    assert not answer.answered
    assert "was not understood" in answer.missing[0]


@pytest.mark.parametrize(
    ("text", "unread"),
    [
        ("nitric acid 68 % to dissolve 10 g silver in 30 mL", "30 mL"),
        ("salt to drop 80 g silver in 2 L water", "2 L"),
        ("fineness of gold and copper from 12.34 g in air and 11.52 g in water, 5 mL urea", "urea"),
    ],
)
def test_what_was_not_used_is_said(text: str, unread: str) -> None:
    """An amount or a reagent that became nothing stands in a note."""
    assert f'"{unread}" was not understood, and is not counted' in notes(text)


@pytest.mark.parametrize(
    "text",
    [
        "nitric acid 68 % to dissolve 100 g silver",
        "copper to cement 100 g silver",
        "gas from 100 g copper in nitric acid 68 %, in a room of 30 m3",
        "silver to inquart 10 g of 14 kt gold, holding 1 g silver",
        "mix 200 mL nitric acid 68 % and 300 mL nitric acid 30 %",
        "saturation of 250 g copper sulfate in 1 L water at 20 C",
    ],
)
def test_what_was_used_is_not_complained_of(text: str) -> None:
    """Every word of these counts."""
    assert "was not understood" not in notes(text)


@pytest.mark.parametrize(
    ("text", "least", "most"),
    [
        # M(NaOH)/M(HNO3) = 39.997/63.012; a litre of 68 % holds 952 to 956 g (CRC: 1.4048 g/mL)
        ("how much lye for 1 L nitric acid 68 %", 604.0, 608.0),
        # 278.01 x 3 / 196.97 = 4.234 g of FeSO4.7H2O a gram, 169.92 x 3 / 196.97 with one water
        ("copperas for 8 g gold", 20.70, 33.88),
        # 2 x 116.12 / 106.42 = 2.182 g a gram
        ("dimethylglyoxime for 2 g palladium", 4.364, 4.366),
        # 3 x 126.04 / (2 x 196.97) = 0.9599 g a gram, without water
        ("sodium sulfite for 10 g gold", 9.598, 19.21),
        # 100 / 143.32 mol AgCl x 39.997 x 1.5; a half less where nothing else takes base
        ("sodium hydroxide to convert 100 g silver chloride", 27.90, 41.87),
        # 100 / 143.32 / 2 x 65.38
        ("zinc to convert 100 g silver chloride", 22.80, 22.82),
        ("zinc for 100 g silver chloride", 22.80, 22.82),
    ],
)
def test_what_for_what_needs_no_verb(text: str, least: float, most: float) -> None:
    """By hand, from the balanced equations and atomic weights."""
    low, high = between(text)
    assert low == pytest.approx(least, rel=2e-3)
    assert high == pytest.approx(most, rel=6e-3)


def test_battery_acid_is_neutralised() -> None:
    """At 35 % it holds 441 g/L (CRC): 105.99 / 98.08 of that are 477 g of dry soda."""
    low, high = between("soda ash for 1 L battery acid")
    assert low < 477.0 < high


def test_one_pound_is_one() -> None:
    """453.59 g of copper are 4.5359 times what 100 g are."""
    pound = between("nitric acid 68 % to dissolve one pound of copper")
    hundred = between("nitric acid 68 % to dissolve 100 g copper")
    assert pound == pytest.approx([4.5359237 * one for one in hundred])
    assert "one pound of copper" in words(ask("nitric acid 68 % for one pound of copper"))


def test_a_room_has_sides() -> None:
    """12 x 20 x 8 ft are 1920 cubic feet of 28.3168 L, 54.37 m3 (by hand)."""
    text = "gas from 100 g copper in nitric acid 68 %, in a room of {}"
    sides, volume = (ask(text.format(room)) for room in ("12 x 20 x 8 ft", "54.37 m3"))
    parts = [figure for figure in sides.figures if figure.unit == "ppm"]
    others = [figure for figure in volume.figures if figure.unit == "ppm"]
    assert parts and len(parts) == len(others)
    for one, other in zip(parts, others, strict=True):
        assert limits(one)[1] == pytest.approx(limits(other)[1], rel=1e-3)


@pytest.mark.parametrize(
    "text",
    [
        "can I store aqua regia?",
        "can I pour the waste down the drain?",
        "may I leave it overnight",
        "is it safe to boil nitric acid?",
        "is aqua regia safe to keep in a closed bottle",
        "could we mix 200 mL nitric acid 68 % and 300 mL nitric acid 30 %",
        "am I allowed to dissolve 100 g silver in nitric acid 68 %",
        "where can I pour off 1 L nitric acid 68 %",
        "can I dissolve 10 g silver in 30 mL nitric acid 68 %",
        "nitric acid 68 % to dissolve 10 g silver, is that safe?",
        "is it fine to boil aqua regia",
        "can it stay in the bottle",
    ],
)
def test_no_leave_is_given(text: str) -> None:
    """Never a yes, whatever else could be read of it; what is known against it is told."""
    answer = ask(text)
    assert not answer.answered
    assert answer.wrong or "gives no leave" in answer.missing[0]


def test_what_is_known_against_it_is_told() -> None:
    """Aqua regia, the drain and hot acid have their cautions."""
    for text, rule in (
        ("can I store aqua regia?", "aqua-regia"),
        ("can I pour the waste down the drain?", "into-the-drain"),
        ("is it safe to boil nitric acid?", "hot-acid"),
    ):
        assert rule in {one.rule for one in ask(text).cautions}


@pytest.mark.parametrize(
    ("text", "place", "expected"),
    [
        # CRC: 32 % is 1.1594 g/mL, 371 g/L, 10.17 mol/L
        ("molarity of hydrochloric acid 32 %", 0, 10.17),
        # CRC: 37 % is 12.0 mol/L
        ("how many % is 12 M hydrochloric acid", 0, 0.370),
        # 60.7 g/L (20 x 68 / 22.4), at 1.02 g/mL 5.95 %
        ("what per cent is 20 vol peroxide", 0, 0.0595),
        ("how many grams per litre is 20 vol peroxide", 0, 60.7),
        # 145 / (145 - 42) = 1.4078 at 60 F; tables of the trade: 42 Bé is 67.2 %
        ("what is 42 Be nitric acid in per cent", 0, 0.672),
    ],
)
def test_a_strength_is_told_otherwise(text: str, place: int, expected: float) -> None:
    """By tables and definitions named beside each."""
    low, high = between(text, place)
    assert low * 0.999 <= expected <= high * 1.001


def test_acids_by_parts() -> None:
    """3:1 of a litre are 750 and 250 mL; 371 g/L and 955 g/L (CRC) make 278 and 239 g."""
    text = "1 L aqua regia 3:1 from hydrochloric acid 32 % and nitric acid 68 %"
    answer = ask(text)
    found = [limits(figure) for figure in answer.figures]
    for (low, high), expected in zip(found, (0.75, 278.3, 0.25, 238.8), strict=True):
        assert low * 0.998 <= expected <= high * 1.002
    assert "aqua-regia" in {one.rule for one in answer.cautions}


def test_acids_by_parts_in_words() -> None:
    """Each number counts the acid behind it, in whatever order."""
    text = "1 L of {} part{} {} to {} part{} {}"
    strong, weak = ("3", "s", "hydrochloric acid 32 %"), ("1", "", "nitric acid 68 %")
    for one, other in ((strong, weak), (weak, strong)):
        answer = ask(text.format(*one, *other))
        assert answer.answered, answer.missing
        litres = {figure.name: limits(figure)[0] for figure in answer.figures[::2]}
        assert litres == {"hydrochloric acid 32 %": 0.75, "nitric acid 68 %": 0.25}


def test_what_remains_may_be_destroyed() -> None:
    """A remaining acid is an acid like any other."""
    rest = between("sulfamic acid to destroy the remaining 5 mL nitric acid 68 %")
    assert rest == between("sulfamic acid to destroy 5 mL nitric acid 68 %")


@pytest.mark.parametrize(
    "text",
    [
        "1 L aqua regia 1:3 from hydrochloric acid 32 % and nitric acid 68 %",
        "1 L aqua regia 3:1 from nitric acid 68 % and hydrochloric acid 32 %",
        "aqua regia 3:1",
        "1 L 3:1 from bleach and hydrochloric acid 32 %",
    ],
)
def test_parts_that_are_not_clear_are_not_measured_out(text: str) -> None:
    """Which acid has how many parts, how much in all, and two acids: or no answer."""
    assert not ask(text).answered


def test_a_supply_that_is_left() -> None:
    """500 g bought less 40 g used (by hand)."""
    for text in ("how much SMB is left", "how much SMB is in stock?", "is there enough SMB?"):
        answer = ask(text, book())
        assert between_of(answer.figures[0]) == pytest.approx(460.0)
        assert "of sodium metabisulfite" in words(answer)
    assert "whether that is enough is not told" in notes("is there enough SMB?", book())
    assert not ask("how much SMB is left").answered
    assert not ask("how much zinc powder is left", book()).answered


def between_of(figure: object) -> float:
    """The middle of the limits of a figure."""
    low, high = limits(figure)  # type: ignore[arg-type]
    return (low + high) / 2


def test_a_label_wins_over_a_mark() -> None:
    """What is called GF is asked about by its label: 100.0 g with 1.0 % of gold hold 1 g."""
    log = "# A lot\n\nDate: 2026-02-07\nMetal: gold\n\n- got 100.0 g fingers [GF-1], gold 1.0 %\n"
    answer = ask("how much gold in [GF-1]", known({"2026-02-07-lot.md": log}))
    assert between_of(answer.figures[0]) == pytest.approx(1.0)


def test_the_fineness_of_a_label() -> None:
    """As it is written, 98 ± 1 %."""
    answer = ask("fineness of [AU-2]", book())
    assert between_of(answer.figures[0]) == pytest.approx(0.98)
    assert not ask("fineness by density of [AU-2]", book()).answered
    assert not ask("fineness of [ZZ-9]", book()).answered


def test_the_fineness_of_a_label_by_density() -> None:
    """12.00 g in air, 11.17 g in water: 14.4 g/cm3; with copper that is what the weighings give."""
    log = """\
# A ring

Date: 2026-02-07
Metal: gold

## Weigh

- took 12.00 g ring [AG-1], gold 58.5 ± 1 %
- weighed [AG-1] in water: 11.17 g
"""
    where = known({"2026-02-07-ring.md": log})
    answer = ask("fineness by density of [AG-1] with copper", where)
    assert answer.answered, answer.missing
    assert len(answer.figures) == 1
    by_weighings = ask("fineness of gold and copper from 12.00 g in air and 11.17 g in water")
    assert between_of(answer.figures[0]) == pytest.approx(
        between_of(by_weighings.figures[0]), rel=0.03
    )


def test_the_base_of_a_waste_container() -> None:
    """The same limits as on its page; without a base of the data, none."""
    log = LOG.replace(
        "- poured off 0.5 L spent acid as [W-2]",
        "- added 100 mL nitric acid 68 %\n- discarded 0.5 L spent acid into [W-2]",
    )
    where = known({"supplies.md": SUPPLIES, "2026-02-07-fingers.md": log})
    assert where.figures is not None
    (container,) = [one for one in where.figures.waste if one.label == "W-2"]
    need = next(one for one in container.base if one.base == "NaOH")
    answer = ask("lye to neutralise [W-2]", where)
    assert answer.answered, answer.missing
    assert answer.figures[0].high == pytest.approx(need.grams.high)
    assert not ask("ammonia to neutralise [W-2]", where).answered
    assert not ask("lye to neutralise [W-2]").answered


def test_a_plan_by_a_title() -> None:
    """2 lb are 907.2 g: 40 g of metabisulfite for 100 g become 362.9 g (by hand)."""
    answer = ask("plan for 2 lb fingers like fingers in acid", book())
    assert answer.answered, answer.missing
    used = next(figure for figure in answer.figures if "metabisulfite" in figure.name)
    assert between_of(used) == pytest.approx(362.9, rel=1e-3)
    twice = known({"2026-02-07-fingers.md": LOG, "2026-02-08-more.md": LOG})
    missing = ask("plan for 2 lb fingers like fingers in acid", twice).missing
    assert missing == ("like which of these: 2026-02-07-fingers, 2026-02-08-more",)


def test_the_one_strength_of_the_book_is_taken() -> None:
    """As if 68 % had been written, and said; a word of the trade keeps its own."""
    plain = ask("nitric acid to dissolve 100 g silver", book())
    named = ask("nitric acid 68 % to dissolve 100 g silver", book())
    assert limits(plain.figures[0]) == limits(named.figures[0])
    assert "nitric acid 68 %, the one strength that the book has" in " ".join(plain.notes)
    assert "the one strength" not in " ".join(named.notes)
    assert "the one strength" not in notes("battery acid to dissolve 10 g zinc", book())


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("smb to drop 10 g gold", "sodium metabisulfite"),
        ("hcl to drop 10 g silver", "hydrochloric acid"),
    ],
)
def test_a_reagent_has_its_own_name(text: str, name: str) -> None:
    """Not the short word it was asked by."""
    assert f"of {name}." in words(ask(text)) or f"of {name} " in words(ask(text))


@pytest.mark.parametrize(
    "text",
    [
        "saturation of copper sulfate at 20 C",
        "gold in a density of 15.5 g/cm3 with silver",
        "silver to inquart 10 g of 14 kt gold",
        "gold in 12 cm2 plated 2.5 micron",
    ],
)
def test_a_source_is_a_document(text: str) -> None:
    """No source is the name of a file of this program."""
    sources = ask(text).sources
    assert sources
    assert not [one for one in sources if ".toml" in one]


@pytest.mark.parametrize("text", ["nitric acid 68 % to dissolve silver", "gold plating", "inquart"])
def test_what_is_missing_is_said_with_an_example(text: str) -> None:
    """An example is called one, and is none of anybody's jars."""
    missing = ask(text).missing
    assert missing
    assert all("for example" in one for one in missing)
