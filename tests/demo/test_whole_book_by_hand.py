"""The demo's balance against a calculation made apart from the program, from the logs' figures.

The expected values are worked out here from the words of the logs: weight times share, what went
in less what came out, and where two ways lead to one content their weighted mean. Doubts go
through the package `uncertainties`, a second method. What the terms mean is told in the guide's
chapter on the whole book; that errors are independent unless they rest on one reading, in JCGM
100:2008, 5.1.2 and 5.2.2.
"""

from __future__ import annotations

from functools import cache
from math import hypot, sqrt
from pathlib import Path

import numpy as np
import pytest
from uncertainties import UFloat, ufloat

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, Content, MetalBalance, Standing
from logbook.reading.read_book import read_book

RUNS = Path(__file__).parents[2] / "runs"
BENCH = hypot(0.1, 0.1 / sqrt(12))  # g: repeats 0.1, reads 0.1 (scales.md)
POCKET = hypot(0.01, 0.01 / sqrt(12))  # g: repeats 0.01, reads 0.01
ABOUT, VESSEL = 0.1 / sqrt(3), 0.05 / sqrt(3)  # half-widths of the guide, rectangular


def fine(weight: float, scale: float, per_cent: float, doubt: float) -> UFloat:
    """Fine weight: weight on a balance times a share."""
    return ufloat(weight, scale) * ufloat(per_cent, doubt) / 100


def poured(litres: float, grams_per_litre: float = 0.02) -> UFloat:
    """Metal in a liquid in a beaker, as sure as it is much."""
    return ufloat(litres, litres * VESSEL) * ufloat(grams_per_litre, grams_per_litre)


def lost(grams: float, per_cent: float) -> UFloat:
    """About so much metal, as fine as the bar."""
    return ufloat(grams, grams * ABOUT) * per_cent / 100


def mean(*ways: UFloat) -> UFloat:
    """The weighted mean of independent ways to one content."""
    weights = [1 / way.s**2 for way in ways]
    return ufloat(
        sum(way.n * weight for way, weight in zip(ways, weights, strict=True)) / sum(weights),
        1 / sqrt(sum(weights)),
    )


def closed(readings: list[UFloat], equations: list[list[float]]) -> list[UFloat]:
    """Independent readings moved so that linear equations hold: x = y - VA'(AVA')^-1 Ay."""
    y = np.array([one.n for one in readings])
    v = np.diag([one.s**2 for one in readings])
    a = np.array(equations)
    gain = v @ a.T @ np.linalg.inv(a @ v @ a.T)
    x, covariance = y - gain @ a @ y, v - gain @ a @ v
    return [ufloat(n, sqrt(c)) for n, c in zip(x, np.diag(covariance), strict=True)]


@cache
def figures() -> BookFigures:
    """The demo, read and worked out."""
    paths = sorted(RUNS.glob("*.md"))
    return work_out(read_book({f"runs/{p.name}": p.read_text(encoding="utf-8") for p in paths}))


def content(key: str, metal: str = "silver") -> Content:
    """How a thing's content is known."""
    return next(thing for thing in figures().things if thing.key == key).held[metal]


def balance(run: str, metal: str = "silver") -> MetalBalance:
    """The balance of one metal in a run, by the start of its name."""
    name = next(name for name in figures().runs if name.startswith(run))
    return next(one for one in figures().runs[name].balances if one.metal == metal)


# Silver bars and what was lost in melting them.
AG1, AG3 = fine(102.43, POCKET, 99.4, 0.3), fine(65.02, POCKET, 99.6, 0.3)
AG8 = fine(22.50, POCKET, 99.3, 0.4)
AG10 = fine(189.70, POCKET, 99.5, 0.3)
# AG-1 + AG-3 + AG-8 = AG-10 + what was lost
SMALL = closed([AG1, AG3, AG8, AG10, lost(0.2, 99.5)], [[1, 1, 1, -1, -1]])

