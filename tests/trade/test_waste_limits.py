"""Limits of waste against their documents, the pH of hydroxides, and the order of handling."""

from __future__ import annotations

import re
from typing import Any

import pytest

from logbook.reference import load
from tests.trade.test_data_files import STANDINGS

DATA = load("waste.toml")

# Read in the documents, or in copies of them; mg/L. 40 CFR 261.24 Table 1 (D004 to D007 in the
# text of 2004, D008 to D011 as 40 CFR 266 Appendix VII and California's table repeat them);
# California, 22 CCR 66261.24, STLC; 40 CFR 433.17; Abwasserverordnung Anhang 40 D (2023);
# 40 CFR 143.3; 40 CFR 141.80; Directive (EU) 2020/2184.
DOCUMENTS = {
    "waste": {
        "United States": {
            **{"As": 5.0, "Ba": 100.0, "Cd": 1.0, "Cr": 5.0},
            **{"Pb": 5.0, "Hg": 0.2, "Se": 1.0, "Ag": 5.0},
        },
        "California": {"Cu": 25.0, "Ni": 20.0, "Zn": 250.0, "Sb": 15.0, "Co": 80.0, "Mo": 350.0},
    },
    "works": {
        "United States": {
            **{"Cu": 3.38, "Ni": 3.98, "Ag": 0.43, "Pb": 0.69, "Zn": 2.61, "Cr": 2.77, "Cd": 0.11},
        },
        "Germany": {
            **{"Cu": 0.5, "Ni": 0.5, "Ag": 0.1, "Pb": 0.5, "Zn": 2.0, "Cr": 0.5, "Cd": 0.2},
            **{"Sn": 2.0, "Co": 1.0},
        },
    },
}
WATER = {
    ("United States", "Cu"): [1.0, 1.3],
    ("United States", "Ag"): [0.1],
    ("United States", "Zn"): [5.0],
    ("United States", "Fe"): [0.3],
    ("United States", "Pb"): [0.010],
    ("European Union", "Cu"): [2.0],
    ("European Union", "Ni"): [0.020],
    ("European Union", "Pb"): [0.005],
}
CODES = {
    **{"D004": "As", "D005": "Ba", "D006": "Cd", "D007": "Cr"},
    **{"D008": "Pb", "D009": "Hg", "D010": "Se", "D011": "Ag"},
}


def limits(of: str) -> list[dict[str, Any]]:
    """The limits of one kind that are concentrations."""
    return [row for row in DATA["limit"] if row["of"] == of and "metal" in row]


@pytest.mark.parametrize("of", DOCUMENTS)
def test_concentrations_are_those_of_the_documents(of: str) -> None:
    """Each number as it stands in the law, and none that the laws read do not have."""
    found: dict[str, dict[str, float]] = {}
    for row in limits(of):
        found.setdefault(row["place"], {})[row["metal"]] = row["mg_per_litre"]
    assert found == DOCUMENTS[of]


def test_drinking_water() -> None:
    """For comparison alone, and said to be so."""
    found: dict[tuple[str, str], list[float]] = {}
    for row in limits("water"):
        found.setdefault((row["place"], row["metal"]), []).append(row["mg_per_litre"])
    assert found == WATER


def test_lead_in_water_has_its_dates() -> None:
    """EU: 5 µg/L by 12 January 2036, 10 until then (Annex I, as ECHA reprints it); US: 0.010 mg/L.

    The action level of 89 FR 86418 is to be met from 1 November 2027; 0.015 until then.
    """
    notes = {row["id"]: row["note"] for row in DATA["limit"] if "note" in row}
    assert notes.keys() == {"LCR-Pb", "DWD-Pb"}
    assert "12 January 2036" in notes["DWD-Pb"] and "0.010" in notes["DWD-Pb"]
    assert "1 November 2027" in notes["LCR-Pb"] and "0.015" in notes["LCR-Pb"]


# Enthalpies of formation, kJ/mol (CODATA and NBS tables, from memory): each heat by hand.
OH, WATER_MADE = -230.0, -285.83
BY_HAND = {
    "NaHSO4": -886.9 + OH - (-909.27 + WATER_MADE),
    "H3NSO3": -886.9 + OH - (-909.27 + WATER_MADE),  # as the bisulfate that it turns to
    "NaHSO3": -626.2 + OH - (-635.5 + WATER_MADE),
    "Na2S2O5": -626.2 + OH - (-635.5 + WATER_MADE),
    "K2S2O5": -626.2 + OH - (-635.5 + WATER_MADE),
    "SO2": (-296.8 + 2 * OH - (-635.5 + WATER_MADE)) / 2,  # as gas
    "CH3COOH": -484.5 + OH - (-486.0 + WATER_MADE),  # the liquid
    "Cl2": (0.0 + 2 * OH - (-107.1 - 167.2 + WATER_MADE)) / 2,  # as gas
    "I2": (0.0 + 2 * OH - (-107.5 - 55.2 + WATER_MADE)) / 2,
    "NH4Cl": -132.5 + OH - (-80.3 + WATER_MADE),
    "NH4NO3": -132.5 + OH - (-80.3 + WATER_MADE),
    "(NH4)2SO4": -132.5 + OH - (-80.3 + WATER_MADE),
    "AgNO3": 105.6 + OH - (-31.1 + WATER_MADE) / 2,
    "CuSO4": (64.8 + 2 * OH + 450.0) / 2,
    "CuCl2": (64.8 + 2 * OH + 450.0) / 2,
    "FeSO4": (-89.1 + 2 * OH + 569.0) / 2,
    "FeCl3": (-48.5 + 3 * OH + 823.0) / 3,
    "Pb(NO3)2": (-1.7 + 2 * OH + 515.0) / 2,
}


