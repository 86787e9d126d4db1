"""Gas that no equation of the stage tells of: what meets what, heat, and what cautions name.

Every figure is worked out by hand from the moles, with 24.4654 L a mole at 25 C and the molar
masses of the CRC Handbook to five figures; chempy's masses are a second look.
"""

from __future__ import annotations

import pytest

from logbook.calculation.bench.gas import stage_gases
from logbook.calculation.bench.gas_mix import Setting
from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageChemistry, StageGas, Substance
from logbook.chemistry.ranges import Range
from logbook.chemistry.releases import helpers, warned
from logbook.reading.read_book import read_book
from logbook.reference import load
from tests.calculation.test_stage_gas import KEY, NONE_ELSE, grams, most, stage, supply

MOLE = 24.4654
TABLES = 5e-4
OPEN = (0.0, None)
DRIED = Setting(heated=True, dried=True)
BURNT = Setting(heated=True, dried=True, fire=True)


def given(chemistry: StageChemistry, setting: Setting | None = None) -> dict[str, StageGas]:
    """The gases of a stage, by formula."""
    settings = {} if setting is None else {KEY: setting}
    return {one.gas: one for one in stage_gases([chemistry], None, settings=settings)}


def beside(*amounts: tuple[str, float], kind: str = "drop") -> StageChemistry:
    """A stage without any metal, with so many grams of each substance."""
    return stage({}, *(supply(formula, much) for formula, much in amounts), kinds=(kind,))


@pytest.mark.parametrize(
    ("first", "second", "gas", "moles_a_mole"),
    [
        # acid + chloride with a nitrate: HNO3 + 3 HCl -> NOCl + Cl2 + 2 H2O; 2 HNO3 + 6 HCl ->
        # 2 NO + 3 Cl2 + 4 H2O; HNO3 + HCl -> NO2 + 1/2 Cl2 + H2O
        ("HNO3", "HCl", "NOCl", 1.0),
        ("HNO3", "HCl", "Cl2", 1.5),
        ("HNO3", "HCl", "NO2", 1.0),
        ("NaNO3", "HCl", "NOCl", 1.0),
        ("KNO3", "HCl", "NO2", 1.0),
        ("AgNO3", "HCl", "Cl2", 1.5),
        ("NH4NO3", "HCl", "NOCl", 1.0),
        ("Pb(NO3)2", "HCl", "NO2", 2.0),
        # 2 KMnO4 + 16 HCl -> 5 Cl2; MnO2, PbO2 + 4 HCl -> Cl2; K2Cr2O7 + 14 HCl -> 3 Cl2
        ("KMnO4", "HCl", "Cl2", 2.5),
        ("MnO2", "HCl", "Cl2", 1.0),
        ("PbO2", "HCl", "Cl2", 1.0),
        ("K2Cr2O7", "HCl", "Cl2", 3.0),
        # S2O8 2- + 2 Cl- -> Cl2; H2O2 + 2 HCl -> Cl2; BrO3- + 6 H+ + 6 Cl- -> Br- + 3 Cl2
        ("Na2S2O8", "HCl", "Cl2", 1.0),
        ("(NH4)2S2O8", "HCl", "Cl2", 1.0),
        ("H2O2", "HCl", "Cl2", 1.0),
        ("NaBrO3", "HCl", "Cl2", 3.0),
        # ClO3- + 5 Cl- + 6 H+ -> 3 Cl2; ClO2- + 3 Cl- + 4 H+ -> 2 Cl2
        ("NaClO3", "HCl", "Cl2", 3.0),
        ("KClO3", "HCl", "Cl2", 3.0),
        ("NaClO2", "HCl", "Cl2", 2.0),
        # all the chlorine of a chlorate or chlorite at most, as dioxide
        ("NaClO3", "H2SO4", "ClO2", 1.0),
        ("KClO3", "HCl", "ClO2", 1.0),
        ("NaClO2", "CH3COOH", "ClO2", 1.0),
        # bromine: 2 Br- -> Br2
        ("NaBr", "KMnO4", None, 0.0),  # without acid nothing is counted
        ("KBr", "HNO3", "Br2", 0.5),
        ("HBr", "NaClO", "Br2", 0.5),
        ("NaBr", "H2SO4", "HBr", 1.0),
        # sulfuric acid drives HCl out of chlorides
        ("NaCl", "H2SO4", "HCl", 1.0),
        ("CaCl2", "H2SO4", "HCl", 2.0),
        ("KCl", "NaHSO4", "HCl", 1.0),
        # sulfides, nitrites, carbonates, fluorides, cyanides
        ("Na2S", "C6H8O7", "H2S", 1.0),
        ("K2S", "HCl", "H2S", 1.0),
        ("KNO2", "HCl", "NO2", 0.5),
        ("(NH4)2CO3", "HCl", "CO2", 1.0),
        ("(NH4)2CO3", "NaOH", "NH3", 2.0),
        ("CaF2", "H2SO4", "HF", 2.0),
        ("NaF", "HCl", "HF", 1.0),
        ("NH4HF2", "HCl", "HF", 2.0),
        ("Na3AlF6", "H2SO4", "HF", 6.0),
        ("K4[Fe(CN)6]", "H2SO4", "HCN", 6.0),
        ("K3[Fe(CN)6]", "HCl", "HCN", 6.0),
        ("NaN3", "HCl", "HN3", 1.0),
        # sulfuric acid takes water out of formic and oxalic acid, and CO out of ferrocyanide
        ("CH2O2", "H2SO4", "CO", 1.0),
        ("C2H2O4", "H2SO4", "CO", 1.0),
        ("K4[Fe(CN)6]", "H2SO4", "CO", 6.0),
        # SO2 + 2 HNO3 -> H2SO4 + 2 NO2, two of it in metabisulfite; 3 SO2 + 2 HNO3 -> 2 NO
        ("Na2S2O5", "HNO3", "NO2", 4.0),
        ("Na2S2O5", "HNO3", "NO", 4 / 3),
        ("Na2SO3", "HNO3", "NO2", 2.0),
        ("C2H2O4", "HNO3", "NO2", 2.0),
        ("FeSO4", "HNO3", "NO", 1 / 3),
    ],
)
def test_what_meets_what(first: str, second: str, gas: str | None, moles_a_mole: float) -> None:
    """Ten grams of the first, and of the second more than enough."""
    from chempy import Substance as Pure

    found = given(beside((first, 10.0), (second, 100_000.0)))
    if gas is None:
        assert "Br2" not in found and "Cl2" not in found
        return
    mass = Pure.from_formula(first.replace("[Fe(CN)6]", "Fe(CN)6")).mass
    assert most(found[gas]) == pytest.approx(moles_a_mole * 10.0 / mass * MOLE, rel=TABLES)


