"""The slip that gives a figure is named: each kind of slip, by hand.

Premises in `claims_book.py`. Units: NIST Special Publication 811 (2008), appendix B.8, and NIST
Handbook 44, appendix C: troy ounce 31.1034768 g, avoirdupois ounce 28.349523125 g, pennyweight
1.55517384 g (20 to the troy ounce), grain 0.06479891 g (24 to the pennyweight).
"""

from __future__ import annotations

import pytest

from tests.calculation.claims_book import all_checked, checked

SLIPS = [
    # ounces: 128.7 g are 4.13780 ozt, 4.53976 oz, 82.756 dwt
    ("fine silver 4.540 ozt", "a common ounce of 28.35 g was taken for a troy ounce"),
    ("fine silver 4.138 oz", "a troy ounce of 31.10 g was taken for a common ounce"),
    ("fine silver 82.76 g", "the figure is in pennyweights, not in grams"),
    ("fine silver 99.31 dwt", "24 pennyweights were counted to an ounce"),  # 82.756 x 24 / 20
    ("fine silver 1655 gr", "20 grains were counted to a pennyweight"),  # 1986.14 x 20 / 24
    ("price of silver 28.35 EUR/ozt", "a common ounce"),  # 1.00 x 28.3495
    ("worth 4403 EUR of [A] at 1.10 EUR per g", "price of an ounce was taken for each gram"),
    # fineness: 130.0 x 0.990 = 128.7
    ("fine silver 130.0 g", "the fineness was left out"),
    ("fine silver 127.4 g", "the fineness was taken off twice"),  # 130.0 x 0.990^2 = 127.41
    ("worth 130.00 EUR", "the fineness was left out"),
    # the wrong base: 140.0 g of silver in 200.0 g
    ("recovery 64.4 %", "it was taken over the weight of the scrap"),  # 128.7 / 200.0 = 64.35
    ("recovery 65.0 %", "that is the mass yield"),  # 130.0 / 200.0
    ("recovery 92.86 %", "the whole weight of the product was taken"),  # 130.0 / 140.0
    ("recovery 8.1 %", "it is what is missing"),  # 1 - 0.9193
    ("recovery 108.8 %", "the wrong way round"),  # 140.0 / 128.7 = 1.08780
    ("mass yield 91.9 %", "it is the recovery of silver"),
    ("mass yield 92.86 %", "over the silver in the scrap"),
    ("head grade 64.35 %", "it is what came out, not what went in"),
    # digits
    ("recovery 9.19 %", "the decimal point slipped"),
    ("fine silver 12.87 g", "the decimal point slipped"),
    ("worth 12870 EUR", "the decimal point slipped by two places"),
    ("fine silver 182.7 g", "two digits were swapped"),
    ("hours 3 h 54 min", "two digits were swapped"),
    ("worth 178.70 EUR", "one digit is wrong"),
    ("recovery 91.92 %", "the last digit was cut off"),  # 91.9286
    # rounded too early: 130 / 140 is caught above; 9.14 to 9
    ("recovery 92.1 %", "was rounded to 129 g first"),  # 129 / 140.0 = 92.14
    # hours
    ("hours 3.45 h", "minutes were read as decimals"),
    ("hours 3 h 5 min", "hours and minutes were added like decimals"),  # 2.15 + 2 x 0.45 = 3.05
    ("hours 5 h 45 min", "it was heated were counted as work"),  # 3 h 45 min + 2 h
    ("hours 1 h 30 min", 'the hours of "Dissolve" were left out'),
    ("labour 69 EUR", "minutes were read as decimals"),  # 3.45 x 20
    # money
    ("cost of nitric acid 30 EUR", "all that was bought was charged"),
    ("cost of nitric acid 50 EUR", "all that was ever bought was charged"),
    ("cost of nitric acid 9.00 EUR", "price of 2 January 2026, not at the average"),  # 0.3 x 30
    ("cost of nitric acid 15.00 EUR", "it was counted twice"),
    ("cost 17.44 EUR", "the work was left out"),  # 92.44 - 75
    ("cost 152.44 EUR", "the scrap was taken in"),
    ("cost 100.44 EUR", "what broke was counted twice"),  # 92.44 + 8
    ("cost with the scrap 212.44 EUR", "the scrap was counted twice"),
    ("cost with the scrap 92.44 EUR", "the scrap was left out"),
    ("worth 154.44 EUR", "the price of 1 February 2026, 1.2 EUR/g, was used"),  # 128.7 x 1.20
    ("net 128.70 EUR", "no cost was taken off"),
    ("net 23.74 EUR", "the wrong way round"),
    ("51.26 EUR an hour", "it was not divided by the hours"),
    ("paid 2.33 EUR/g", "grams were taken over money"),  # 140.0 / 60 = 2.333
    # their own words
    ("130 g = 4.59 ozt", "common ounce"),  # 130 / 28.3495 = 4.5856
]


@pytest.mark.parametrize(("claim", "slip"), SLIPS)
def test_the_slip_is_named(claim: str, slip: str) -> None:
    """It gives the claimed figure, and the claim does not agree."""
    found = checked(claim)
    assert found.agrees == "no", found.why
    assert slip in found.slip


@pytest.mark.parametrize("claim", ["recovery 71.3 %", "fine silver 143.3 g", "hours 3 h 11 min"])
def test_what_no_slip_gives_is_left_without(claim: str) -> None:
    """A wrong figure that nothing explains stays without an explanation."""
    found = checked(claim)
    assert (found.agrees, found.slip) == ("no", "")


def test_a_slip_is_one_plain_sentence() -> None:
    """No blame, no capital, no full stop: it stands behind "probably"."""
    for found in all_checked([claim for claim, _ in SLIPS]):
        assert not found.slip.endswith(".")
        assert not {"you", "error", "mistake", "should"} & set(found.slip.lower().split())