# February: what was melted with the links and did not end in the gold; what the rest gave.
LINKS = fine(9.84, POCKET, 20, 4) - fine(5.68, POCKET, 0.3, 0.2)
LINKS -= ufloat(0.05, 0.05 * ABOUT) * ufloat(0.65, 0.05)
INTO_CEMENT = fine(14.43, POCKET, 99, 0.5) + ufloat(0.02, 0.02) + poured(0.45)

# October: RC-6 went in; bar, brushed copper, blue solution and a loss came out. In February
# 13.12 g of the bar's 88.70 g went in with the links, and the assay is the same.
RC6, AG7 = fine(128.9, POCKET, 70, 1.5), fine(88.70, POCKET, 99.4, 0.3)
OCTOBER = ufloat(0.02, 0.02) + poured(0.75) + ufloat(0.2, 0.1) * 0.994
CORNER = 13.12 / 88.70
RC6_BEST, AG7_BEST, _, _, CEMENT_BEST = closed(
    [RC6, AG7, OCTOBER, LINKS, INTO_CEMENT], [[1, -1, -1, 0, 0], [0, CORNER, 0, 1, -1]]
)

# The filters: what went in, less all that came out and was measured.
P4 = fine(164.3, BENCH, 99, 0.5)
F = {
    "F-1": fine(148.62, POCKET, 71, 1) - SMALL[0] - lost(0.3, 99.4) - ufloat(0.03, 0.03),
    "F-2": fine(390.2, BENCH, 70, 1) - fine(265.6, BENCH, 99.5, 0.3) - lost(0.8, 99.5),
    "F-3": fine(96.40, POCKET, 70, 3) - SMALL[1] - lost(0.4, 99.6) - poured(0.9) - poured(0.5),
    "F-4": fine(212.4, BENCH, 79.5, 1) - P4 - ufloat(0.04, 0.04) - poured(1.1),
    "F-5": fine(305.2, BENCH, 70, 1) - fine(209.9, BENCH, 99.5, 0.3) - lost(0.4, 99.5),
    "F-6": fine(420.5, BENCH, 70, 1) - RC6_BEST - fine(199.6, BENCH, 99.5, 0.3),
}
F["F-1"] -= poured(0.9)
F["F-2"] -= ufloat(0.06, 0.06) + poured(2.1)
F["F-5"] -= ufloat(0.04, 0.04) + poured(1.5)
F["F-6"] -= lost(0.4, 99.5) + ufloat(0.04, 0.04) + poured(1.3)
RF1 = sum(F.values()) - SMALL[2] - lost(0.2, 99.3) - poured(0.6) - poured(0.3)

# The contact dust: dust = fine + coarse; coarse = half + half; each half as it came out.
HALF_BY_COPPER = fine(9.34, POCKET, 99, 0.5) + ufloat(0.01, 0.01) + poured(0.2)
HALF_BY_CHLORIDE = fine(9.27, POCKET, 99, 0.5) + poured(0.25) + poured(0.15)
DUST = closed(
    [
        fine(96.4, BENCH, 31.0, 0.8),
        fine(60.0, BENCH, 18.5, 0.6),
        fine(36.3, BENCH, 52.0, 1.0),
        HALF_BY_COPPER,
        HALF_BY_CHLORIDE,
    ],
    # The jar's weight is 258.6 g and the first half's 129.3 g: they are halves of it.
    [[1, -1, -1, 0, 0], [0, 0, 1, -1, -1], [0, 0, 0, 1, -1]],
)

# The sweeps: five draws of 10.25 g gold, each with 4 % of its own and the assay's 0.5 g.
LOT = 1250.5 * 8.2 / 1000
SHARES = [weight / 1250.5 for weight in (200.0, 250.0, 250.0, 300.0, 250.5)]


def draw(number: int) -> UFloat:
    """A draw: v = (p s C)^2, of which the part is taken that keeps the sum at C."""
    squares = [(share * 0.04 * LOT) ** 2 for share in SHARES]
    own = squares[number] - squares[number] ** 2 / sum(squares)
    by_assay = SHARES[number] * 1250.5 * 0.4 / 1000
    return ufloat(SHARES[number] * LOT, sqrt(own + by_assay**2))


