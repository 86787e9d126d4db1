"""The money, the hours and the electricity of the demo could have been so.

Nothing here calls the program. Each figure is entered by hand beside the words of the log that
it was read from, and a test holds that the words stand there. What the keeper reckoned is worked
out again by hand: most of it is right, three lines hold a slip that nobody remarks upon. Troy
ounce 31.1034768 g and ounce 28.349523125 g: NIST Handbook 44, appendix C (from memory); specific
heats are rounded figures of common tables (from memory).
"""

from __future__ import annotations

from pathlib import Path

import pytest

RUNS = Path(__file__).parents[2] / "runs"
LOT_1, LOT_2 = "2025-01-18-relay-contacts-lot-1.md", "2025-02-15-relay-contacts-lot-2.md"
LOT_3, CHLORIDE = "2025-03-22-relay-contacts-lot-3.md", "2025-04-12-lot-3-by-chloride.md"
LOT_4, LOT_5 = "2025-07-19-relay-contacts-lot-4.md", "2025-09-13-relay-contacts-lot-5.md"
BUTTON, BARS = "2025-06-28-gold-button-sold.md", "2026-01-17-small-bars-sold.md"
GLYOXIME, IODINE = "2025-10-18-exchange-contacts-glyoxime.md", "2026-01-10-iodine-trial.md"
CASE_BAR, ACID = "2025-06-21-watch-case-bar.md", "2025-12-06-spent-acid.md"
SWEEPS, TIPS = "2025-06-07-sweeps-first-draw.md", "2025-12-13-contactor-tips.md"
CASES = "2025-03-08-gold-filled-watch-cases.md"

TROY_OUNCE, OUNCE = 31.1034768, 28.349523125  # g

# Log, and words as they stand there: what the figures below were read from by eye.
WORDS = [
    (LOT_1, "at 60-65 C for 2 h 15 min on the hotplate, at about 180 W"),
    (LOT_1, "worked 1 h 10 min"),
    (LOT_1, "worked 50 min"),
    (LOT_1, "worked 40 min"),
    (LOT_1, "reckoned hours 2 h 40 min"),
    (LOT_2, "at 60 C for 3 1/2 h on the hotplate, at about 250 W"),
    (LOT_2, "worked 1 h 45 min"),
    (LOT_2, "worked 1 h 20 min"),
    (LOT_2, "reckoned hours 3 h 5 min"),
    (LOT_2, "got 265.6 g silver bar [AG-2], silver 99.5 ± 0.3 %"),
    (LOT_2, "reckoned worth 256.34 EUR of [AG-2] at 0.97 EUR per g"),
    (LOT_3, "worked 35 min"),
    (CHLORIDE, "worked 1 h 15 min"),
    (CHLORIDE, "worked 30 min"),
    (CHLORIDE, "worked 2 h 40 min in all"),
    (LOT_4, "worked 20 min"),
    (LOT_4, "worked 1 h 15 min"),
    (LOT_4, "worked 50 min"),
    (LOT_4, "reckoned hours 2.25 h"),
    (LOT_5, "worked 1 h 30 min"),
    (LOT_5, "worked 50 min"),
    (LOT_5, "reckoned hours 2 h 20 min"),
    (LOT_5, "got 199.6 g silver bar [AG-6], silver 99.5 ± 0.3 %"),
    (LOT_5, "reckoned fine silver 7.01 ozt"),
    (CASES, "got 3.31 g gold button [AU-1]"),
    (BUTTON, "assayed [AU-1], gold 97.6 ± 0.3 % by x-ray"),
    (BUTTON, "sold [AU-1] for 281 EUR, fee 4 EUR"),
    (BARS, "sold [AG-2] for 335 EUR, less 3 EUR fee"),
    (BARS, "got 189.70 g silver bar [AG-10]"),
    (BARS, "about 1050 C for 45 min in the small furnace, used 1.5 kWh"),
    (CASE_BAR, "about 1050 C for 35 min in the small furnace, used 1.4 kWh"),
    (SWEEPS, "about 550 C for 2 h in the furnace, used 1.9 kWh"),
    (TIPS, "at 65 C for 3 h 10 min on the hotplate, at about 180 W"),
    (GLYOXIME, "added 14.0 g dimethylglyoxime"),
    (GLYOXIME, "reckoned cost of dimethylglyoxime 19 EUR"),
    (IODINE, "added 1.5 g iodine"),
    (IODINE, "reckoned cost of iodine 1.20 EUR"),
    (ACID, "added 260 g sodium bicarbonate"),
    (ACID, "reckoned cost of sodium bicarbonate 1.30 EUR"),
    ("supplies.md", "2025-10-04 bought 25 g dimethylglyoxime for 19 EUR"),
    ("supplies.md", "2025-12-20 bought 10 g iodine for 8.70 USD"),
    ("supplies.md", "2025-11-08 bought 1 kg sodium bicarbonate for 5 EUR"),
    ("supplies.md", "2025-12-06 bought 1 kg sodium bicarbonate for 5 EUR"),
    ("prices.md", "2025-12-20 priced USD at 0.92 EUR"),
    ("prices.md", "2025-06-21 priced gold at 91.70 EUR/g"),
    ("prices.md", "2026-01-17 priced silver at 1.31 EUR/g"),
    ("prices.md", "2025-06-28 priced gold, payable 95 %"),
    (
        "prices.md",
        "2026-01-17 priced silver, payable 98 %, treatment charge 2 EUR/kg, "
        "refining charge 0.02 EUR/g",
    ),
]


