"""The gold and palladium of the demo could have happened: against chemistry that is not ours.

Nothing here calls the program. What the logs say stands in the tables, with the words they say
it in; a test holds that the words stand there. What they are held against is worked out by hand
from balanced reactions and the atomic weights of Prohaska et al. 2022, "Standard atomic weights
of the elements 2021" (Commission on Isotopic Abundances and Atomic Weights, CIAAW), abridged to
five figures, and from two densities at 20 C: hydrochloric acid 32 %, 1.1594 g/mL (CRC Handbook
of Chemistry and Physics); nitric acid 68 %, 1.4048 g/mL (Perry's Handbook, secondhand).
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from math import hypot
from pathlib import Path

import pytest

RUNS = Path(__file__).parents[2] / "runs"

# CIAAW 2021, abridged, g/mol.
WEIGHT = {
    **{"H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.990, "S": 32.06},
    **{"Cl": 35.45, "Ni": 58.693, "Cu": 63.546, "Pd": 106.42, "Ag": 107.87, "Au": 196.97},
}
HNO3_PER_ML = 1.4048 * 0.68  # g
HCL_PER_ML = 1.1594 * 0.32  # g

# Mass, as BIPM/NIST define it: the troy ounce is 31.1034768 g, 20 pennyweights of 24 grains;
# the US fluid ounce is 29.5735295625 mL.
OUNCE = 31.1034768
PENNYWEIGHT, GRAIN, FLUID_OUNCE = OUNCE / 20, OUNCE / 480, 29.5735295625

Formula = dict[str, int]
AU, AG, PD, CU, NI = {"Au": 1}, {"Ag": 1}, {"Pd": 1}, {"Cu": 1}, {"Ni": 1}
HNO3, HCL, H2O = {"H": 1, "N": 1, "O": 3}, {"H": 1, "Cl": 1}, {"H": 2, "O": 1}
NO, NO2, N2O = {"N": 1, "O": 1}, {"N": 1, "O": 2}, {"N": 2, "O": 1}
HAUCL4, SMB = {"H": 1, "Au": 1, "Cl": 4}, {"Na": 2, "S": 2, "O": 5}
NAHSO4, H2SO4 = {"Na": 1, "H": 1, "S": 1, "O": 4}, {"H": 2, "S": 1, "O": 4}
SULFAMIC = {"H": 3, "N": 1, "S": 1, "O": 3}
AGNO3, CUNO3 = {"Ag": 1, "N": 1, "O": 3}, {"Cu": 1, "N": 2, "O": 6}
NINO3, PDNO3 = {"Ni": 1, "N": 2, "O": 6}, {"Pd": 1, "N": 2, "O": 6}
NACL, AGCL = {"Na": 1, "Cl": 1}, {"Ag": 1, "Cl": 1}
NANO3, NAOH, AG2O = {"Na": 1, "N": 1, "O": 3}, {"Na": 1, "O": 1, "H": 1}, {"Ag": 2, "O": 1}
GLYOXIME = {"C": 4, "H": 8, "N": 2, "O": 2}
PD_GLYOXIME = {"Pd": 1, "C": 8, "H": 14, "N": 4, "O": 4}

Side = list[tuple[int, Formula]]
REACTIONS: dict[str, tuple[Side, Side]] = {
    "copper, NO": ([(3, CU), (8, HNO3)], [(3, CUNO3), (2, NO), (4, H2O)]),
    "silver, NO2": ([(1, AG), (2, HNO3)], [(1, AGNO3), (1, NO2), (1, H2O)]),
    "palladium, NO2": ([(1, PD), (4, HNO3)], [(1, PDNO3), (2, NO2), (2, H2O)]),
    "nickel, NO2": ([(1, NI), (4, HNO3)], [(1, NINO3), (2, NO2), (2, H2O)]),
    "gold": ([(1, AU), (1, HNO3), (4, HCL)], [(1, HAUCL4), (1, NO), (2, H2O)]),
    "sulfamic": ([(1, SULFAMIC), (1, HNO3)], [(1, H2SO4), (1, N2O), (1, H2O)]),
    "drop": (
        [(4, HAUCL4), (3, SMB), (9, H2O)],
        [(4, AU), (6, NAHSO4), (16, HCL)],
    ),
    "chloride": ([(1, AGNO3), (1, NACL)], [(1, AGCL), (1, NANO3)]),
    "oxide": ([(2, AGCL), (2, NAOH)], [(1, AG2O), (2, NACL), (1, H2O)]),
    "cement": ([(1, CU), (1, PDNO3)], [(1, CUNO3), (1, PD)]),
    "glyoxime": ([(1, PDNO3), (2, GLYOXIME)], [(1, PD_GLYOXIME), (2, HNO3)]),
}


def molar_mass(formula: Formula) -> float:
    """Grams per mole."""
    return sum(WEIGHT[atom] * count for atom, count in formula.items())


def grams_for_each(reaction: str, of: Formula, for_each: Formula) -> float:
    """Grams of one side's substance that the reaction sets against a gram of another."""
    sides = REACTIONS[reaction][0] + REACTIONS[reaction][1]
    moles = {id(formula): count for count, formula in sides}
    return moles[id(of)] * molar_mass(of) / (moles[id(for_each)] * molar_mass(for_each))