M, A, D = Standing.MEASURED, Standing.ADJUSTED, Standing.DEDUCED
KNOWN: list[tuple[str, str, Standing, UFloat]] = [
    ("RC-1", "silver", M, fine(148.62, POCKET, 71, 1)),
    ("AG-2", "silver", M, fine(265.6, BENCH, 99.5, 0.3)),
    ("AG-9", "silver", M, fine(155.60, POCKET, 99.5, 0.3)),
    ("PD-1", "palladium", M, fine(9.48, POCKET, 97, 1.5)),
    ("AU-2", "gold", M, fine(2.34, POCKET, 98, 2)),
    # Twice assayed, by stone and by x-ray; 3.31 g all the same.
    ("AU-1", "gold", A, mean(ufloat(0.98, 0.02), ufloat(0.976, 0.003)) * ufloat(3.31, POCKET)),
    ("AG-1", "silver", A, SMALL[0]),
    ("AG-3", "silver", A, SMALL[1]),
    ("AG-8", "silver", A, SMALL[2]),
    ("AG-10", "silver", A, SMALL[3]),
    ("RC-6", "silver", A, RC6_BEST),
    # Put back as they were: 5.02 g and 5.0 g, each with a guess of its own.
    ("RC-4A", "silver", A, mean(fine(5.02, POCKET, 70, 3), fine(5.0, BENCH, 70, 3))),
    ("CD-1", "silver", A, DUST[0]),
    ("CD-2", "silver", A, DUST[1]),
    ("2026-01-31-contact-dust: coarse dust", "silver", A, DUST[2]),
    *[(label, "silver", D, content) for label, content in F.items() if label != "F-4"],
    ("RF-1", "silver", D, RF1),
    ("S-9", "silver", D, DUST[2]),
    ("SN-3", "silver", D, CEMENT_BEST),
    ("FG-3", "palladium", D, fine(28.60, POCKET, 35, 2) - fine(9.48, POCKET, 97, 1.5) - 0.1285),
    ("LOT-1, part 1", "gold", D, draw(0)),
    ("LOT-1, part 4", "gold", D, draw(3)),
    ("LOT-1, rest", "gold", D, draw(4)),
    ("CU-2, rest", "silver", D, ufloat(0.03, 0.03)),
    ("AG-7", "silver", A, AG7_BEST),
    ("AG-7, part 1", "silver", D, AG7_BEST * ufloat(CORNER, CORNER * POCKET / 13.12)),
]


@pytest.mark.parametrize(("key", "metal", "standing", "expected"), KNOWN, ids=lambda one: str(one))
def test_a_content_that_is_known(
    key: str, metal: str, standing: Standing, expected: UFloat
) -> None:
    """Each has its standing, its value within a tenth of its doubt, and its doubt."""
    found = content(key, metal)
    assert found.standing is standing
    assert found.best.value is not None
    assert found.best.value.value == pytest.approx(expected.n, abs=0.1 * expected.s)
    assert found.best.value.u == pytest.approx(expected.s, rel=0.05)


def test_the_filter_of_the_open_run_is_deduced_from_the_dry_weight() -> None:
    """168.86 - 162.66 g and a little; by the bar it is 0.3 g less: either within a seventh of u."""
    found = content("F-4")
    assert found.standing is Standing.DEDUCED
    assert found.best.value is not None
    assert found.best.value.value == pytest.approx(F["F-4"].n, abs=0.15 * F["F-4"].s)
    assert found.best.value.u == pytest.approx(F["F-4"].s, rel=0.08)


@pytest.mark.parametrize("label", F)
def test_a_filter_says_that_any_loss_is_in_it(label: str) -> None:
    """Deduced from its making only: between nothing and two doubts more than what is missing."""
    found = content(label)
    assert found.side == "making"
    assert "any loss included" in found.words
    assert found.best.low == 0.0
    assert found.best.high == pytest.approx(F[label].n + 2 * F[label].s, rel=0.05)


