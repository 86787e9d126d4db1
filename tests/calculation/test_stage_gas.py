"""The gas of a stage: hand-made chemistry, and logs as a writer would write them.

Litres at 25 C and 101.325 kPa, 24.4654 L a mole. Figures by hand name their steps; those a gram
come from tests/chemistry/test_air.py, which has them from two other libraries.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import pytest

from logbook.calculation.bench.cells import cell_bounds, cell_gases
from logbook.calculation.bench.gas import (
    NO_VENTILATION,
    gases_of_run,
    room_of,
    stage_gases,
)
from logbook.calculation.bench.gas_settings import heated_stages
from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageChemistry, StageGas, StageKey, Substance
from logbook.calculation.sums import zero
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import reactions, reactions_in
from logbook.model.amount import Uncertain
from logbook.model.run import Run
from logbook.reading.read_book import read_book
from tests.calculation.build import span

KEY = StageKey("2026-03-14-a", 0)
NONE_ELSE = zero("the rest of the charge", "g")
ROOM = Figure("the room", "L", Uncertain(30_000.0))
TABLES = 3e-4


def grams(value: float, name: str = "metal") -> Figure:
    """Grams of a metal, exactly."""
    return Figure(name, "g", Uncertain(value))


def supply(formula: str, low: float, high: float | None = -1.0, why: str = "") -> Substance:
    """A pure substance that is there; limits where `high` is given."""
    top = low if high == -1.0 else high
    words = f"some {formula}"
    return Substance(formula, Range(low, top), words, (span(words),), (why,) if why else ())


def stage(
    metals: Mapping[str, Figure],
    *substances: Substance,
    rest: Figure | None = NONE_ELSE,
    kinds: tuple[str, ...] = ("dissolve",),
) -> StageChemistry:
    """A stage with its chemistry, as the book would give it."""
    there = {one.formula for one in substances}
    may_be_more = rest is None or rest.high is not None
    ways = tuple(
        one
        for one in reactions_in(kinds)
        if there >= set(one.asks)
        and (
            one.metal in metals
            or (not one.metal and one.basis in there)
            or (may_be_more and one.metal and one.work == "dissolve")
        )
    )
    return StageChemistry(KEY, metals, rest, substances, substances, ways)


def given(chemistry: StageChemistry, *, heated: bool = False) -> dict[str, StageGas]:
    """The gases of a stage, by formula."""
    found = stage_gases([chemistry], ROOM, {KEY} if heated else ())
    return {one.gas: one for one in found}


def most(gas: StageGas) -> float:
    """The upper limit of the litres; there must be one, and no value and no lower limit."""
    assert gas.litres.value is None
    assert not gas.litres.low
    assert gas.litres.high is not None
    assert gas.litres.why
    return gas.litres.high


def test_copper_in_nitric_acid_gives_one_oxide_or_the_other() -> None:
    """100 g with acid enough: 77.00 L of NO2 or 25.67 L of NO, each as the most."""
    found = given(stage({"copper": grams(100.0)}, supply("HNO3", 1000.0)))
    assert most(found["NO2"]) == pytest.approx(77.001, rel=TABLES)
    assert most(found["NO"]) == pytest.approx(25.667, rel=TABLES)
    assert "do not add up" in found["NO"].words


def test_too_little_acid_limits_the_gas() -> None:
    """63.012 g of HNO3, one mole, can leave as half a mole of NO2, or a quarter of NO."""
    found = given(stage({"copper": grams(100.0)}, supply("HNO3", 63.012)))
    assert most(found["NO2"]) == pytest.approx(24.4654 / 2, rel=TABLES)
    assert most(found["NO"]) == pytest.approx(24.4654 / 4, rel=TABLES)


def test_air_and_room_of_copper() -> None:
    """77.001 L of NO2: 77 001 m3 up to 1 ppm, 2 567 ppm in 30 m3, by hand."""
    gas = given(stage({"copper": grams(100.0)}, supply("HNO3", 1000.0)))["NO2"]
    assert gas.air is not None and gas.air.high == pytest.approx(77_001.0, rel=TABLES)
    assert gas.room is not None and gas.room.high == pytest.approx(2566.7, rel=TABLES)
    assert "1 ppm" in gas.air.formula and "NIOSH, 1994" in gas.air.formula
    assert gas.room.unit == "ppm" and gas.air.unit == "m3"


def test_the_monoxide_is_held_against_the_limit_of_the_dioxide() -> None:
    """Its own limits are 2 and 25 ppm; as the dioxide that it becomes it fills twice the air."""
    gas = given(stage({"copper": grams(100.0)}, supply("HNO3", 1000.0)))["NO"]
    assert gas.air is not None and gas.air.high == pytest.approx(25_667.0, rel=TABLES)
    assert "nitrogen dioxide" in gas.air.formula


def test_an_unknown_charge_is_limited_by_the_acid_and_never_nothing() -> None:
    """A mole of HNO3 holds a mole of nitrogen, and tin takes none for a salt: a mole of NO2."""
    chemistry = stage({}, supply("HNO3", 63.012), rest=None)
    gas = given(chemistry)["NO2"]
    assert most(gas) == pytest.approx(24.4654, rel=TABLES)


def test_an_unknown_charge_with_an_unknown_acid_gives_a_gas_that_is_not_known() -> None:
    """Neither nothing nor a number: not known, with both reasons."""
    why = "how much nitric acid was used is not written"
    gas = given(stage({}, supply("HNO3", 0.0, None, why), rest=None))["NO2"]
    for figure in (gas.litres, gas.grams, gas.air, gas.room):
        assert figure is not None
        assert figure.value is None and figure.high is None and not figure.low
        assert why in figure.why


def test_a_known_charge_limits_an_unknown_acid() -> None:
    """100 g of silver cannot give more than 22.68 L of NO2, however much acid it was."""
    chemistry = stage({"silver": grams(100.0)}, supply("HNO3", 0.0, None, "not written"))
    assert most(given(chemistry)["NO2"]) == pytest.approx(22.68, rel=TABLES)


def test_what_is_not_told_of_the_charge_is_taken_as_the_worst() -> None:
    """71 g of silver, and 29 g of which nobody tells: no metal gives as much as grease.

    By hand: aluminium with three moles of NO2 (26.982 g), iron with three (55.845 g), and CH2
    with six (14.027 g), as six electrons burn it to CO2: 6 / 14.027 × 24.4654 L a gram.
    """
    rest = Figure("the rest of the charge", "g", why="not written", low=0.0, high=29.0)
    gas = given(stage({"silver": grams(71.0)}, supply("HNO3", 5000.0), rest=rest))["NO2"]
    by_hand = 71 * 0.2268 + 29 * 6 / 14.027 * 24.4654
    assert most(gas) == pytest.approx(by_hand, rel=TABLES)
    assert any("grease" in note for note in gas.litres.notes)


def test_two_metals_share_one_acid() -> None:
    """10 g of copper and 10 g of silver: 7.70 + 2.27 L of NO2, and less where acid lacks."""
    both = {"copper": grams(10.0), "silver": grams(10.0)}
    assert most(given(stage(both, supply("HNO3", 500.0)))["NO2"]) == pytest.approx(9.968, rel=1e-3)
    assert most(given(stage(both, supply("HNO3", 6.3012)))["NO2"]) == pytest.approx(
        24.4654 / 20, rel=TABLES
    )


@pytest.mark.parametrize(
    ("basis", "helper", "gas", "litres_a_gram"),
    [
        # a gram with acid or base enough, from two other libraries
        ("NaClO", "HCl", "Cl2", 0.32866),
        ("Ca(ClO)2", "HCl", "Cl2", 0.34223),
        ("KClO3", "HCl", "Cl2", 0.59893),
        ("NaClO3", "HCl", "Cl2", 0.68957),
        ("H2O2", "HCl", "Cl2", 0.71927),
        ("Na2S2O5", "HCl", "SO2", 0.2574),
        ("NaCN", "HCl", "HCN", 0.49921),
        ("HNO3", "H3NSO3", "N2O", 0.38827),
        ("HNO3", "HCl", "NOCl", 0.38827),
        # any acid does, by hand: 1/74.442, 2/190.10, 1/78.045, 1/49.007 moles a gram
        ("NaClO", "CH3COOH", "Cl2", 24.4654 / 74.442),
        ("Na2S2O5", "H2SO4", "SO2", 2 * 24.4654 / 190.10),
        ("Na2S", "HNO3", "H2S", 24.4654 / 78.04),
        ("NaCN", "H2SO4", "HCN", 24.4654 / 49.007),
        ("NaHCO3", "HNO3", "CO2", 24.4654 / 84.006),
        ("NH4Cl", "NaOH", "NH3", 24.4654 / 53.49),
        ("(NH4)2SO4", "Ca(OH)2", "NH3", 2 * 24.4654 / 132.13),
        ("NaNO2", "H2SO4", "NO2", 0.5 * 24.4654 / 68.995),
    ],
)
@pytest.mark.parametrize("kind", ["drop", "rinse", "store"])
def test_what_must_not_meet_gives_gas_in_any_stage(
    basis: str, helper: str, gas: str, litres_a_gram: float, kind: str
) -> None:
    """What stands beside the work counts, whatever kind of stage it is."""
    chemistry = stage({}, supply(basis, 10.0), supply(helper, 1000.0), kinds=(kind,))
    assert most(given(chemistry)[gas]) == pytest.approx(10 * litres_a_gram, rel=5e-4)


def test_bleach_and_ammonia_name_chloramine_without_a_limit() -> None:
    """No limit was found: the air to one is not shown, and the gas is."""
    gas = given(stage({}, supply("NaClO", 10.0), supply("NH3", 100.0), kinds=("rinse",)))["NH2Cl"]
    assert most(gas) == pytest.approx(10 / 74.442 * 24.4654, rel=TABLES)
    assert gas.air is None
    assert "poisonous" in gas.words


def test_a_little_acid_sets_a_little_free() -> None:
    """3.6458 g of HCl, a tenth of a mole, frees a tenth of a mole of SO2 from much bisulfite."""
    chemistry = stage({}, supply("NaHSO3", 500.0), supply("HCl", 3.6458), kinds=("drop",))
    assert most(given(chemistry)["SO2"]) == pytest.approx(2.44654, rel=TABLES)


@pytest.mark.parametrize(
    ("metal", "grams_of_it", "helper", "litres_a_gram"),
    [
        ("zinc", 10.0, "H2SO4", 0.3742),
        ("iron", 10.0, "HCl", 0.43809),
        ("aluminium", 10.0, "HCl", 1.3601),
    ],
)
def test_metals_give_hydrogen(
    metal: str, grams_of_it: float, helper: str, litres_a_gram: float
) -> None:
    """Hydrogen by the gram, from two other libraries; it is held against what burns."""
    gas = given(stage({metal: grams(grams_of_it)}, supply(helper, 1000.0)))["H2"]
    assert most(gas) == pytest.approx(grams_of_it * litres_a_gram, rel=TABLES)
    assert gas.air is not None and "a tenth of what burns" in gas.air.formula


def test_copper_that_cements_meets_the_acid_that_was_left() -> None:
    """31.506 g of HNO3 left over, half a mole: a quarter of a mole of NO2 with the copper bar."""
    chemistry = stage(
        {"silver": grams(100.0)},
        supply("Cu", 214.0),
        supply("HNO3", 0.0, 31.506),
        kinds=("cement",),
    )
    assert most(given(chemistry)["NO2"]) == pytest.approx(24.4654 / 4, rel=TABLES)


def test_heat_can_drive_acid_off_whole() -> None:
    """36.458 g of HCl are a mole; a stage that was not heated does not count it."""
    chemistry = stage({}, supply("HCl", 36.458), supply("NH3", 17.031), kinds=("evaporate",))
    hot = given(chemistry, heated=True)
    assert most(hot["HCl"]) == pytest.approx(24.4654, rel=TABLES)
    assert most(hot["NH3"]) == pytest.approx(24.4654, rel=TABLES)
    assert "HCl" not in given(chemistry)


def test_a_gas_that_was_let_in_can_go_off_whole() -> None:
    """Chlorine from a bottle is bounded by what went in."""
    assert most(given(stage({}, supply("Cl2", 70.9)))["Cl2"]) == pytest.approx(24.465, rel=1e-3)


def test_without_a_room_there_is_no_figure_for_one() -> None:
    """No room is made up."""
    chemistry = stage({"copper": grams(1.0)}, supply("HNO3", 10.0))
    assert all(one.room is None for one in stage_gases([chemistry], None))


def test_a_room_that_is_not_known_gives_a_figure_that_is_not_known() -> None:
    """The reason is that of the room."""
    chemistry = stage({"copper": grams(1.0)}, supply("HNO3", 10.0))
    room = not_known("the room", "L", "it is not written how large")
    for gas in stage_gases([chemistry], room):
        assert gas.room is not None and gas.room.high is None
        assert "how large" in gas.room.why


@pytest.mark.parametrize("reaction", reactions().values(), ids=lambda one: one.name)
def test_every_reaction_that_gives_a_gas_is_counted(reaction: object) -> None:
    """With its own things there and nothing else, no gas of any reaction is left out."""
    from logbook.chemistry.reactions import Reaction

    assert isinstance(reaction, Reaction)
    if reaction.work == "step" or not reaction.gases or not (reaction.asks or reaction.metal):
        return
    metals = {reaction.metal: grams(10.0)} if reaction.metal else {}
    there = {*reaction.asks, *(() if reaction.metal else (reaction.basis,))}
    chemistry = StageChemistry(
        KEY, metals, NONE_ELSE, (), tuple(supply(one, 1000.0) for one in there), (reaction,)
    )
    found = given(chemistry)
    assert set(reaction.gases) <= found.keys()
    for gas in reaction.gases:
        bound = 10.0 if reaction.metal else 1000.0
        least = min([bound, *(1000.0 / reaction.asked(one) for one in reaction.asks)])
        high = found[gas].grams.high
        assert high is not None and high >= least * reaction.given(gas) * (1 - 1e-9)


def linear_program(metals: Mapping[str, float], acids: Mapping[str, float], gas: str) -> float:
    """The most of a gas [g] by a general solver, every reaction free to run as far as it may."""
    from scipy.optimize import linprog

    ways = [
        one
        for one in reactions().values()
        if one.work == "dissolve" and one.metal in metals and acids.keys() >= set(one.asks)
    ]
    gain = [-one.given(gas) for one in ways]
    rows = [[1.0 if one.metal == metal else 0.0 for one in ways] for metal in metals]
    rows += [[one.asked(acid) for one in ways] for acid in acids]
    if gas == "NO2" and {"HNO3", "HCl"} <= acids.keys():
        # the acids alone, by hand: HNO3 + HCl -> NO2 + 1/2 Cl2 + H2O, a gram of HNO3 as one column
        gain.append(-46.005 / 63.012)
        taken = {"HNO3": 1.0, "HCl": 36.458 / 63.012}
        per_row = [*(0.0 for _ in metals), *(taken[acid] for acid in acids)]
        rows = [[*row, one] for row, one in zip(rows, per_row, strict=True)]
    caps = [*metals.values(), *acids.values()]
    return -float(linprog(gain, A_ub=rows, b_ub=caps).fun)


@pytest.mark.parametrize("nitric", [5.0, 50.0, 150.0, 1000.0])
@pytest.mark.parametrize("hydrochloric", [0.0, 20.0, 500.0])
@pytest.mark.parametrize("gas", ["NO", "NO2", "H2"])
def test_no_mixture_can_give_more_than_the_limit(
    nitric: float, hydrochloric: float, gas: str
) -> None:
    """A linear program over all reactions never beats the limit: it is on the safe side."""
    metals = {"copper": 30.0, "silver": 20.0, "gold": 5.0, "zinc": 3.0, "iron": 8.0}
    acids = {"HNO3": nitric} | ({"HCl": hydrochloric} if hydrochloric else {})
    chemistry = stage(
        {name: grams(value) for name, value in metals.items()},
        *(supply(name, value) for name, value in acids.items()),
    )
    best = linear_program(metals, acids, gas)
    found = given(chemistry)
    if best > 0:
        high = found[gas].grams.high
        assert high is not None
        assert best <= high * (1 + 1e-9)
        assert high <= 3.0 * best  # a limit, and not a wild one


LOG = """# A run