@pytest.mark.parametrize("name", REACTIONS)
def test_reactions_balance(name: str) -> None:
    """Each element stands on both sides as often."""

    def atoms(side: Side) -> Counter[str]:
        total: Counter[str] = Counter()
        for count, formula in side:
            for atom, number in formula.items():
                total[atom] += count * number
        return total

    left, right = REACTIONS[name]
    assert atoms(left) == atoms(right)


def test_grams_by_hand() -> None:
    """Worked on paper: 3 x 190.10 / (4 x 196.97); 58.44 / 107.87; 2 x 116.12 / 106.42."""
    drop = grams_for_each("drop", SMB, HAUCL4) * molar_mass(HAUCL4) / molar_mass(AU)
    assert drop == pytest.approx(0.7238, abs=0.0005)
    salt = grams_for_each("chloride", NACL, AGNO3) * molar_mass(AGNO3) / molar_mass(AG)
    assert salt == pytest.approx(0.5418, abs=0.0005)
    glyoxime = grams_for_each("glyoxime", GLYOXIME, PDNO3) * molar_mass(PDNO3) / molar_mass(PD)
    assert glyoxime == pytest.approx(2.182, abs=0.001)


@dataclass(frozen=True)
class Said:
    """What a log says, and what it comes to in grams or millilitres."""

    words: str
    value: float


@dataclass(frozen=True)
class GoldRun:
    """A run that dropped gold; `grade` and its doubt are fractions of the feed."""

    log: str
    feed: Said
    grade: float
    grade_doubt: float
    hydrochloric: Said
    nitric: Said
    sulfamic: Said
    sulfite: tuple[Said, ...]
    product: Said
    fineness: float
    fineness_doubt: float = 0.02

    @property
    def gold_in(self) -> float:
        return self.feed.value * self.grade

    @property
    def gold_out(self) -> float:
        return self.product.value * self.fineness


