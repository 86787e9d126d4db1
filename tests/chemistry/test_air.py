"""Gases in air, against the definitions, another library, and figures worked out elsewhere."""

from __future__ import annotations

import pytest

from logbook.chemistry.air import (
    air_to,
    gases,
    limits,
    litres,
    milligrams_per_cubic_metre,
    molar_volume,
    parts_per_million,
)
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.reactions import reactions
from logbook.chemistry.releases import helpers, releases

TABLES = 2e-4  # two tables of atomic weights, one abridged, one whole

# L of gas at 25 C from a gram of the basis, worked out with the libraries chemicals and molmass
PER_GRAM = {
    "cu_hno3_dilute": ("NO", 0.25667),
    "cu_hno3_conc": ("NO2", 0.77001),
    "ag_hno3_dilute": ("NO", 0.075602),
    "ag_hno3_conc": ("NO2", 0.2268),
    "ni_hno3_conc": ("NO2", 0.83367),
    "sn_hno3_conc": ("NO2", 0.82438),
    "fe_hcl": ("H2", 0.43809),
    "al_hcl": ("H2", 1.3601),
    "zn_h2so4": ("H2", 0.3742),
    "au_ar_no2": ("NO2", 0.37263),
    "pt_ar_no2": ("NO2", 0.50165),
    "naclo_hcl": ("Cl2", 0.32866),
    "caclo2_hcl": ("Cl2", 0.34223),
    "kclo3_hcl": ("Cl2", 0.59893),
    "hcl_h2o2": ("Cl2", 0.71927),
    "h2o2_decomp": ("O2", 0.35964),
    "aqua_regia_nocl": ("NOCl", 0.38827),
    "smb_hcl": ("SO2", 0.2574),
    "sulfamic_hno3": ("N2O", 0.38827),
    "hcl_na2co3": ("CO2", 0.33553),
    "nacn_hcl": ("HCN", 0.49921),
}

# mg/m3 in 1 ppm at 25 C, worked out with the same libraries; NIOSH prints most of them with
# two or three figures in its documentation of dangerous concentrations
PER_PPM = {
    "NO2": 1.8804,
    "NO": 1.2265,
    "Cl2": 2.898,
    "HCl": 1.4902,
    "SO2": 2.6183,
    "H2S": 1.3928,
    "NH3": 0.6961,
    "HCN": 1.1047,
    "O3": 1.9618,
    "HNO3": 2.5756,
    "NOCl": 2.6755,
}


def test_the_molar_volume_is_that_of_other_tables() -> None:
    """22.414, 24.0551 and 24.4654 L at 0, 20 and 25 C (ideal gas), and scipy's own constant."""
    from scipy import constants

    assert molar_volume(0.0) == pytest.approx(22.414, rel=1e-5)
    assert molar_volume(20.0) == pytest.approx(24.0551, rel=1e-5)
    assert molar_volume(25.0) == pytest.approx(24.4654, rel=1e-5)
    pressed = constants.R * 298.15 / constants.atm * 1000
    assert molar_volume() == pytest.approx(pressed, rel=1e-9)


@pytest.mark.parametrize("name", PER_GRAM)
def test_litres_of_gas_from_a_gram(name: str) -> None:
    """Litres from a gram are those worked out with two other libraries."""
    gas, volume = PER_GRAM[name]
    assert litres(gas, reactions()[name].given(gas)) == pytest.approx(volume, rel=TABLES)


@pytest.mark.parametrize("gas", PER_PPM)
def test_a_concentration_by_volume_is_that_by_mass(gas: str) -> None:
    """The factor between ppm and mg/m3."""
    assert milligrams_per_cubic_metre(gas, 1.0) == pytest.approx(PER_PPM[gas], rel=TABLES)


@pytest.mark.parametrize(
    ("gas", "ppm", "milligrams"),
    [
        # as the NIOSH documents themselves print them: 1.8, 9 and 24 mg/m3 of NO2; 1.45 of Cl2
        ("NO2", 1.0, 1.8),
        ("NO2", 5.0, 9.0),
        ("NO2", 13.0, 24.0),
        ("Cl2", 0.5, 1.45),
        ("HCl", 45.0, 67.0),  # AIHA on the profile of 2025
        ("N2O", 25.0, 46.0),  # OSHA, chemical sampling information
        ("CO2", 5000.0, 9000.0),
    ],
)
def test_the_pairs_that_agencies_print(gas: str, ppm: float, milligrams: float) -> None:
    """Agencies give a limit twice, rounded to one or two figures."""
    ours = milligrams_per_cubic_metre(gas, ppm)
    assert ours == pytest.approx(milligrams, rel=0.05)