@pytest.mark.parametrize(("log", "words"), WORDS)
def test_the_words_stand_in_the_log(log: str, words: str) -> None:
    """Every figure below was read from words that are there."""
    assert words in (RUNS / log).read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("noted", "reckoned"),
    [
        ((70, 50, 40), 2 * 60 + 40),  # lot 1
        ((105, 80), 3 * 60 + 5),  # lot 2
        ((90, 50), 2 * 60 + 20),  # lot 5
    ],
)
def test_hours_that_were_reckoned_right(noted: tuple[int, ...], reckoned: int) -> None:
    """The minutes of the single lines make what the keeper wrote."""
    assert sum(noted) == reckoned


def test_hours_that_were_written_as_decimals() -> None:
    """Lot 4 took two hours and twenty-five minutes; 2.25 h would be ten minutes less."""
    minutes = 20 + 75 + 50
    assert divmod(minutes, 60) == (2, 25)
    assert minutes - 2.25 * 60 == pytest.approx(10.0)


def test_hours_in_all_hold_what_was_noted() -> None:
    """Lot 3 with its rescue: 35, 75 and 30 minutes lie in the 160, and 20 belong nowhere."""
    assert 160 - (35 + 75 + 30) == 20


def test_worth_and_supplies_that_were_reckoned_right() -> None:
    """Weight times fineness times price; what was used, at what the jar had cost."""
    bar = 265.6 * 0.995 * 0.97
    iodine, bicarbonate = 1.5 * 8.70 / 10 * 0.92, 260 * (5 + 5) / 2000
    assert (bar, iodine, bicarbonate) == pytest.approx((256.34, 1.20, 1.30), abs=0.005)


def test_a_jar_that_was_charged_whole() -> None:
    """Eleven grams of the glyoxime were left: what was used had cost 10.64 EUR and not 19."""
    used, bought, paid = 14.0, 25.0, 19.0
    assert used / bought * paid == pytest.approx(10.64)


def test_ounces_of_the_kitchen() -> None:
    """The silver of bar 6 is 7.01 kitchen ounces; in troy ounces it is 6.39."""
    fine = 199.6 * 0.995
    assert fine / OUNCE == pytest.approx(7.01, abs=0.005)
    assert fine / TROY_OUNCE == pytest.approx(6.39, abs=0.005)


def test_what_the_buyers_paid_is_near_their_terms() -> None:
    """Both sales come within two euros of what the terms on the card give."""
    button = 3.31 * 0.976 * 0.95 * 91.70
    bar = 265.6 * 0.995 * 0.98 * (1.31 - 0.02) - 0.2656 * 2
    assert button == pytest.approx(281, abs=2)
    assert bar == pytest.approx(335, abs=2)


@pytest.mark.parametrize(
    ("used", "least", "hours", "kilowatts"),
    [
        # kWh used; kJ to warm what stood there; h; the most that such a thing draws, kW
        (0.180 * 2.25, 0.72 * 3.5 * 45, 2.25, 0.8),  # lot 1: 0.72 kg of liquid, by 45 K
        (0.250 * 3.5, 1.87 * 3.5 * 40, 3.5, 0.8),  # lot 2: 3 x 0.62 kg, by 40 K
        (0.180 * (3 + 1 / 6), 0.88 * 3.5 * 45, 3 + 1 / 6, 0.8),  # contactor tips
        # 163 g and 190 g of silver to 1050 C: 0.24 kJ/(kg K), 105 kJ/kg to melt; some to warm up
        (1.4, 0.163 * (0.24 * 1030 + 105), 35 / 60 + 1, 1.5),
        (1.5, 0.190 * (0.24 * 1030 + 105), 45 / 60 + 1, 1.5),
        (1.9, 0.200 * 1.0 * 530, 2 + 1, 1.5),  # 200 g of sweeps, about 1 kJ/(kg K)
    ],
)
def test_electricity_is_enough_and_no_wonder(
    used: float, least: float, hours: float, kilowatts: float
) -> None:
    """More than the heat that stays in the charge, less than plate or furnace can draw."""
    assert least / 3600 < used < hours * kilowatts