SWEEPS = {"grade": 0.0082, "grade_doubt": 0.0004}
GOLD = [
    GoldRun(
        "2025-03-08-gold-filled-watch-cases.md",
        Said("took 186.4 g gold-filled watch cases [GF-1], gold 1.9 ± 0.3 %", 186.4),
        0.019,
        0.003,
        Said("added 25 mL hydrochloric acid 32 %", 25),
        Said("added 5 mL nitric acid 68 %", 5),
        Said("added 4.0 g sulfamic acid", 4.0),
        (Said("added 5.0 g sodium metabisulfite", 5.0),),
        Said("got 3.31 g gold button [AU-1], gold 98 ± 2 %", 3.31),
        0.98,
    ),
    GoldRun(
        "2025-04-26-spectacle-frames.md",
        Said("took 94.30 g spectacle frames [GF-2], gold 2.6 ± 0.4 %", 94.30),
        0.026,
        0.004,
        Said("added 20 mL of hydrochloric acid 32 % and nitric acid 68 %, 4:1", 16),
        Said("added 20 mL of hydrochloric acid 32 % and nitric acid 68 %, 4:1", 4),
        Said("added 3.0 g sulfamic acid", 3.0),
        (Said("added 3.6 g sodium metabisulfite", 3.6),),
        Said("got 2.34 g gold button [AU-2], gold 98 ± 2 %", 2.34),
        0.98,
    ),
    GoldRun(
        "2025-06-07-sweeps-first-draw.md",
        Said("took 200.0 g from [LOT-1]", 200.0),
        **SWEEPS,
        hydrochloric=Said("added 90 mL hydrochloric acid 32 %", 90),
        nitric=Said("added 20 mL nitric acid 68 %", 20),
        sulfamic=Said("added 9 g sulfamic acid", 9),
        sulfite=(
            Said("added 3.0 g sodium metabisulfite", 3.0),
            Said("added 1.0 g sodium metabisulfite", 1.0),
        ),
        product=Said("got 1.55 g gold button [AU-3], gold 97 ± 2 %", 1.55),
        fineness=0.97,
    ),
    GoldRun(
        "2025-08-02-sweeps-second-draw.md",
        Said("took 250.0 g from [LOT-1]", 250.0),
        **SWEEPS,
        hydrochloric=Said("added 80 mL hydrochloric acid 32 %", 80),
        nitric=Said("added 16 mL nitric acid 68 %", 16),
        sulfamic=Said("added 8 g sulfamic acid", 8),
        sulfite=(Said("added 4.0 g sodium metabisulfite", 4.0),),
        product=Said("got 1.98 g gold button [AU-4], gold 98 ± 2 %", 1.98),
        fineness=0.98,
    ),
    GoldRun(
        "2025-09-06-watch-cases-in-troy.md",
        Said(
            "took 3 ozt 12 dwt gold-filled watch cases [GF-3], gold 2.0 ± 0.3 %",
            3 * OUNCE + 12 * PENNYWEIGHT,
        ),
        0.020,
        0.003,
        Said("¾ fl oz of hydrochloric acid 32 % and nitric acid 68 %, 4:1", 0.60 * FLUID_OUNCE),
        Said("¾ fl oz of hydrochloric acid 32 % and nitric acid 68 %, 4:1", 0.15 * FLUID_OUNCE),
        Said("added 60 gr sulfamic acid", 60 * GRAIN),
        (Said("added 48 gr sodium metabisulfite", 48 * GRAIN),),
        Said("got 1 dwt 9 gr gold button [AU-5], gold 98 ± 2 %", PENNYWEIGHT + 9 * GRAIN),
        0.98,
    ),
    GoldRun(
        "2025-11-01-sweeps-third-draw.md",
        Said("took 250.0 g from [LOT-1]", 250.0),
        **SWEEPS,
        hydrochloric=Said("added 80 mL hydrochloric acid 32 %", 80),
        nitric=Said("added 16 mL nitric acid 68 %", 16),
        sulfamic=Said("added 8 g sulfamic acid", 8),
        sulfite=(Said("added 4.0 g sodium metabisulfite", 4.0),),
        product=Said("got 1.90 g gold button [AU-6], gold 98 ± 2 %", 1.90),
        fineness=0.98,
    ),
    GoldRun(
        "2025-11-29-sweeps-fourth-draw.md",
        Said("took 300.0 g from [LOT-1]", 300.0),
        **SWEEPS,
        hydrochloric=Said("added 95 mL hydrochloric acid 32 %", 95),
        nitric=Said("added 19 mL nitric acid 68 %", 19),
        sulfamic=Said("added 9.5 g sulfamic acid", 9.5),
        sulfite=(Said("added 4.8 g sodium metabisulfite", 4.8),),
        product=Said("got 2.37 g gold button [AU-7], gold 98 ± 2 %", 2.37),
        fineness=0.98,
    ),
    GoldRun(
        "2026-02-07-sweeps-rest.md",
        Said("took the rest of [LOT-1]", 250.5),
        **SWEEPS,
        hydrochloric=Said("added 80 mL hydrochloric acid 32 %", 80),
        nitric=Said("added 16 mL nitric acid 68 %", 16),
        sulfamic=Said("added 8 g sulfamic acid", 8),
        sulfite=(Said("added 4.0 g sodium metabisulfite", 4.0),),
        product=Said("got 1.96 g gold button [AU-8], gold 98 ± 2 %", 1.96),
        fineness=0.98,
    ),
]