def test_a_nitrite_in_nitric_acid_gives_two_of_dioxide() -> None:
    """HNO2 + HNO3 -> 2 NO2 + H2O, beside what any acid frees: at least two moles, no wild limit."""
    high = most(given(beside(("NaNO2", 68.995), ("HNO3", 5000.0)))["NO2"])
    assert 2 * MOLE * (1 - TABLES) <= high <= 2.5 * MOLE * (1 + TABLES)


@pytest.mark.parametrize(
    ("first", "second", "gas", "moles_a_mole"),
    [
        ("HNO3", "HCl", "Cl2", 0.5),  # two chlorides in each chlorine
        ("KMnO4", "HCl", "Cl2", 0.5),
        ("Na2S2O5", "HNO3", "NO2", 1.0),  # a nitrogen in each
        ("C12H22O11", "HNO3", "NO2", 1.0),
        ("Na2S", "HCl", "H2S", 0.5),
        ("NaNO2", "HCl", "NO", 1.0),  # 3 HNO2 -> HNO3 + 2 NO + H2O: 2 H+ for 2 NO
        ("NaClO2", "HCl", "ClO2", 1.0),
        ("K4[Fe(CN)6]", "HCl", "HCN", 1.0),
    ],
)
def test_what_is_scarce_limits_it(first: str, second: str, gas: str, moles_a_mole: float) -> None:
    """A gram of the second with more than enough of the first."""
    from chempy import Substance as Pure

    found = given(beside((first, 100_000.0), (second, 1.0)))
    mass = Pure.from_formula(second).mass
    assert most(found[gas]) == pytest.approx(moles_a_mole / mass * MOLE, rel=TABLES)


def test_any_acid_makes_aqua_regia_of_saltpetre_and_salt() -> None:
    """101.10 g of KNO3 and 58.44 g of NaCl in citric acid, a mole of each: a mole of NOCl."""
    found = given(beside(("KNO3", 101.10), ("NaCl", 58.44), ("C6H8O7", 500.0)))
    assert most(found["NOCl"]) == pytest.approx(MOLE, rel=TABLES)
    assert most(found["Cl2"]) == pytest.approx(MOLE / 2, rel=TABLES)
    assert most(found["NO2"]) == pytest.approx(MOLE, rel=TABLES)