Date: 2026-03-14
Metal: silver
{fact}
## {title}

{entries}
"""


def run_of(*entries: str, title: str = "Dissolve", fact: str = "", bench: str = "") -> Run:
    """The run of a log."""
    items = "\n".join(f"- {entry}" for entry in entries)
    texts = {"runs/2026-03-14-a.md": LOG.format(entries=items, title=title, fact=fact)}
    if bench:
        texts["runs/bench.md"] = bench
    (run,) = read_book(texts).runs
    return run


def gases_of_log(*entries: str, bench: str = "", fact: str = "") -> Mapping[str, StageGas]:
    """The gases of a log, through the whole program."""
    items = "\n".join(f"- {entry}" for entry in entries)
    texts = {"runs/2026-03-14-a.md": LOG.format(entries=items, title="Dissolve", fact=fact)}
    if bench:
        texts["runs/bench.md"] = bench
    book = read_book(texts)
    (figures,) = work_out(book).runs.values()
    found = gases_of_run(figures.run, figures.chemistry, book.bench)
    return {one.gas: one for one in found}


BENCH = "# The bench\n\nCurrency: EUR\nRoom: {}\n"


def test_a_log_gives_its_gas_and_its_room() -> None:
    """100 g of fine silver, 22.68 L of NO2 at most; in 3 × 4 × 2.5 m that is 756 ppm."""
    found = gases_of_log(
        "took 100.000 ± 0 g silver wire, silver 100.00 ± 0 %",
        "added 200 mL nitric acid 68 %",
        bench=BENCH.format("3 x 4 x 2.5 m"),
    )
    assert most(found["NO2"]) == pytest.approx(22.68, rel=TABLES)
    room = found["NO2"].room
    assert room is not None and room.high == pytest.approx(756.0, rel=TABLES)


def test_a_log_without_a_composition_is_not_without_gas() -> None:
    """Nobody knows what the scrap was: the acid alone limits the gas."""
    found = gases_of_log("took some scrap", "added 100 mL nitric acid 68 %")
    assert most(found["NO2"]) > 10.0


def test_a_log_without_an_amount_of_acid_and_metal_does_not_know() -> None:
    """`enough to cover`: not known, with the reason, and not nothing."""
    found = gases_of_log("took some scrap", "added nitric acid, enough to cover")
    assert found["NO2"].litres.high is None
    assert found["NO2"].litres.why


@pytest.mark.parametrize(
    ("written", "cubic"),
    [
        ("30 m3", 30.0),
        ("30 m³", 30.0),
        ("3 x 4 x 2.5 m", 30.0),
        ("3 m × 4 m × 250 cm", 30.0),
        ("30,000 L", 30.0),
        ("10 x 12 x 8 ft", 960 * 0.3048**3),  # NIST SP 811: a foot is 0.3048 m
        ("20-30 m3", 20.0),  # the smaller holds more of the gas
    ],
)
def test_a_room_as_people_write_it(written: str, cubic: float) -> None:
    """A volume, or three sides."""
    book = read_book({"runs/bench.md": BENCH.format(written)})
    room = room_of(run_of("worked 5 min"), book.bench)
    assert room is not None
    found = room.value.value if room.value is not None else room.low
    assert found == pytest.approx(cubic * 1000.0)
    assert not [one for one in book.findings if "room" in one.headline]


@pytest.mark.parametrize("written", ["large", "3 x 4 m", "30 g", "0 m3"])
def test_a_room_that_is_none_is_asked_about(written: str) -> None:
    """Nothing is made of it, and the finding says so."""
    book = read_book({"runs/bench.md": BENCH.format(written)})
    assert book.bench.room is None
    assert [one.code for one in book.findings] == ["room-not-read"]


def test_a_log_states_its_own_room() -> None:
    """The room of a log comes before that of the bench."""
    book = read_book({"runs/bench.md": BENCH.format("30 m3")})
    room = room_of(run_of("worked 5 min", fact="Room: 60 m3\n"), book.bench)
    assert room is not None and room.value is not None
    assert room.value.value == pytest.approx(60_000.0)


@pytest.mark.parametrize(
    ("entries", "title", "hot"),
    [
        (["heated at 70 C for 2 h"], "Dissolve", True),
        (["waited 2 h, at 60 C"], "Dissolve", True),
        (["waited 2 h"], "Evaporate", True),
        (["waited 2 h"], "Dissolve", False),
        (["read 22 C"], "Dissolve", False),
        (["read 140 F"], "Drop", True),
    ],
)
def test_what_a_heated_stage_is(entries: Iterable[str], title: str, hot: bool) -> None:
    """By its kind, by what was done, or by what was read."""
    assert (heated_stages(run_of(*entries, title=title)) != frozenset()) is hot


def test_the_bound_of_a_cell() -> None:
    """3 A for 2 h is 6 A h: 24.15 g of silver at most (4.0247 g an ampere-hour, by hand)."""
    run = run_of("read 3.0 A", "waited 2 h", title="Electrolyse")
    ((key, bound),) = cell_bounds(run)
    assert key == KEY
    assert bound.value is None
    assert bound.high == pytest.approx(24.148, rel=1e-4)


def test_the_highest_current_counts() -> None:
    """A bound is not an average: what was read lower does not lower it, nor a range's middle."""
    ((_, bound),) = cell_bounds(run_of("read 2-3 A", "waited 2 h", title="Electrolyse"))
    assert bound.high == pytest.approx(24.148, rel=1e-4)
    low = cell_bounds(run_of("read 3.0 A", "waited 2 h", title="Electrolyse"))
    two = cell_bounds(run_of("read 3.0 A", "waited 2 h", "read 1.0 A", title="Electrolyse"))
    assert low[0][1].high == two[0][1].high


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        (["waited 2 h"], "no current"),
        (["read 3 A"], "how long"),
        (["read 3 A", "waited overnight"], "overnight"),
        (["worked 2 h", "read 3 A"], "how long"),
    ],
)
def test_a_cell_without_current_or_time_is_not_known(entries: Iterable[str], why: str) -> None:
    """Not known with the reason; its gases too, and none of them is nothing."""
    run = run_of(*entries, title="Electrolyse")
    ((_, bound),) = cell_bounds(run)
    assert bound.high is None and why in bound.why
    assert [one.gas for one in cell_gases(run, ROOM)] == ["H2", "O2", "Cl2", "NO", "NO2"]
    assert all(one.litres.high is None for one in cell_gases(run, ROOM))