# Where base metal was dissolved off gold foils: log, words, mL of nitric acid 68 %.
BRASS = [
    (GOLD[0], Said("added 10 x 51 mL nitric acid 68 %", 510)),
    (GOLD[1], Said("added 5 x 55 mL nitric acid 68 %", 275)),
    (GOLD[4], Said("added 11 fl oz nitric acid 68 %", 11 * FLUID_OUNCE)),
]


@dataclass(frozen=True)
class ContactRun:
    """A run on silver-palladium contacts; the rest of the feed is taken as nickel."""

    log: str
    feed: Said
    silver: float
    palladium: float
    nitric: Said
    salt: Said


CONTACTS = [
    ContactRun(
        "2025-07-05-exchange-contacts-one.md",
        Said("took 28.60 g exchange contacts [EX-1], silver 54 ± 2 %, palladium 35 ± 2 %", 28.60),
        0.54,
        0.35,
        Said("added 5 x 14 mL nitric acid 68 %", 70),
        Said("added 11.0 g salt", 11.0),
    ),
    ContactRun(
        "2025-10-18-exchange-contacts-glyoxime.md",
        Said("took 16.40 g exchange contacts [EX-2], silver 54 ± 2 %, palladium 35 ± 2 %", 16.40),
        0.54,
        0.35,
        Said("added 45 mL nitric acid 68 %", 45),
        Said("added 6.0 g salt", 6.0),
    ),
    ContactRun(
        "2026-03-29-exchange-contacts-next.md",
        Said("take 40.0 g exchange contacts, silver 54 ± 2 %, palladium 35 ± 2 %", 40.0),
        0.54,
        0.35,
        Said("add 7 x 14 mL nitric acid 68 %", 98),
        Said("add 16 g salt", 16),
    ),
]

# Log, words, and for each metal: grams out in the whole run, grams fed, doubt of the feed.
PRODUCTS = [
    (
        CONTACTS[0].log,
        "got 9.48 g palladium powder [PD-1], palladium 97 ± 1.5 %, silver 0.6 ± 0.3 %",
        {"palladium": (9.48 * 0.97, 28.60 * 0.35, 28.60 * 0.02)},
    ),
    (
        CONTACTS[0].log,
        "got 14.72 g silver bar [AX-1], silver 98.8 ± 0.4 %, palladium 0.7 ± 0.3 %",
        {
            "silver": (14.72 * 0.988 + 9.48 * 0.006, 28.60 * 0.54, 28.60 * 0.02),
            "palladium": (14.72 * 0.007 + 9.48 * 0.97, 28.60 * 0.35, 28.60 * 0.02),
        },
    ),
    (
        CONTACTS[1].log,
        "got 5.55 g palladium sponge [PD-2], palladium 97.5 ± 1 %, silver 0.2 ± 0.1 %",
        {"palladium": (5.55 * 0.975, 16.40 * 0.35, 16.40 * 0.02)},
    ),
    (
        CONTACTS[1].log,
        "kept 12.4 g silver chloride [CL-3], silver 68 ± 3 %, palladium 0.4 ± 0.3 %",
        {"silver": (12.4 * 0.68 + 5.55 * 0.002, 16.40 * 0.54, 16.40 * 0.02)},
    ),
]


def text_of(log: str) -> str:
    """The log as it stands on the disk."""
    return (RUNS / log).read_text(encoding="utf-8")


def quoted() -> list[tuple[str, str]]:
    """Every log with the words that the tables above say stand in it."""
    said = [(run.log, part) for run in GOLD for part in parts_of(run)]
    said += [(run.log, acid) for run, acid in BRASS]
    said += [(run.log, part) for run in CONTACTS for part in (run.feed, run.nitric, run.salt)]
    return [(log, part.words) for log, part in said] + [(log, words) for log, words, _ in PRODUCTS]


def parts_of(run: GoldRun) -> list[Said]:
    """Everything that the table says of a run."""
    acids = [run.hydrochloric, run.nitric, run.sulfamic]
    return [run.feed, *acids, *run.sulfite, run.product]


@pytest.mark.parametrize(("log", "words"), quoted())
def test_quoted_words_stand_in_the_log(log: str, words: str) -> None:
    """The tables say what the logs say, letter by letter."""
    assert words in text_of(log)