def test_saltpetre_in_sulfuric_acid_dissolves_copper() -> None:
    """Cu + 2 NO3- + 4 H+ -> Cu2+ + 2 NO2: 63.546 g in much of both give two moles."""
    chemistry = stage({"copper": grams(63.546)}, supply("NaNO3", 5000.0), supply("H2SO4", 5000.0))
    found = given(chemistry, Setting(dissolves=True))
    assert most(found["NO2"]) == pytest.approx(2 * MOLE, rel=TABLES)


def test_another_acid_saves_nitric_acid() -> None:
    """Cu + 2 HNO3 + H2SO4 -> CuSO4 + 2 NO2 + 2 H2O: a mole of HNO3 can leave as one of NO2."""
    chemistry = stage({"copper": grams(500.0)}, supply("HNO3", 63.012), supply("H2SO4", 500.0))
    assert most(given(chemistry)["NO2"]) == pytest.approx(MOLE, rel=TABLES)


ACIDS = {
    # moles of acid hydrogen in ten grams, by hand
    "CH3COOH": 10 / 60.052,
    "C6H8O7": 30 / 192.12,
    "H3PO4": 30 / 97.994,
    "H3NSO3": 10 / 97.09,
    "NaHSO4": 10 / 120.06,
    "CH2O2": 10 / 46.025,
    "HCl": 10 / 36.458,
    "H2SO4": 20 / 98.072,
}


@pytest.mark.parametrize("acid", ACIDS)
@pytest.mark.parametrize(
    ("metal", "symbol", "moles_a_gram"),
    [
        ("zinc", "Zn", 1 / 65.38),
        ("iron", "Fe", 1 / 55.845),
        ("aluminium", "Al", 1.5 / 26.982),
        ("magnesium", "Mg", 1 / 24.305),
    ],
)
def test_any_acid_gives_hydrogen(acid: str, metal: str, symbol: str, moles_a_gram: float) -> None:
    """Bounded by the metal, told of or put in, and by half the acid hydrogen."""
    if metal != "magnesium":
        told = stage({metal: grams(1.0)}, supply(acid, 5000.0), kinds=("dissolve",))
        high = most(given(told, Setting(dissolves=True))["H2"])
        assert high == pytest.approx(moles_a_gram * MOLE, rel=TABLES)
    put_in = beside((symbol, 1.0), (acid, 5000.0), kind="store")
    assert most(given(put_in)["H2"]) == pytest.approx(moles_a_gram * MOLE, rel=TABLES)
    scarce = beside((symbol, 5000.0), (acid, 10.0), kind="store")
    assert most(given(scarce)["H2"]) == pytest.approx(ACIDS[acid] / 2 * MOLE, rel=TABLES)


def test_silver_magnesium_and_aluminium_in_much_nitric_acid() -> None:
    """10 g Ag + 25 g Mg + 15 g Al: 10/107.87 + 2 × 25/24.305 = 52.6 L of NO2 for the first two.

    Aluminium, where acid takes it, adds 3 × 15/26.982 moles: 40.8 L.
    """
    chemistry = stage(
        {"silver": grams(10.0), "aluminium": grams(15.0)},
        supply("HNO3", 5000.0),
        supply("Mg", 25.0),
    )
    high = most(given(chemistry)["NO2"])
    assert high >= 52.6
    by_hand = 10 / 107.87 + 2 * 25 / 24.305 + 3 * 15 / 26.982
    assert high == pytest.approx(by_hand * MOLE, rel=TABLES)


def test_a_log_with_magnesium_that_no_line_can_read() -> None:
    """A charge of 50 g of which 10 g are silver: never less than 52.6 L of NO2."""
    log = (
        "# A run\n\nDate: 2026-03-14\nMetal: silver\n\n## Dissolve\n\n"
        "- took 50.0 g castings, silver 20 %, magnesium 50 %, aluminium 30 %\n"
        "- added 3 L nitric acid 68 %\n"
    )
    (figures,) = work_out(read_book({"runs/2026-03-14-a.md": log})).runs.values()
    (found,) = [one for one in figures.gases if one.gas == "NO2"]
    assert most(found) >= 52.6


