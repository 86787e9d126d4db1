"""Gas in answers: every source of it counts, by hand, and as the page of a run counts it.

Molar masses by hand: Na2S2O5 190.10, Na2SO3 126.04, NaClO 74.44, Ca(ClO)2 142.98, NaCN 49.007,
KCN 65.12, NaNO2 68.995, Cu 63.546, Au 196.97, HNO3 63.012, HCl 36.458 g/mol; 24.465 L/mol at 25 C.
"""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.reading.read_book import read_book
from tests.calculation.answers.asked import ask, words

MOLE = 24.465


def gases(text: str) -> dict[str, Figure]:
    """The gases of an answer, by name."""
    answer = ask(text)
    assert answer.answered, answer.missing
    return {one.name: one for one in answer.figures if one.unit == "L" and not one.known}


def litres(text: str, gas: str) -> float:
    """The litres of a gas at most."""
    high = gases(text)[gas].high
    assert high is not None
    return high


SUMS = (
    (
        "gas from 100 g sodium metabisulfite and 100 g sodium sulfite in hydrochloric acid",
        "sulfur dioxide",
        (200 / 190.10 + 100 / 126.04) * MOLE,  # 45.2 L
    ),
    (
        "gas from 100 g Na2S2O5 + 100 g Na2SO3 in HCl",
        "sulfur dioxide",
        (200 / 190.10 + 100 / 126.04) * MOLE,
    ),
    (
        "gas from 1 L sodium hypochlorite 100 g/L and 500 g calcium hypochlorite in HCl",
        "chlorine",
        (100 / 74.44 + 1000 / 142.98) * MOLE,
    ),
    (
        "gas from 100 g NaCN and 100 g KCN in vinegar",
        "hydrogen cyanide",
        (100 / 49.007 + 100 / 65.12) * MOLE,  # 87.5 L
    ),
)


@pytest.mark.parametrize(("text", "gas", "expected"), SUMS)
def test_what_several_things_give_adds_up(text: str, gas: str, expected: float) -> None:
    """Two sources of one gas in one vessel give their sum, not the greater of the two."""
    assert litres(text, gas) == pytest.approx(expected, rel=2e-3)
    assert litres(text, gas) >= expected * 0.9995


def test_salt_and_metal_together() -> None:
    """100 g NaNO2 and 50 g Cu in nitric acid: at least 36.5 L of NO and 56 L of NO2.

    By hand two thirds of a mole of NO, or half a mole of NO2, of each nitrite, and two thirds of
    NO, or two of NO2, of each copper. What nitrite does with nitrate may come on top.
    """
    text = "gas from 100 g sodium nitrite and 50 g copper in nitric acid"
    nitrite, copper = 100 / 68.995, 50 / 63.546
    assert litres(text, "nitrogen monoxide") >= (2 * nitrite / 3 + 2 * copper / 3) * MOLE * 0.999
    assert litres(text, "nitrogen dioxide") >= (nitrite / 2 + 2 * copper) * MOLE * 0.999


LOG = """\
# A vessel

Date: 2026-03-14
Metal: silver

## Dissolve

{}
"""
ALIKE = (
    (
        "gas from 100 g sodium nitrite and 50 g copper in 500 mL nitric acid 68 %",
        (
            "added 100.00 ± 0 g sodium nitrite",
            "took 50.00 ± 0 g copper, copper 100.00 ± 0 %",
            "added 500.0 ± 0 mL nitric acid 68 %",
        ),
    ),
    (
        "gas from 10 g gold in 500 mL hydrochloric acid 32 % and 50 mL nitric acid 68 %",
        (
            "took 10.00 ± 0 g gold, gold 100.00 ± 0 %",
            "added 500.0 ± 0 mL hydrochloric acid 32 %",
            "added 50.00 ± 0 mL nitric acid 68 %",
        ),
    ),
    (
        "gas from 50 g sodium metabisulfite and 20 g sodium sulfite in 100 mL sulfuric acid 30 %",
        (
            "added 50.00 ± 0 g sodium metabisulfite",
            "added 20.00 ± 0 g sodium sulfite",
            "added 100.0 ± 0 mL sulfuric acid 30 %",
        ),
    ),
)


@pytest.mark.parametrize(("text", "entries"), ALIKE)
def test_an_answer_agrees_with_the_page_of_a_run(text: str, entries: tuple[str, ...]) -> None:
    """The same things in a log give the same gases, and as much of each."""
    log = LOG.format("\n".join(f"- {entry}" for entry in entries))
    (run,) = work_out(read_book({"runs/2026-03-14-a.md": log})).runs.values()
    there = {one.litres.name.removesuffix(", at most"): one.litres.high for one in run.gases}
    asked = {name: one.high for name, one in gases(text).items()}
    assert asked.keys() == there.keys()
    for name, high in there.items():
        assert asked[name] == pytest.approx(high, rel=1e-6), name