@pytest.mark.parametrize("run", GOLD, ids=lambda run: run.log)
def test_no_sulfite_is_left_out_of_the_table(run: GoldRun) -> None:
    """The table holds every entry that added sulfite, so that none is counted short."""
    added = re.findall(r"^- added .*sodium metabisulfite", text_of(run.log), re.MULTILINE)
    assert len(added) == len(run.sulfite)


@pytest.mark.parametrize("run", GOLD, ids=lambda run: run.log)
def test_no_more_gold_comes_out_than_went_in(run: GoldRun) -> None:
    """Within two standard uncertainties; and nine tenths of it, or nearly, came."""
    doubt = hypot(run.feed.value * run.grade_doubt, run.product.value * run.fineness_doubt)
    assert run.gold_out - run.gold_in <= 2 * doubt
    assert 0.90 <= run.gold_out / run.gold_in <= 0.99


@pytest.mark.parametrize("run", GOLD, ids=lambda run: run.log)
def test_aqua_regia_was_enough_for_the_gold(run: GoldRun) -> None:
    """Au + HNO3 + 4 HCl -> HAuCl4 + NO + 2 H2O, with two doubts more gold than written."""
    most = run.gold_in + 2 * run.feed.value * run.grade_doubt
    nitric = grams_for_each("gold", HNO3, AU) * most
    hydrochloric = grams_for_each("gold", HCL, AU) * most
    assert run.nitric.value * HNO3_PER_ML >= nitric
    assert run.hydrochloric.value * HCL_PER_ML >= hydrochloric


@pytest.mark.parametrize("run", GOLD, ids=lambda run: run.log)
def test_sulfamic_acid_found_nitric_acid_to_destroy(run: GoldRun) -> None:
    """It foamed to the last of it, so no more went in than the nitric acid left could meet."""
    left = run.nitric.value * HNO3_PER_ML - grams_for_each("gold", HNO3, AU) * run.gold_in
    assert run.sulfamic.value <= grams_for_each("sulfamic", SULFAMIC, HNO3) * left


@pytest.mark.parametrize("run", GOLD, ids=lambda run: run.log)
def test_sulfite_was_enough_for_the_gold(run: GoldRun) -> None:
    """3 Na2S2O5 for 4 AuCl4-, and a gram for each gram of gold, as the trade does."""
    sulfite = sum(part.value for part in run.sulfite)
    least = grams_for_each("drop", SMB, HAUCL4) * molar_mass(HAUCL4) / molar_mass(AU)
    assert sulfite >= least * run.gold_in
    assert sulfite >= 1.0 * run.gold_out


@pytest.mark.parametrize(("run", "acid"), BRASS, ids=lambda value: getattr(value, "log", ""))
def test_nitric_acid_was_enough_for_the_brass(run: GoldRun, acid: Said) -> None:
    """All base metal as copper, 3 Cu + 8 HNO3: zinc needs less by weight of metal."""
    base = run.feed.value - run.gold_in
    assert acid.value * HNO3_PER_ML >= grams_for_each("copper, NO", HNO3, CU) * base


@pytest.mark.parametrize("run", CONTACTS, ids=lambda run: run.log)
def test_nitric_acid_and_salt_were_enough_for_the_contacts(run: ContactRun) -> None:
    """The reactions that ask for most acid (all brown gas), the rest of the metal as nickel."""
    silver, palladium = run.feed.value * run.silver, run.feed.value * run.palladium
    rest = run.feed.value - silver - palladium
    acid = grams_for_each("silver, NO2", HNO3, AG) * silver
    acid += grams_for_each("palladium, NO2", HNO3, PD) * palladium
    acid += grams_for_each("nickel, NO2", HNO3, NI) * rest
    assert run.nitric.value * HNO3_PER_ML >= acid
    salt = grams_for_each("chloride", NACL, AGNO3) * molar_mass(AGNO3) / molar_mass(AG)
    assert run.salt.value >= salt * silver


@pytest.mark.parametrize(("log", "words", "metals"), PRODUCTS)
def test_contacts_give_no_more_than_they_held(
    log: str, words: str, metals: dict[str, tuple[float, float, float]]
) -> None:
    """Each metal, within two standard uncertainties of the feed; and nine tenths of it came."""
    for metal, (out, fed, doubt) in metals.items():
        assert out - fed <= 2 * doubt, (log, words, metal)
        assert 0.90 <= out / fed <= 0.99, (log, words, metal)