def test_the_gases_of_a_cell() -> None:
    """6 A h give 2.738 L of hydrogen at most (0.11193 mol, by hand), chlorine from salt too."""
    run = run_of("added 20 g salt", "read 3.0 A", "waited 2 h", title="Electrolyse")
    found = {one.gas: one for one in cell_gases(run, ROOM)}
    assert {"H2", "O2", "Cl2"} <= set(found)
    high = found["H2"].litres.high
    assert high == pytest.approx(2.738, rel=3e-4)
    assert high == found["Cl2"].litres.high == pytest.approx(2 * (found["O2"].litres.high or 0))


# 50 A h by hand: 1.86557 mol of electrons, 59.28 g of Cu(II) or 118.55 g of Cu(I).
COPPER_CELLS = [
    (["added 1 L sulfuric acid 10 %"], 59.28, {"H2", "O2"}),
    (["added 1 L sulfuric acid 10 %", "added 5 g salt"], 118.55, {"H2", "O2", "Cl2"}),
    (["added 1 L sulfuric acid 10 %", "added 1 L tap water"], 118.55, {"H2", "O2", "Cl2"}),
    (["added 2 L old electrolyte"], 118.55, {"H2", "O2", "Cl2", "NO", "NO2"}),
    (
        ["added 1 L sulfuric acid 10 %", "added 2 L old electrolyte"],
        118.55,
        {"H2", "O2", "Cl2", "NO", "NO2"},
    ),
    ([], 118.55, {"H2", "O2", "Cl2", "NO", "NO2"}),
    (["added 200 mL nitric acid 10 %"], 59.28, {"H2", "O2", "NO", "NO2"}),
]


