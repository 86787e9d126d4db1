"""Limits of exposure against the documents that set them, as they were read.

The figures here were taken from the documents by another hand than the data file: NIOSH,
documentation for immediately dangerous concentrations (May 1994, with the OSHA and ACGIH limits
it prints), NIOSH 2017-202, OSHA chemical sampling information, AIHA on the profile of 2025, and
the Dutch list of limit values (SER) for the European one of nitrogen monoxide.
"""

from __future__ import annotations

import pytest

from logbook.chemistry.air import (
    BURNS,
    CEILING,
    DANGEROUS,
    KINDS,
    MEAN,
    SHORT,
    TENTH,
    Limit,
    gases,
    limits,
    local_rules,
)
from logbook.chemistry.reactions import reactions
from logbook.chemistry.releases import releases

SEEN = [
    ("NO2", "OSHA", CEILING, 5.0),
    ("NO2", "NIOSH", SHORT, 1.0),
    ("NO2", "NIOSH", DANGEROUS, 13.0),
    ("NO", "OSHA", MEAN, 25.0),
    ("NO", "NIOSH", MEAN, 25.0),
    ("NO", "ACGIH", MEAN, 25.0),
    ("NO", "EU", MEAN, 2.0),
    ("NO", "NIOSH", DANGEROUS, 100.0),
    ("Cl2", "OSHA", CEILING, 1.0),
    ("Cl2", "NIOSH", CEILING, 0.5),
    ("Cl2", "UK", SHORT, 0.5),
    ("Cl2", "NIOSH", DANGEROUS, 10.0),
    ("HCl", "OSHA", CEILING, 5.0),
    ("HCl", "NIOSH", CEILING, 5.0),
    ("HCl", "ACGIH", CEILING, 2.0),
    ("HCl", "NIOSH", DANGEROUS, 45.0),
    ("SO2", "OSHA", MEAN, 5.0),
    ("SO2", "NIOSH", MEAN, 2.0),
    ("SO2", "NIOSH", SHORT, 5.0),
    ("SO2", "NIOSH", DANGEROUS, 100.0),
    ("H2S", "OSHA", CEILING, 20.0),
    ("H2S", "NIOSH", CEILING, 10.0),
    ("H2S", "ACGIH", MEAN, 1.0),
    ("H2S", "ACGIH", SHORT, 5.0),
    ("H2S", "NIOSH", DANGEROUS, 100.0),
    ("NH3", "OSHA", MEAN, 50.0),
    ("NH3", "NIOSH", MEAN, 25.0),
    ("NH3", "NIOSH", SHORT, 35.0),
    ("NH3", "ACGIH", MEAN, 25.0),
    ("NH3", "ACGIH", SHORT, 35.0),
    ("NH3", "NIOSH", DANGEROUS, 300.0),
    ("HCN", "OSHA", MEAN, 10.0),
    ("HCN", "NIOSH", SHORT, 4.7),
    ("HCN", "ACGIH", CEILING, 4.7),
    ("HCN", "NIOSH", DANGEROUS, 50.0),
    ("O3", "OSHA", MEAN, 0.1),
    ("O3", "NIOSH", CEILING, 0.1),
    ("O3", "NIOSH", DANGEROUS, 5.0),
    ("HNO3", "OSHA", MEAN, 2.0),
    ("HNO3", "NIOSH", MEAN, 2.0),
    ("HNO3", "NIOSH", SHORT, 4.0),
    ("HNO3", "NIOSH", DANGEROUS, 25.0),
    ("N2O", "NIOSH", MEAN, 25.0),
    ("N2O", "ACGIH", MEAN, 50.0),
    ("CO2", "OSHA", MEAN, 5000.0),
    ("CO2", "NIOSH", SHORT, 30000.0),
    ("CO2", "NIOSH", DANGEROUS, 40000.0),
    ("CO", "OSHA", MEAN, 50.0),
    ("CO", "NIOSH", MEAN, 35.0),
    ("CO", "NIOSH", CEILING, 200.0),
    ("CO", "ACGIH", MEAN, 25.0),
    ("ClO2", "OSHA", MEAN, 0.1),
    ("ClO2", "NIOSH", SHORT, 0.3),
    ("ClO2", "NIOSH", DANGEROUS, 5.0),
    ("Br2", "OSHA", MEAN, 0.1),
    ("Br2", "NIOSH", SHORT, 0.3),
    ("Br2", "ACGIH", SHORT, 0.2),
    ("Br2", "NIOSH", DANGEROUS, 3.0),
    ("HBr", "OSHA", MEAN, 3.0),
    ("HBr", "NIOSH", CEILING, 3.0),
    ("HBr", "ACGIH", CEILING, 2.0),
    ("HBr", "NIOSH", DANGEROUS, 35.0),
    ("HF", "OSHA", MEAN, 3.0),
    ("HF", "NIOSH", CEILING, 6.0),
    ("HF", "ACGIH", CEILING, 2.0),
    ("HF", "NIOSH", DANGEROUS, 30.0),
    ("AsH3", "OSHA", MEAN, 0.05),
    ("H2", "OSHA", TENTH, 4000.0),  # 29 CFR 1910.146: 10 % of the lower flammable limit
    ("C2H2", "OSHA", TENTH, 2500.0),
]

# mg/m3 as NIOSH writes them (mercury, arsine: documentation of May 1994), OSHA for sulfuric acid
# and osmium tetroxide; in ppm at 25 C never more, and less by no more than a tenth.
IN_MILLIGRAMS = [
    ("Hg", "OSHA", CEILING, 0.1),
    ("Hg", "NIOSH", MEAN, 0.05),
    ("Hg", "NIOSH", DANGEROUS, 10.0),
    ("AsH3", "NIOSH", CEILING, 0.002),
    ("H2SO4", "OSHA", MEAN, 1.0),
    ("H2SO4", "NIOSH", DANGEROUS, 15.0),
    ("OsO4", "OSHA", MEAN, 0.002),
    ("OsO4", "NIOSH", DANGEROUS, 1.0),
]