@pytest.mark.parametrize(
    ("metal", "moles_a_gram"),
    [
        ("manganese", 2 / 54.938),
        ("mercury", 2 / 200.59),
        ("bismuth", 3 / 208.98),
        ("antimony", 5 / 121.76),
        ("chromium", 3 / 51.996),
        ("molybdenum", 6 / 95.95),
        ("tungsten", 6 / 183.84),
        ("titanium", 4 / 47.867),
    ],
)
def test_other_metals_in_nitric_acid(metal: str, moles_a_gram: float) -> None:
    """As many moles of NO2 as the metal gives electrons, a third of that NO."""
    found = given(stage({metal: grams(1.0)}, supply("HNO3", 500.0)))
    assert most(found["NO2"]) == pytest.approx(moles_a_gram * MOLE, rel=TABLES)
    assert most(found["NO"]) == pytest.approx(moles_a_gram / 3 * MOLE, rel=TABLES)


def test_an_unknown_rest_gives_no_more_than_the_acid_has_nitrogen() -> None:
    """100 g of whatever in a mole of nitric acid: one mole of NO2, and one of NO."""
    rest = Figure("the rest of the charge", "g", why="not written", low=0.0, high=100.0)
    found = given(stage({}, supply("HNO3", 63.012), rest=rest))
    assert most(found["NO2"]) == pytest.approx(MOLE, rel=TABLES)
    assert most(found["NO"]) <= MOLE * (1 + TABLES)
    assert most(found["NO"]) >= MOLE / 2  # Sn, Sb, W: two acids for two monoxides at most


@pytest.mark.parametrize(
    ("salt", "gas", "moles_a_gram", "setting"),
    [
        # 2 AgNO3 -> 2 Ag + 2 NO2 + O2, and the other nitrates as if all went that way
        ("AgNO3", "NO2", 1 / 169.87, DRIED),
        ("KNO3", "NO2", 1 / 101.10, DRIED),
        ("NaNO3", "NO2", 1 / 84.994, DRIED),
        ("Pb(NO3)2", "NO2", 2 / 331.2, DRIED),
        ("HNO3", "NO2", 1 / 63.012, DRIED),
        ("NH4NO3", "N2O", 1 / 80.043, DRIED),
        ("NH4Cl", "NH3", 1 / 53.49, DRIED),
        ("NH4Cl", "HCl", 1 / 53.49, DRIED),
        ("C2H2O4", "CO", 1 / 90.034, DRIED),
        ("C", "CO", 1 / 12.011, BURNT),
        ("CaF2", "HF", 2 / 78.074, BURNT),
        ("CaC2", "C2H2", 1 / 64.1, Setting()),
        ("NaBH4", "H2", 4 / 37.83, Setting()),
        ("Na", "H2", 0.5 / 22.99, Setting()),
    ],
)
def test_what_heat_fire_and_water_do(
    salt: str, gas: str, moles_a_gram: float, setting: Setting
) -> None:
    """Ten grams, as if all of it went."""
    chemistry = beside((salt, 10.0), kind="store")
    found = given(chemistry, setting)
    assert most(found[gas]) == pytest.approx(10 * moles_a_gram * MOLE, rel=1e-3)
    if setting.dried:
        assert gas not in given(chemistry, Setting())


def test_charcoal_with_saltpetre_in_the_fire() -> None:
    """All the nitrogen as NO2 and all the carbon as CO: 10/101.10 and 5/12.011 moles."""
    found = given(beside(("KNO3", 10.0), ("C", 5.0), kind="melt"), BURNT)
    assert most(found["NO2"]) == pytest.approx(10 / 101.10 * MOLE, rel=TABLES)
    assert most(found["CO"]) == pytest.approx(5 / 12.011 * MOLE, rel=TABLES)


LOG = "# A run\n\nDate: 2026-03-14\nMetal: silver\n\n{}\n"


def gases_of(*stages: tuple[str, tuple[str, ...]]) -> dict[tuple[int, str], StageGas]:
    """The gases of a log through the whole program, by stage and formula."""
    text = "\n".join(
        f"## {title}\n\n" + "\n".join(f"- {one}" for one in entries) + "\n"
        for title, entries in stages
    )
    (figures,) = work_out(read_book({"runs/2026-03-14-a.md": LOG.format(text)})).runs.values()
    return {(one.stage.index, one.gas): one for one in figures.gases}


def test_silver_nitrate_that_is_boiled_down_holds_the_acid_of_the_run() -> None:
    """126.02 g of HNO3, two moles, came in; up to two moles of NO2 can leave later."""
    found = gases_of(
        (
            "Dissolve",
            (
                "took 107.87 ± 0 g silver wire, silver 100.00 ± 0 %",
                "added 180 g nitric acid 70 %",
                "kept nitrate liquor [B-1], 300 mL",
            ),
        ),
        ("Evaporate", ("took [B-1]",)),
    )
    assert most(found[1, "NO2"]) >= 2 * MOLE * 0.99
    assert most(found[1, "NO2"]) <= 4 * MOLE * 1.05  # readings have a doubt