def test_peroxide_and_acid_behind_the_word_in() -> None:
    """200 mL of 35 % (1.13 g/mL, 79.2 g H2O2, 34.015 g/mol) give 57 L of chlorine at most."""
    text = "gas from 100 g copper in 500 mL muriatic acid and 200 mL hydrogen peroxide 35 %"
    assert litres(text, "chlorine") == pytest.approx(79.2 / 34.015 * MOLE, rel=0.01)


def test_cyanide_behind_the_word_in() -> None:
    """100 mL muriatic acid of 31 to 38 % set 0.98 to 1.24 mol of HCN free, of 2.04 mol there."""
    high = litres("gas from 100 mL muriatic acid in 100 g sodium cyanide", "hydrogen cyanide")
    assert 0.98 * MOLE <= high <= 1.26 * MOLE


NOT_LIMITED = (
    ("gas from 10 g gold in aqua regia", ("chlorine", "nitrosyl chloride")),
    ("gas from 10 g gold in hydrochloric acid and bleach", ("chlorine",)),
    ("gas from 100 mL muriatic acid and bleach", ("chlorine",)),
    ("gas from bleach with 100 mL vinegar", ("chlorine",)),
    ("gas from 20 g sodium cyanide, vinegar", ("hydrogen cyanide",)),
)


@pytest.mark.parametrize(("text", "names"), NOT_LIMITED)
def test_a_supply_without_an_amount_still_gives_its_gas(text: str, names: tuple[str, ...]) -> None:
    """The gas is named; where nothing else limits it, the answer says why it is not limited."""
    found = gases(text)
    for name in names:
        assert name in found
        if found[name].high is None:
            assert name in words(ask(text))
            assert "not limited, because how" in words(ask(text))


def test_a_supply_that_nobody_knows_is_not_nothing() -> None:
    """Pool chlorine has no formula here: no word says that no gas comes off."""
    answer = ask("gas from 100 g pool chlorine in HCl")
    assert not answer.answered
    assert "not known" in answer.missing[0] and "pool chlorine" in answer.missing[0]
    assert answer.cautions
    for cleaner in ("toilet cleaner", "drain cleaner"):
        beside = words(ask(f"gas from 100 mL bleach with 50 mL {cleaner}"))
        assert f"What {cleaner} gives off is not known" in beside


@pytest.mark.parametrize(
    "text",
    [
        "gas from 100 g pool chlorine in HCl",
        "gas from 100 g copper",
        "gas from 5 g salt",
        "gas from 20 g sodium cyanide in sodium hydroxide",
        "gas from 10 g copper in descaler",
    ],
)
def test_no_answer_says_that_no_gas_comes(text: str) -> None:
    """What is not in the data is not known."""
    answer = ask(text)
    said = " ".join((words(answer), *answer.missing))
    assert "no reaction of the data gives off a gas" not in said
    assert "not known" in said


def test_an_acid_that_nobody_describes_sets_free_what_any_acid_does() -> None:
    """10 g NaCN hold 4.99 L of HCN, however little is known of the descaler."""
    text = "gas from 20 mL descaler on 10 g sodium cyanide"
    assert litres(text, "hydrogen cyanide") == pytest.approx(10 / 49.007 * MOLE, rel=2e-3)


def test_the_smallest_room_counts() -> None:
    """77.0 L of NO2 in 20 m3 are 3850 ppm by hand; 20-40 m3 may be 20."""
    answer = ask("gas from 100 g copper in nitric acid 68 %, in a room of 20-40 m3")
    made = {one.name: one.high for one in answer.figures if one.unit == "ppm"}
    assert made["nitrogen dioxide"] == pytest.approx(200 / 63.546 * MOLE / 20 * 1000, rel=2e-3)
    assert any("the smallest counts" in note for note in answer.notes)


def test_a_room_does_not_hide_what_has_no_limit() -> None:
    """Where some gases have no limit, the room is not said to hold the others alone."""
    said = words(ask("gas from 10 g gold in aqua regia, in a room of 30 m3"))
    assert "not limited, because how aqua regia was mixed" in said
    assert "In a closed room" not in said or "for the others there is no limit" in said


def test_ammonia_needs_a_base() -> None:
    """Ammonium persulfate: 10.7 L of ammonia with a base, none in acid, and chlorine in HCl."""
    ammonia = 2 * 50 / 228.20 * MOLE
    acid = gases("gas from 50 g ammonium persulfate in HCl")
    assert "ammonia" not in acid
    chlorine = acid["chlorine"].high
    assert chlorine is not None and chlorine >= 50 / 228.20 * MOLE * 0.999
    base = litres("gas from 50 g ammonium persulfate in sodium hydroxide", "ammonia")
    assert base == pytest.approx(ammonia, rel=2e-3)
    assert litres("gas from 50 g ammonium persulfate", "ammonia") == pytest.approx(
        ammonia, rel=2e-3
    )