@pytest.mark.parametrize(
    "key", ["SN-3", "S-9", "2025-10-11-rest-of-lot-5: silver nitrate solution"]
)
def test_what_is_deduced_from_both_sides_is_checked(key: str) -> None:
    """Making and use agree, so the limits are two doubts either way."""
    found = content(key)
    assert found.side == "both"
    assert "checked" in found.words
    value = found.best.value
    assert value is not None
    assert found.best.low == pytest.approx(value.value - 2 * value.u)
    assert found.best.high == pytest.approx(value.value + 2 * value.u)


# By hand: gold of the draw less what was measured of what came out, all in one of its things.
# 2.0500 - 1.8620 - 0.0003 - 0.0009 = 0.1868 g of the third draw; of the fourth 0.1358 g.
BOUNDED = [
    ("R-3", "gold", 0.0, 0.1868),
    ("2025-11-01-sweeps-third-draw: small beads", "gold", 0.0, 0.1868),
    ("B-1", "silver", 0.0, 265.17),  # 264.272 + 0.796 + 0.06 + 0.042 g came out of all three
    ("CL-3", "silver", 0.0, 8.8438),  # 8.856 - 0.0111 - 0.001 g, and less by its damp weight
    ("FG-5", "silver", 0.0, 8.8438),
    ("BL-1", "gold", 0.0, 58.2208),  # what it weighs, and two doubts of the pocket scale
]


@pytest.mark.parametrize(("key", "metal", "low", "high"), BOUNDED)
def test_a_content_that_is_bounded(key: str, metal: str, low: float, high: float) -> None:
    """No value, two limits, and the reason."""
    found = content(key, metal)
    assert found.standing is Standing.BOUNDED
    assert found.best.value is None
    assert found.best.low == pytest.approx(low, abs=1e-3)
    assert found.best.high == pytest.approx(high, abs=2e-3)
    assert found.best.why


def test_a_content_that_is_unknown() -> None:
    """The jar that nobody ever filled: no upper limit, and the reason."""
    found = content("2026-03-01-three-mistakes: [RC-70]")
    assert found.standing is Standing.UNKNOWN
    assert found.best.high is None
    assert "[RC-70]" in found.best.why


# Pieces of a jar whose sum was measured: 2.60 g x 1.9 % in four times two papers; 107.8 g x
# 0.40 g/kg in five magnetic parts, the first of 17.3 g and the last of 21.4 g. The last papers
# cannot hold less than what head, product, the whole of the magnetic parts and the most of the
# residue leave of their run, 13.63 mg by hand; the other three share what then is left.
SHARED = [
    ("FS-1, before adding", "count", (0.0494 - 0.01363) / 3),
    ("2025-11-29-sweeps-fourth-draw: filters", "count", (0.0494 - 0.01363) / 3),
    ("M-1, before adding", "mass", 0.04312 * 17.3 / 107.8),
    ("2026-02-07-sweeps-rest: magnetic part", "mass", 0.04312 * 21.4 / 107.8),
]


@pytest.mark.parametrize(("key", "rule", "share"), SHARED)
def test_a_share_of_what_a_jar_holds(key: str, rule: str, share: float) -> None:
    """The parts stay bounded; the share stands beside, with its rule."""
    found = content(key, "gold")
    assert found.standing is Standing.BOUNDED
    assert found.best.value is None
    assert found.share_rule == rule
    assert found.allocated is not None
    assert found.allocated.value is not None
    assert found.allocated.value.value == pytest.approx(share, rel=0.01)