def test_a_nitrate_of_unknown_amount_from_elsewhere_has_no_limit() -> None:
    """A bottle that no log made: how much nitrate is in it nobody knows."""
    elsewhere = (
        Substance("HNO3", Range(0.0, None), "what earlier stages put in", (), ("not written",)),
    )
    chemistry = beside(("HNO3", 63.0), kind="evaporate")
    found = given(chemistry, Setting(heated=True, dried=True, earlier=elsewhere))
    assert found["NO2"].litres.high is None
    assert "not written" in found["NO2"].litres.why


@pytest.mark.parametrize(
    ("one", "other", "gas"),
    [
        ("NaClO", "HCl", "Cl2"),
        ("NaCN", "H2SO4", "HCN"),
        ("K4[Fe(CN)6]", "H2SO4", "HCN"),
        ("Na2S", "HCl", "H2S"),
        ("Na2S2O5", "HCl", "SO2"),
        ("NaNO2", "HCl", "NO"),
        ("KMnO4", "HCl", "Cl2"),
        ("HNO3", "HCl", "NOCl"),
        ("Zn", "H2SO4", "H2"),
        ("NaF", "HCl", "HF"),
    ],
)
def test_without_any_limit_the_gas_is_not_known_with_the_reason(
    one: str, other: str, gas: str
) -> None:
    """Neither amount is known: a row without a limit stands there, and never none."""
    why = "how much of it was used is not written"
    chemistry = StageChemistry(
        KEY, {}, NONE_ELSE, (), tuple(supply(name, *OPEN, why) for name in (one, other)), ()
    )
    row = given(chemistry)[gas]
    for figure in (row.litres, row.grams):
        assert figure.value is None and figure.high is None and not figure.low
        assert why in figure.why


@pytest.mark.parametrize(
    ("entries", "gas"),
    [
        (("added 20 g liver of sulfur", "added 100 mL hydrochloric acid 10 %"), "H2S"),
        (("added 20 g pool chlorine", "added 100 mL hydrochloric acid 10 %"), "Cl2"),
        (("took 20 g tilt switches, mercury", "added 100 mL nitric acid 30 %"), "Hg"),
        (("took 20 g type metal, antimony 15 %", "added 100 mL hydrochloric acid 30 %"), "SbH3"),
        (("took 20 g type metal, antimony 15 %", "added 100 mL hydrochloric acid 30 %"), "AsH3"),
    ],
)
def test_a_caution_without_a_figure_gives_a_row_that_is_not_known(
    entries: tuple[str, ...], gas: str
) -> None:
    """The rule is named as the reason; nothing stands as none."""
    row = gases_of(("Dissolve", entries))[0, gas]
    assert row.litres.value is None and row.litres.high is None
    assert "caution" in row.litres.why


def test_hydrogen_of_acid_and_of_current_is_one_row() -> None:
    """10 g of zinc in acid and 6 A h: 3.742 + 2.738 L, by hand and as in the other tests."""
    found = gases_of(
        (
            "Electrolyse",
            (
                "took 10.000 ± 0 g zinc granules, zinc 100.00 ± 0 %",
                "added 1 L sulfuric acid 20 %",
                "read 3.0 A",
                "waited 2 h",
            ),
        )
    )
    assert most(found[0, "H2"]) == pytest.approx(3.742 + 2.738, rel=2e-3)


def test_every_rule_that_tells_of_a_gas_exists() -> None:
    """The table names rules of cautions.toml; a renamed rule must not lose its gas."""
    rules = {row["id"] for row in load("cautions.toml")["caution"]}
    assert warned().keys() <= rules


ELEMENTS = {"C": 4, "H": 1, "O": -2}


def test_electrons_of_organics_are_those_of_burning_them() -> None:
    """Four for each carbon, one for each hydrogen, less two for each oxygen (a hand rule).

    Nitrogen leaves as N2. Glucose gives 24, ethanol 12, as textbooks have it.
    """
    from logbook.chemistry.formulas import atoms

    for formula, brings in helpers("reducer").items():
        counted = atoms(formula)
        if "C" in counted and counted.keys() <= {"C", "H", "O", "N"}:
            by_rule = sum(ELEMENTS.get(one, 0) * number for one, number in counted.items())
            assert brings == by_rule, formula
    assert (helpers("reducer")["C6H12O6"], helpers("reducer")["C2H6O"]) == (24.0, 12.0)