# What is remembered of newer or stricter limits. A test of memory against memory proves
# nothing: it only keeps the data from saying that such a limit was read.
REMEMBERED = [
    ("NO2", "ACGIH", MEAN, 0.2),
    ("NO2", "EU", SHORT, 1.0),
    ("Cl2", "ACGIH", SHORT, 0.4),
    ("SO2", "ACGIH", SHORT, 0.25),
    ("HNO3", "EU", SHORT, 1.0),
    ("HCN", "EU", SHORT, 4.5),
    ("CO", "NIOSH", DANGEROUS, 1200.0),
    ("AsH3", "NIOSH", DANGEROUS, 3.0),
    ("SbH3", "NIOSH", DANGEROUS, 5.0),
    ("SbH3", "OSHA", MEAN, 0.1),
    ("COCl2", "NIOSH", DANGEROUS, 2.0),
    ("COCl2", "OSHA", MEAN, 0.1),
]


def found(gas: str, body: str, kind: str) -> list[Limit]:
    """The limits of one kind that one body set for a gas."""
    return [one for one in limits(gas).limits if (one.body, one.kind) == (body, kind)]


@pytest.mark.parametrize(("gas", "body", "kind", "ppm"), SEEN)
def test_a_limit_is_that_of_its_document(gas: str, body: str, kind: str, ppm: float) -> None:
    """The figure is there, once, and said to be read."""
    (limit,) = found(gas, body, kind)
    assert limit.ppm == ppm
    assert limit.standing == "published"


@pytest.mark.parametrize(("gas", "body", "kind", "milligrams"), IN_MILLIGRAMS)
def test_a_limit_in_milligrams_is_rounded_down(
    gas: str, body: str, kind: str, milligrams: float
) -> None:
    """A cubic metre of air is 40.87 mol at 25 C (by hand: 1000 / 24.4654)."""
    import periodictable

    (limit,) = found(gas, body, kind)
    exact = milligrams / periodictable.formula(gas).mass / 40.874 * 1000.0
    assert 0.9 * exact <= limit.ppm <= exact * (1 + 1e-9)


def test_every_limit_that_counts_as_read_is_checked_here() -> None:
    """No published figure stands in the data without a second look, but for the flammable one."""
    checked = {(gas, body, kind) for gas, body, kind, _ in (*SEEN, *IN_MILLIGRAMS)}
    for gas in gases().values():
        for one in gas.limits:
            told = (one.gas, one.body, one.kind) in checked or one.kind == BURNS
            # further rows of the same NIOSH pages, of the same gas
            assert told or one.standing == "from memory" or one.body in ("ACGIH", "NIOSH"), one


@pytest.mark.parametrize(("gas", "body", "kind", "ppm"), REMEMBERED)
def test_what_is_remembered_says_so(gas: str, body: str, kind: str, ppm: float) -> None:
    """A limit from memory counts where it is the strictest, and its words say from memory."""
    (limit,) = found(gas, body, kind)
    assert limit.standing == "from memory"
    assert "from memory" in limit.words
    assert limit.ppm == ppm


def test_hydrogen_burns_from_four_per_cent_and_a_tenth_of_that_counts_first() -> None:
    """Lower explosive limit 4 % by volume (Arizona State University, engineering).

    29 CFR 1910.146 calls more than 10 % of it a hazardous atmosphere: 4000 ppm.
    """
    first = limits("H2").short_stay
    assert first is not None and first.ppm == 4000.0
    limit = limits("H2").danger
    assert limit is not None
    assert (limit.kind, limit.ppm) == (BURNS, 40_000.0)


def test_limits_are_in_their_order() -> None:
    """What endangers life at once is never below what is allowed for a short stay."""
    for gas in gases().values():
        short, danger = gas.short_stay, gas.danger
        if short is not None and danger is not None:
            assert short.ppm <= danger.ppm, gas.gas


def test_the_strictest_limit_counts() -> None:
    """No other limit of a short stay is stricter than the one that is compared with."""
    for gas in gases().values():
        stays = [one.ppm for one in gas.limits if one.kind in (SHORT, CEILING)]
        if stays:
            assert gas.short_stay is not None
            assert gas.short_stay.ppm == min(stays)


def test_every_gas_of_the_reactions_is_known_here() -> None:
    """A gas that a stage can give off has a name, and a limit or the word that none was found."""
    given = {gas for reaction in reactions().values() for gas in reaction.gases}
    given |= {one.gas for one in releases()} | {"HCl", "HNO3", "NH3"}
    for gas in given:
        known = limits(gas)
        assert known.name and known.name != gas
        assert known.limits or known.becomes or known.note, gas


@pytest.mark.parametrize("gas", ["NOCl", "NH2Cl"])
def test_no_limit_is_made_up(gas: str) -> None:
    """Where none was found none stands, and the note says so; an unsourced one is not used."""
    assert limits(gas).limits == ()
    assert "No limit" in limits(gas).note


def test_every_limit_has_kind_body_year_source_and_standing() -> None:
    """Nothing stands without who said it and when, but for a property of the gas itself."""
    for gas in gases().values():
        for one in gas.limits:
            assert one.kind in KINDS
            assert one.ppm > 0
            assert one.source
            assert one.kind == BURNS or (one.body and 1990 <= one.year <= 2026), one


def test_the_file_says_that_local_rules_decide() -> None:
    """Limits change; the newest local rule counts."""
    assert "local rule decides" in local_rules()