def test_one_balance_is_open() -> None:
    """The jar that was weighed damp: (189.6 - 164.3) x 0.99 g, on one balance twice."""
    (gap,) = figures().gaps
    assert (gap.metal, gap.things) == ("silver", ("P-4",))
    assert gap.runs == ("2025-05-24-watch-cases", "2025-06-21-watch-case-bar")
    missing = 0.99 * (ufloat(189.6, BENCH) - ufloat(164.3, BENCH))
    assert gap.missing.value is not None
    assert gap.missing.value.value == pytest.approx(missing.n, rel=1e-3)
    assert gap.missing.value.u == pytest.approx(missing.s, rel=0.02)
    assert "[P-4]" in gap.causes[0].words
    assert "189.6 g" in gap.causes[0].words
    assert "damp" in gap.causes[0].advice


def test_no_other_run_is_open() -> None:
    """Closed where everything was measured; elsewhere a filter or a residue was not."""
    closes: dict[str, set[str]] = {}
    for name, run in figures().runs.items():
        for one in run.balances:
            closes.setdefault(one.closes, set()).add(f"{name[:10]} {one.metal}")
    assert closes["no"] == {"2025-05-24 silver", "2025-06-21 silver"}
    assert closes["yes"] == {
        "2025-10-11 silver",
        "2026-01-17 silver",
        "2026-01-31 silver",
        "2026-02-21 gold",
        "2026-02-21 silver",
    }


# In less out, as it was written; nothing moved.
UNACCOUNTED = [
    ("2025-10-11", "silver", RC6 - AG7 - OCTOBER),
    ("2026-01-17", "silver", AG1 + AG3 + AG8 - AG10 - lost(0.2, 99.5)),
    ("2026-02-21", "silver", LINKS + AG7 * CORNER - INTO_CEMENT),
    (
        "2026-01-31",
        "silver",
        fine(96.4, BENCH, 31.0, 0.8)
        - fine(60.0, BENCH, 18.5, 0.6)
        - HALF_BY_COPPER
        - HALF_BY_CHLORIDE,
    ),
]


@pytest.mark.parametrize(("run", "metal", "expected"), UNACCOUNTED)
def test_what_is_unaccounted(run: str, metal: str, expected: UFloat) -> None:
    """Within two doubts in each, and its doubt with it."""
    found = balance(run, metal).unaccounted.value
    assert found is not None
    assert found.value == pytest.approx(expected.n, abs=0.1 * expected.s)
    assert found.u == pytest.approx(expected.s, rel=0.05)
    assert abs(expected.n) <= 2 * expected.s


# Head, and product over head: feed times grade, button times fineness.
RECOVERIES = [
    ("2025-01-18", "silver", 105.52, 0.965),
    ("2025-02-15", "silver", 273.14, 0.968),
    ("2025-03-08", "gold", 3.542, 0.912),
    ("2025-04-26", "gold", 2.452, 0.935),
    ("2025-06-07", "gold", 1.640, 0.917),
    ("2025-07-05", "silver", 15.444, 0.945),
    ("2025-08-02", "gold", 2.050, 0.947),
    ("2025-09-06", "gold", 2.239, 0.936),
    ("2025-09-13", "silver", 294.35, 0.675),
    ("2025-11-01", "gold", 2.050, 0.908),
    ("2025-11-29", "gold", 2.460, 0.944),
    ("2025-12-13", "silver", 159.57, 0.970),
    ("2026-02-07", "gold", 2.054, 0.935),
]


@pytest.mark.parametrize(("run", "metal", "head", "recovery"), RECOVERIES)
def test_heads_and_recoveries(run: str, metal: str, head: float, recovery: float) -> None:
    """Each run whose feed was assayed and could not be checked keeps the head as written."""
    found = balance(run, metal)
    assert found.head_basis == "assayed"
    assert found.head.value is not None
    assert found.recovery.value is not None
    assert found.head.value.value == pytest.approx(head, rel=1e-3)
    assert found.recovery.value.value == pytest.approx(recovery, abs=1e-3)


def test_more_went_in_than_was_meant() -> None:
    """Lot 4 put its trial back, but the trial's 3.51 g were taken too: 213.64 + 3.51 g."""
    found = balance("2025-07-19").head.value
    assert found is not None
    assert found.value == pytest.approx(213.64 + 3.51, rel=1e-3)