@pytest.mark.parametrize(("entries", "grams", "kinds"), COPPER_CELLS)
def test_what_a_bath_allows(entries: list[str], grams: float, kinds: set[str]) -> None:
    """Copper carries over twice as much where the bath may hold chloride, and chlorine comes."""
    log = [*entries, "took 100 g copper bar", "read 5 A", "waited 10 h"]
    run = run_of(*log, title="Electrolyse")
    bounds = {bound.name.split()[0]: bound for _, bound in cell_bounds(run)}
    assert bounds["copper"].high == pytest.approx(grams, rel=1e-3)
    assert {one.gas for one in cell_gases(run, ROOM)} == kinds


def test_nitric_acid_in_a_cell_is_not_silent() -> None:
    """6 A h are 0.22387 mol of electrons: 5.477 L of NO2 and a third of it NO, by hand."""
    run = run_of("added 1 L nitric acid 5 %", "read 3.0 A", "waited 2 h", title="Electrolyse")
    found = {one.gas: one for one in cell_gases(run, ROOM)}
    assert most(found["NO2"]) == pytest.approx(5.477, rel=1e-3)
    assert most(found["NO"]) == pytest.approx(5.477 / 3, rel=1e-3)
    assert "comes on top" in found["NO2"].words


def test_the_warning_says_what_decides() -> None:
    """No word of it lets anybody go on."""
    assert "not a permission" in NO_VENTILATION
    assert "local codes" in NO_VENTILATION
    assert "safe" not in NO_VENTILATION