def test_copper_gone_covers_the_palladium_cemented() -> None:
    """Cu + Pd(2+) -> Cu(2+) + Pd: what the bar lost is at least what the palladium asked for."""
    log = text_of(CONTACTS[0].log)
    assert "added 24.60 g copper bar" in log
    assert "kept 16.10 g copper bar" in log
    needed = grams_for_each("cement", CU, PD) * 9.48 * 0.97
    assert needed <= 24.60 - 16.10


def test_glyoxime_covers_the_palladium() -> None:
    """Two molecules for each atom; and the yellow cake weighed what its metal asks for."""
    log = text_of(CONTACTS[1].log)
    assert "added 14.0 g dimethylglyoxime" in log
    assert "got 20 g yellow cake" in log
    palladium = 16.40 * 0.35
    assert 2 * molar_mass(GLYOXIME) / molar_mass(PD) * palladium <= 14.0
    assert molar_mass(PD_GLYOXIME) / molar_mass(PD) * 5.55 * 0.975 <= 20


def test_silver_chloride_held_the_silver_and_lye_was_enough() -> None:
    """The damp chloride weighs at least what its silver asks for, dry; and the lye meets it."""
    log = text_of(CONTACTS[0].log)
    assert "kept 21.9 g silver chloride [CL-1], damp" in log
    assert "added 14 g sodium hydroxide" in log
    silver = 14.72 * 0.988
    assert molar_mass(AGCL) / molar_mass(AG) * silver <= 21.9
    assert grams_for_each("oxide", NAOH, AGCL) * molar_mass(AGCL) / molar_mass(AG) * silver <= 14


def test_the_lot_is_drawn_five_times_and_used_up() -> None:
    """1,250.5 g were bought; four amounts and the rest are five draws in five logs."""
    assert "bought 1,250.5 g sweeps [LOT-1], gold 8.2 ± 0.4 g/kg" in text_of("supplies.md")
    draws = [run for run in GOLD if "[LOT-1]" in run.feed.words]
    assert len({run.log for run in draws}) == 5
    assert sum(run.feed.value for run in draws) == pytest.approx(1250.5, abs=1e-9)
    takers = [
        path.name
        for path in sorted(RUNS.glob("*.md"))
        for _ in re.findall(r"^- took .*\[LOT-1\]", path.read_text(encoding="utf-8"), re.M)
    ]
    assert takers == [run.log for run in draws]
    assert sum(run.gold_out for run in draws) <= 1250.5 * 0.0082


@pytest.mark.parametrize("run", [run for run in GOLD if "LOT-1" in run.feed.words])
def test_sweeps_do_not_grow(run: GoldRun) -> None:
    """Burning takes weight away, and the magnet only parts what is there."""
    log = text_of(run.log)
    burned, clean = (float(number) for number in re.findall(r"got ([\d.]+) g ash\n", log)[:2])
    drawn = re.search(r"kept ([\d.]+) g magnetic part", log)
    assert drawn is not None
    assert burned < run.feed.value
    assert burned - 1.0 <= clean + float(drawn[1]) <= burned + 0.3  # three readings to 0.1 g


def test_one_residue_is_never_worked_up() -> None:
    """[R-3] was set aside in November and nobody took it."""
    logs = {path.name: path.read_text(encoding="utf-8") for path in RUNS.glob("*.md")}
    assert "kept 146 g residue [R-3], wet" in logs["2025-11-01-sweeps-third-draw.md"]
    assert not [name for name, log in logs.items() if re.search(r"- took .*\[R-3\]", log)]


def test_no_entry_uses_what_the_demo_must_not_show() -> None:
    """No cyanide, mercury, hydrofluoric acid; and no ammonia, in a book with gold and silver."""
    word = re.compile(r"cyanid|mercur|hydrofluoric|ammoni|arsen", re.IGNORECASE)
    for path in sorted(RUNS.glob("*.md")):
        for line in path.read_text(encoding="utf-8").splitlines():
            assert not (line.lstrip().startswith("- ") and word.search(line)), (path.name, line)
