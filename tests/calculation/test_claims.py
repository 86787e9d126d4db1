"""Reckoned figures of every kind: each right one agrees, each wrong one does not.

The figures are worked out by hand; see `claims_book.py` for the premises. Factors of units: NIST
Special Publication 811 (2008), appendix B.8, and NIST Handbook 44, appendix C: troy ounce
31.1034768 g, avoirdupois ounce 28.349523125 g, pennyweight 1.55517384 g, grain 0.06479891 g.
"""

from __future__ import annotations

import pytest

from tests.calculation.claims_book import all_checked, checked

RIGHT = [
    "recovery 91.9 %",  # 128.7 / 140.0 = 0.91929
    "91.9 % recovery",
    "recovery of silver 0.919",
    "a recovery of about 92 %",
    "mass yield 65 %",  # 130.0 / 200.0
    "head grade 70.0 %",
    "700 g/kg head grade",
    "fine silver 128.7 g",
    "128.7 g fine silver",
    "recovered 128.7 g silver",
    "fine silver 4.138 ozt",  # 128.7 / 31.1034768 = 4.13780
    "fine silver 4.540 oz",  # 128.7 / 28.349523125 = 4.53976
    "82.76 dwt fine silver",  # 128.7 / 1.55517384 = 82.7560
    "fine silver 1986 gr",  # 128.7 / 0.06479891 = 1986.1
    "fine silver 128.7 g in [A]",
    "silver in the scrap 140 g",
    "fineness of [A] 990",
    "[A] is 99 % pure",
    "weight of [A] 130.0 g",
    "hours 3 h 45 min",  # 2 h 15 min + 45 min + 45 min
    "3.75 hours",
    "it took 3 h 45 min",
    "hours of the melt 45 min",
    "heated 2 h",
    "electricity 1 kWh",  # 0.5 kW x 2 h
    "electricity 0.30 EUR",
    "labour 75 EUR",  # 3.75 h x 20 EUR
    "cost of nitric acid 7.50 EUR",  # 0.300 L x 25 EUR/L
    "cost of borax 0.04 EUR",  # 5.0 g of 500 g for 4 EUR
    "total cost of supplies 9.14 EUR",  # 7.50 + 0.04 + 1.60
    "cost 92.44 EUR",  # 9.14 + 75 + 0.30 + 8
    "cost with the scrap 152.44 EUR",
    "cost 0.718 EUR per g",  # 92.44 / 128.7 = 0.71826
    "paid 0.43 EUR per g of silver",  # 60 / 140.0 = 0.42857
    "worth 128.70 EUR",
    "worth 143 USD",  # 128.70 / 0.90
    "worth 141.57 EUR of [A] at 1.10 EUR per g",  # 128.7 x 1.10
    "net -23.74 EUR",  # 128.70 - 152.44
    "a loss of 23.74 EUR",
    "a profit of 36.26 EUR without the scrap",  # 128.70 - 92.44
    "13.67 EUR an hour",  # (128.70 - 60 - 9.14 - 0.30 - 8) / 3.75 = 51.26 / 3.75 = 13.669
    "earned 29.67 EUR/h without the scrap",  # 111.26 / 3.75 = 29.669
    "price of silver 31.10 EUR/ozt",  # 1.00 EUR/g x 31.1034768
    "used 300 mL nitric acid",
    "nitric acid used 0.3 L",
    "copper used 50 g",  # 80.0 g went in, 30.0 g were kept
    "nitric acid left 1.7 L",
    "borax left 495 g",
    "4.18 ozt = 130 g",  # 4.18 x 31.1034768 = 130.01
    "130 g is 4.18 ozt",
    "200 g x 0.7 is 140 g",
    "12 x 3.5 g = 42 g",
    "128.7 g / 140 g = 91.9 %",
]
WRONG = [
    "recovery 93.5 %",
    "mass yield 64 %",
    "head grade 72 %",
    "fine silver 129.5 g",
    "fine silver 4.25 ozt",
    "fineness of [A] 999",
    "weight of [A] 131 g",
    "hours 4.5 h",
    "hours 3 h 40 min",
    "electricity 2 kWh",
    "labour 80 EUR",
    "cost of nitric acid 9 EUR",  # a beaker read to 300 mL leaves no room for that
    "cost 95 EUR",
    "worth 120 EUR",
    "net 20 EUR",
    "13.00 EUR an hour",
    "price of silver 30 EUR/ozt",
    "used 250 mL nitric acid",
    "nitric acid left 1.5 L",
    "200 g x 0.7 is 150 g",
]
NOT_TO_BE_CHECKED = [
    ("the moon is 4 g", "nothing in the book goes by these words"),
    ("weight of [Z] 130 g", "nothing in the book goes by [Z]"),
    ("worth 120 CHF", "not written"),
    ("energy 3.60 MJ", "an energy in kWh"),
    ("I spent 90.80", "money, with its currency"),
    ("cost of aqua regia 3 EUR", 'nothing called "aqua regia" was used'),
    ("fine gold 3 g", "the run tells nothing of gold"),
    ("silver to come 140 g", "nothing in the book goes by these words"),
    ("lost 11.3 g", "lies between"),
]


@pytest.mark.parametrize("claim", RIGHT)
def test_what_is_right_agrees(claim: str) -> None:
    """The figure worked out by hand, in the words and units of the bench."""
    found = checked(claim)
    assert found.agrees == "yes", found.why
    assert not found.slip


@pytest.mark.parametrize("claim", WRONG)
def test_what_is_wrong_does_not(claim: str) -> None:
    """By more than half of the last digit; the sentence says by how much."""
    found = checked(claim)
    assert found.agrees == "no", found.why
    assert (
        "more than" in found.why
        or "less than" in found.why
        or "times" in found.why
        or ("other sign" in found.why)
    )


@pytest.mark.parametrize(("claim", "why"), NOT_TO_BE_CHECKED)
def test_what_cannot_be_checked_says_why(claim: str, why: str) -> None:
    """Never an invented figure: the reason."""
    found = checked(claim)
    assert found.agrees == "unknown"
    assert why in found.why


def test_two_claims_that_agree_within_a_doubt_may_still_contradict_each_other() -> None:
    """Only of the same words and unit, and not where the book tells which is wrong."""
    both = all_checked(["lost 3 g", "lost 9 g", "1.00 EUR per g", "13.67 EUR an hour"])
    assert ["both cannot be right" in one.why for one in both] == [True, True, False, False]
    one_wrong = all_checked(["recovery 91.9 %", "recovery 65 %"])
    assert not any("both cannot be right" in one.why for one in one_wrong)


def test_every_answer_leads_to_lines() -> None:
    """A figure that was worked out rests on words of the book."""
    for found in all_checked([*RIGHT, *WRONG]):
        assert found.computed is not None
        assert any(True for _ in found.computed.leaves())