def test_heats_are_no_lower_than_by_hand() -> None:
    """Heat is rounded up: what a mole of base gives with each thing that is no strong acid."""
    written = {row["formula"]: row["kilojoules_per_mole"] for row in DATA["base_heat"]}
    assert written.keys() == BY_HAND.keys()
    for formula, heat in BY_HAND.items():
        assert heat <= written[formula] <= max(57.62, heat + 3.0), formula


def test_heats_of_dilution_and_solution() -> None:
    """Parker 1965: HNO3 liquid 33.28, HCl from 20 mol/kg 19.87, NaOH 44.51; H2SO4 by hand."""
    dilution = {row["formula"]: row["kilojoules_per_mole"] for row in DATA["dilution_heat"]}
    assert dilution == {"HNO3": 33.28, "HCl": 19.87, "H2SO4": round(909.27 - 813.99, 2)}
    dissolving = {row["formula"]: row["kilojoules_per_mole"] for row in DATA["dissolving_heat"]}
    assert dissolving == {"NaOH": 44.51}


def test_codes_stand_for_their_metals() -> None:
    """D004 to D011 are the eight metals of the toxicity characteristic, in the order of the law."""
    coded = {row["id"]: row["metal"] for row in DATA["limit"] if row["id"] in CODES}
    assert coded == CODES


def test_ph() -> None:
    """D002: 2 or less, 12.5 or more (40 CFR 261.22); CLP: 2 or less, 11.5 or more."""
    spans = {row["id"]: (row["low"], row["high"]) for row in DATA["limit"] if "measure" in row}
    assert spans == {"D002": (2.0, 12.5), "extreme-pH": (2.0, 11.5), "SMCL-pH": (6.5, 8.5)}


def test_hydroxides() -> None:
    """The ranges of the commercial pages, and the least within or beside them.

    Cr 7.5 to 9.0, Cu and Pb 8.0 to 9.5, Zn 9.0 to 10.5 (one page); Cd 11.0, Cu 8.1, Cr 7.5,
    Ni 10.8, Zn 10.1 (another, of another seller).
    """
    rows = {row["metal"]: row for row in DATA["hydroxide_ph"]}
    spans = {metal: (row.get("low"), row.get("high")) for metal, row in rows.items()}
    assert spans["Cr"] == (7.5, 9.0) and spans["Cu"] == spans["Pb"] == (8.0, 9.5)
    assert spans["Zn"] == (9.0, 10.5) and spans["Ni"] == (10.0, 11.0)
    for metal, least in (("Cd", 11.0), ("Cu", 8.1), ("Cr", 7.5), ("Ni", 10.8), ("Zn", 10.1)):
        assert least in rows[metal]["least"], metal
    for metal in ("Cu", "Ni", "Zn", "Cr", "Pb", "Cd"):
        named = [DATA["sources"][one] for one in rows[metal]["source"]]
        assert all("seller" in words for words in named), metal  # commercial, and said to be


def test_every_value_has_a_source_and_a_standing() -> None:
    """Each row, or the default for its kind of value, names both; no source is left over."""
    used: list[str] = [DATA["heat"]["source"]]
    heats = ("base_heat", "dilution_heat", "dissolving_heat")
    for table in ("limit", "hydroxide_ph", "charge", "acidity", "step", "as_it_is", *heats):
        for row in DATA[table]:
            kind = "equivalents" if table == "acidity" else table
            said = row if "source" in row else DATA["meta"]["defaults"][kind]
            used += said["source"] if isinstance(said["source"], list) else [said["source"]]
            assert said["standing"] in STANDINGS, row
    assert set(used) == set(DATA["sources"])
    assert set(DATA["meta"]["standings"]) == STANDINGS


def test_the_order() -> None:
    """Ask, keep apart, precious metal, copper, acid, hydroxides, settle, test, keep, hand over."""
    order = [row["id"] for row in DATA["step"]]
    wanted = ["ask-first", "one-kind", "never-meet", "precious-first", "copper-on-iron"]
    wanted += ["neutralise-slowly", "hydroxides", "settle", "test", "keep-the-sludge"]
    wanted += ["hand-over", "nothing-down-the-drain"]
    assert [one for one in order if one in wanted] == wanted
    assert order[0] == "ask-first" and order[-1] == "nothing-down-the-drain"
    needs = {"any", "precious", "copper", "acid", "base", "metals", "dissolved"}
    needs |= {"liquid", "solid", "as it is"}
    assert {row["for"] for row in DATA["step"]} <= needs


def test_no_text_lets_anything_go() -> None:
    """Nothing says that waste may be poured away, or that a limit is a permission."""
    texts = [row["text"] for row in DATA["step"]] + [DATA["meta"]["local"]]
    for text in texts:
        for word in re.findall(r"[^.;]*\b(?:drain|sewer|sink|rubbish)\b[^.;]*", text.lower()):
            assert re.search(r"\b(?:no|not|nothing|never)\b", word), text
    assert "Local rules decide" in DATA["meta"]["local"]