def test_acid_gases_need_an_acid() -> None:
    """Cyanide in lye gives none that is known; with nothing said both acid and base count."""
    assert not ask("gas from 20 g sodium cyanide in sodium hydroxide").answered
    assert set(gases("gas from 20 g sodium cyanide and 20 g ammonium sulfate")) == {
        "hydrogen cyanide",
        "ammonia",
    }


def test_heat_drives_acid_out() -> None:
    """100 mL of 32 % hold 37.1 g HCl (1.1593 g/mL), 24.9 L if all of it is boiled off."""
    text = "gas from evaporating 100 mL hydrochloric acid 32 %"
    expected = 115.93 * 0.32 / 36.458 * MOLE
    assert litres(text, "hydrogen chloride") == pytest.approx(expected, rel=0.01)


PROPOSED = (
    # One N2O for each HNO3: 0.98938 g in 1 mL of 70 % (1.4134 g/mL, CRC Handbook).
    (
        "sulfamic acid to destroy 1 mL nitric acid 70 %",
        "dinitrogen oxide",
        0.98938 / 63.012 * MOLE,
    ),
    # Half a CO2 for each HNO3 of 1.5701 mol.
    (
        "sodium carbonate to neutralise 100 mL nitric acid 70 %",
        "carbon dioxide",
        1.5701 / 2 * MOLE,
    ),
    # Two SO2 of each of 8.686 g Na2S2O5, if acid had all of what 12 g of gold ask for.
    ("sodium metabisulfite to drop 12 g gold", "sulfur dioxide", 2 * 8.686 / 190.10 * MOLE),
    # Three CO2 for each gold.
    ("oxalic acid to drop 10 g gold", "carbon dioxide", 3 * 10 / 196.97 * MOLE),
    ("hydrochloric acid 32 % to dissolve 50 g zinc", "hydrogen", 50 / 65.38 * MOLE),
    ("nitric acid 68 % to dissolve 100 g copper", "nitrogen dioxide", 200 / 63.546 * MOLE),
    # The zinc that 100 g AgCl (143.32 g/mol) ask for, in acid that it may stand in.
    ("zinc to convert 100 g silver chloride", "hydrogen", 100 / (2 * 143.32) * MOLE),
    # The zinc that the gold asks for, in acid that is still free.
    ("zinc to cement 5 g gold", "hydrogen", 5 * 3 / (2 * 196.97) * MOLE),
)


@pytest.mark.parametrize(("text", "gas", "expected"), PROPOSED)
def test_what_an_answer_speaks_of_tells_its_gas(text: str, gas: str, expected: float) -> None:
    """The gas stands with the answer, no less than by hand, and with what it is not."""
    high = litres(text, gas)
    assert expected * 0.9995 <= high <= expected * 1.02
    answer = ask(text)
    assert "can give off" in words(answer)
    assert any("not a design of a ventilation" in note for note in answer.notes)


def test_more_than_is_asked_for_gives_more() -> None:
    """A limit that holds only for what the equations ask for says so."""
    sentence = words(ask("sodium metabisulfite to drop 12 g gold"))
    assert "As much as the equations ask for can give off" in sentence
    assert "whatever is put in beyond that gives more" in sentence
    assert "beyond" not in words(ask("nitric acid 68 % to dissolve 100 g copper"))


@pytest.mark.parametrize(
    "text",
    [
        "how much aqua regia to dissolve 10 g gold?",
        "how much HCl and peroxide to dissolve 100 g copper?",
        "bleach and hydrochloric acid 32 % to dissolve 10 g gold",
    ],
)
def test_mixtures_that_give_chlorine_name_it(text: str) -> None:
    """Chlorine comes of the acids themselves, whatever the metal does."""
    assert "chlorine" in words(ask(text))


def test_what_the_data_do_have_is_told() -> None:
    """Gold alone in nitric acid is refused, with what the equations of gold hold."""
    (why,) = ask("how much nitric acid is needed to dissolve 1.4 g gold?").missing
    assert "would dissolve gold" in why
    assert "gold takes nitric acid together with hydrochloric acid" in why


def test_a_cell_of_an_unknown_bath() -> None:
    """50 A h are 1.86557 mol of electrons: 118.55 g of Cu(I), 22.8 L of chlorine, 45.6 L of NO2."""
    answer = ask("copper from a cell at 5 A for 10 h")
    assert answer.figures[0].high == pytest.approx(118.55, rel=1e-3)
    found = {one.name: one.high for one in answer.figures if one.unit == "L"}
    assert found["chlorine"] == pytest.approx(1.86557 / 2 * MOLE, rel=1e-3)
    assert found["nitrogen dioxide"] == pytest.approx(1.86557 * MOLE, rel=1e-3)
    assert found["nitrogen monoxide"] == pytest.approx(1.86557 / 3 * MOLE, rel=1e-3)
    assert any("every bath" in note for note in answer.notes)