def test_litres_agree_with_periodictable() -> None:
    """A second library's molar masses give the same volume of every gas of the data."""
    import periodictable

    for formula in gases():
        mass = periodictable.formula(formula).mass
        assert litres(formula, mass) == pytest.approx(molar_volume(), rel=TABLES), formula


def test_a_room_and_the_air_to_a_limit_are_two_sides_of_one_thing() -> None:
    """A gas makes of just the air to a limit just that limit; 770 L of NO2 in 30 m3 by hand."""
    assert parts_per_million(770.01, 30.0) == pytest.approx(770.01 / 30_000 * 1e6)
    assert parts_per_million(5.0, air_to(13.0, 5.0)) == pytest.approx(13.0)
    assert air_to(0.5, 1.0) == pytest.approx(2000.0)


def test_nitrogen_monoxide_is_not_only_held_against_its_own_laxer_limit() -> None:
    """In air it becomes the dioxide: 1 ppm is reached before its own 2 or 25, 13 before 100."""
    short, danger = limits("NO").held_against(), limits("NO").dangerous_as()
    assert short is not None and danger is not None
    assert (short.gas, short.limit.ppm, danger.gas, danger.limit.ppm) == ("NO2", 1.0, "NO2", 13.0)
    assert short.air(1.0) == pytest.approx(1000.0)
    assert "nitrogen dioxide" in short.words


def test_a_gas_without_a_limit_is_held_against_what_it_becomes() -> None:
    """A litre of NOCl is a litre of NO2 and half a litre of Cl2: 1 000 m3, and 1 250 to 0.4 ppm."""
    nocl = limits("NOCl")
    assert nocl.limits == ()
    compared = nocl.held_against()
    assert compared is not None
    assert compared.air(1.0) == pytest.approx(max(1.0 / 1.0, 0.5 / 0.4) * 1000.0)


def test_a_gas_that_was_not_looked_up_is_refused() -> None:
    """No limit is invented; the refusal says so."""
    with pytest.raises(MissingError, match="no limit"):
        limits("NCl3")


@pytest.mark.parametrize("release", releases(), ids=lambda one: f"{one.of} {one.gas}")
def test_a_release_gives_no_more_than_the_salt_holds(release: object) -> None:
    """Moles of sulfur, nitrogen, carbon or chlorine in the gas are at most those in the salt.

    Bleach brings as much chloride as hypochlorite, so that chlorine may be twice its own; each
    chlorine of an isocyanurate meets one of the acid's; hydrogen comes from the acid and water.
    """
    from logbook.chemistry.formulas import atoms
    from logbook.chemistry.releases import Release

    assert isinstance(release, Release)
    for element in {"S", "N", "C"} & set(atoms(release.gas)):
        held = atoms(release.of)[element]
        assert release.moles * atoms(release.gas)[element] <= held + 1e-4
    if release.gas == "Cl2":
        assert release.moles <= atoms(release.of)["Cl"]


def test_releases_agree_with_the_reactions_that_tell_the_same() -> None:
    """Where reactions.toml has the reaction with hydrochloric acid, both give the same gas."""
    told = 0
    chlorates = ("NaClO3", "KClO3")  # they take chloride besides, which is counted by its kind
    for release in (one for one in releases() if one.of not in chlorates):
        for reaction in reactions().values():
            same = reaction.basis == release.of and release.gas in reaction.gases
            if same and reaction.work == "side" and release.gas not in ("NO", "NO2"):
                helper = "HCl" if release.set_free_by == "acid" else "NaOH"
                given = reaction.given(release.gas)
                assert release.from_salt() == pytest.approx(given, rel=1e-4), reaction.name
                if reaction.asked(helper):
                    per = given / reaction.asked(helper)
                    assert release.from_helper(helper) == pytest.approx(per, rel=1e-4)
                told += 1
    assert told >= 8


def test_helpers_bring_what_their_formulas_say() -> None:
    """Textbook: sulfuric acid two, hydrochloric one; calcium hydroxide two."""
    assert (helpers("acid")["H2SO4"], helpers("acid")["HCl"]) == (2.0, 1.0)
    assert (helpers("base")["Ca(OH)2"], helpers("base")["NaOH"]) == (2.0, 1.0)
