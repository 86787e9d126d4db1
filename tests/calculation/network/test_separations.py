"""Masses and assays reconciled together: worksheets, published plants, and a second method.

Worksheets have as many readings as unknown, so that their answers do not depend on any doubt.
Where there is redundancy, the answer is that of scipy's minimiser on the same sum of squares,
sharpened by a Gauss-Newton of its own (`bilinear_reference`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

import numpy as np
import pytest
from bilinear_reference import Bilinear
from published import CASES

from logbook.calculation.network.arcs import OUTSIDE, Known
from logbook.calculation.network.separations import Piece, reconcile_pieces
from logbook.model.amount import Uncertain

UNITS = {"au": 1e-6, "ag": 1e-6}  # assays in g/t (or in any other part of a million); else in %
PERCENT = 0.01


def one(name: str, value: float, u: float) -> tuple[Uncertain, ...]:
    """One reading with an error of its own."""
    return (Uncertain.of(value, u, name),)


def number(found: Known | Uncertain) -> Uncertain:
    """The figure itself."""
    if isinstance(found, Uncertain):
        return found
    assert found.value is not None
    return found.value


@dataclass(frozen=True)
class Sheet:
    """A worksheet: a feed and its products, with assays as fractions."""

    name: str
    case: Mapping[str, Any]

    @property
    def pieces(self) -> list[Piece]:
        """The feed into one separation, the products out of it."""
        masses, assays = self.case["mass"], self.case["assays"]
        names = [("feed", OUTSIDE, "separation")]
        names += [(product, "separation", OUTSIDE) for product in self.case["products"]]
        return [
            Piece(
                name,
                tail,
                head,
                one(f"mass of {name}", masses[name], 0.001 * masses[name])
                if name in masses
                else (),
                {
                    metal: one(f"{metal} in {name}", part(metal, value), 0.01 * part(metal, value))
                    for metal, value in assays.get(name, {}).items()
                },
            )
            for name, tail, head in names
        ]


def part(metal: str, value: float) -> float:
    """An assay as a fraction."""
    return value * UNITS.get(metal, PERCENT)


SHEETS = [
    Sheet(name, case)
    for name, case in CASES.items()
    if "products" in case and name != "distillation"
]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_worksheets(sheet: Sheet) -> None:
    """Weights, contents, heads calculated back and recoveries, to the digits of the sheet."""
    expected = sheet.case["expected"]
    found = reconcile_pieces(sheet.pieces)
    assert found.converged
    assert found.freedom == 0, "not testable"
    assert found.chi_square == pytest.approx(0.0, abs=1e-9)
    for name, mass in expected.get("mass", {}).items():
        # The sheet of 600 t prints its tail with one slip in the third decimal.
        assert number(found.masses[name]).value == pytest.approx(mass, rel=2e-6, abs=6e-4), name
    for name, held in expected.get("content", {}).items():
        for metal, value in held.items():
            grams = number(found.contents[name][metal]).value
            assert grams == pytest.approx(value * UNITS.get(metal, 1.0), rel=2e-5), (name, metal)
    for name, held in expected.get("assay", {}).items():
        for metal, value in held.items():
            assay = number(found.assays[name][metal]).value
            assert assay == pytest.approx(part(metal, value), rel=2e-6), (name, metal)
    for name, held in expected.get("recovery", {}).items():
        for metal, value in (held if isinstance(held, dict) else {"cu": held}).items():
            head = number(found.contents["feed"][metal]).value
            recovery = 100.0 * number(found.contents[name][metal]).value / head
            assert recovery == pytest.approx(value, abs=0.0051), (name, metal)
    for metal, value in expected.get("accountability", {}).items():
        built_up = sum(number(found.contents[p][metal]).value for p in sheet.case["products"])
        assayed = number(found.masses["feed"]).value * part(
            metal, sheet.case["assayed_head"][metal]
        )
        assert 100.0 * built_up / assayed == pytest.approx(value, abs=0.0051), metal


def tin(u_products: float, u_feed: Iterable[float]) -> list[Piece]:
    """The tin concentrator of Wills: 100 t of feed, six assays of each stream in percent."""
    case = CASES["wills_tin"]
    metals = case["components"]
    doubts = dict(zip(metals, u_feed, strict=True))

    def assays(stream: str, u: Mapping[str, float]) -> dict[str, tuple[Uncertain, ...]]:
        return {
            metal: one(f"{metal} in {stream}", PERCENT * value, PERCENT * u[metal])
            for metal, value in zip(metals, case[stream], strict=True)
        }

    same = dict.fromkeys(metals, u_products)
    return [
        Piece("feed", OUTSIDE, "plant", one("mass", 100.0, 0.001), assays("feed", doubts)),
        Piece("conc", "plant", OUTSIDE, (), assays("conc", same)),
        Piece("tail", "plant", OUTSIDE, (), assays("tail", same)),
    ]


def test_best_fit_yield_of_wills_by_node_imbalance() -> None:
    """37.03 %: Σ(f − t)(c − t) / Σ(c − t)², as if only the feed's assays could be wrong.

    Then the sum of squares of the feed's corrections is that of the node's imbalances.
    """
    case = CASES["wills_tin"]
    f, c, t = (np.array(case[name]) for name in ("feed", "conc", "tail"))
    each = 100.0 * (f - t) / (c - t)
    assert each == pytest.approx(case["expected"]["yield_of_each"], abs=0.0051)
    by_hand = 100.0 * float((f - t) @ (c - t) / ((c - t) @ (c - t)))
    assert by_hand == pytest.approx(case["expected"]["yield_best_fit"], abs=0.0051)
    found = reconcile_pieces(tin(1e-7, [1.0] * 6))
    assert found.converged
    assert found.freedom == 5  # six balances of metals, one yield
    assert number(found.masses["conc"]).value == pytest.approx(by_hand, abs=1e-4)


def test_exact_yields_of_wills_one_metal_at_a_time() -> None:
    """With one metal alone the two-product formula is the answer, whatever the doubts."""
    case = CASES["wills_tin"]
    for n, metal in enumerate(case["components"]):
        pieces = [
            Piece(p.key, p.tail, p.head, p.mass, {metal: p.assays[metal]})
            for p in tin(0.3, [0.3] * 6)
        ]
        found = reconcile_pieces(pieces)
        wanted = case["expected"]["yield_of_each"][n]
        assert number(found.masses["conc"]).value == pytest.approx(wanted, abs=0.0051), metal


def as_pieces(problem: Bilinear) -> list[Piece]:
    """A problem of the reference as records of the engine."""
    return [
        Piece(
            name,
            tail or OUTSIDE,
            head or OUTSIDE,
            one(f"mass {name}", *problem.masses[name]) if name in problem.masses else (),
            {
                metal: one(f"{metal} {name}", *reads[name]) if name in reads else ()
                for metal, reads in problem.assays.items()
            },
        )
        for name, tail, head in problem.pieces
    ]


def tin_problem() -> tuple[Bilinear, np.ndarray]:
    """Wills' concentrator with every assay uncertain by 5 % of itself."""
    case = CASES["wills_tin"]
    names = ("feed", "conc", "tail")
    reads = {
        metal: {name: (0.01 * case[name][n], 0.0005 * case[name][n]) for name in names}
        for n, metal in enumerate(case["components"])
    }
    pieces = [("feed", "", "plant"), ("conc", "plant", ""), ("tail", "plant", "")]
    start = [100.0, 37.0, 63.0] + [reads[m][name][0] for m in reads for name in names]
    return Bilinear(pieces, list(reads), {"feed": (100.0, 0.1)}, reads), np.array(start)


def column_problem() -> tuple[Bilinear, np.ndarray]:
    """The distillation column."""
    case = CASES["distillation"]
    reads = {
        metal: {name: tuple(held[metal]) for name, held in case["assays"].items()}
        for metal in ("one", "two")
    }
    pieces = [("feed", "", "column"), ("top", "column", ""), ("bottom", "column", "")]
    masses = {name: tuple(read) for name, read in case["mass"].items()}
    start = [m for m, _ in masses.values()] + [reads[m][p[0]][0] for m in reads for p in pieces]
    return Bilinear(pieces, list(reads), masses, reads), np.array(start)


def juice_problem() -> tuple[Bilinear, np.ndarray]:
    """The extraction plant, with three assays of every stream and one flow."""
    case = CASES["juice"]
    metals = ("x", "y", "z")
    reads = {
        metal: {s[0]: (s[3][n] / 100.0, case["u"] * s[3][n] / 100.0) for s in case["streams"]}
        for n, metal in enumerate(metals)
    }
    pieces = [tuple(s[:3]) for s in case["streams"]]
    start = list(case["first_guess"]) + [reads[m][p[0]][0] for m in metals for p in pieces]
    return Bilinear(pieces, metals, {"F1": (case["flow"]["F1"], 0.01)}, reads), np.array(start)


PROBLEMS = {"tin": tin_problem, "column": column_problem, "juice": juice_problem}


@pytest.mark.parametrize("name", PROBLEMS)
def test_least_squares_of_masses_and_assays(name: str) -> None:
    """Masses, assays, their doubts, X² and degrees of freedom, as the second method has them."""
    problem, start = PROBLEMS[name]()
    best = problem.newton(start)
    general = problem.solved(start)
    assert general == pytest.approx(best, rel=1e-6), "the two second methods agree"
    u = np.sqrt(np.diag(problem.covariance(best)))
    found = reconcile_pieces(as_pieces(problem))
    assert found.converged
    assert found.freedom == problem.freedom(best)
    assert found.chi_square == pytest.approx(problem.chi_square(best), rel=1e-7)
    for key, *_ in problem.pieces:
        at = problem.place(key)
        mass = number(found.masses[key])
        assert mass.value == pytest.approx(best[at], rel=1e-8), key
        assert mass.u == pytest.approx(u[at], rel=1e-4), key
        for metal in problem.metals:
            at = problem.place(key, metal)
            assay = number(found.assays[key][metal])
            assert assay.value == pytest.approx(best[at], rel=1e-8), (key, metal)
            assert assay.u == pytest.approx(u[at], rel=1e-4), (key, metal)
            held = number(found.contents[key][metal]).value
            assert held == pytest.approx(mass.value * assay.value, rel=1e-9), (key, metal)


@pytest.mark.parametrize("name", PROBLEMS)
def test_masses_and_metals_are_conserved(name: str) -> None:
    """In is out at every node, for the mass and for every metal, to 1e-9."""
    problem, _ = PROBLEMS[name]()
    found = reconcile_pieces(as_pieces(problem))
    for node in {n for _, tail, head in problem.pieces for n in (tail, head)} - {""}:
        for metal in ("", *problem.metals):
            net, gross = 0.0, 0.0
            for key, tail, head in problem.pieces:
                if node in (tail, head):
                    held = found.contents[key][metal] if metal else found.masses[key]
                    net += number(held).value * (1.0 if head == node else -1.0)
                    gross += number(held).value
            assert net == pytest.approx(0.0, abs=1e-9 * gross), (node, metal)


def test_doubts_are_those_of_a_monte_carlo() -> None:
    """Readings of Wills' plant that err as they say, solved anew 400 times by the reference."""
    problem, start = tin_problem()
    best = problem.newton(start)
    found = reconcile_pieces(as_pieces(problem))
    random = Random(31)
    drawn = []
    for _ in range(400):
        masses = {"feed": (random.gauss(*problem.masses["feed"]), problem.masses["feed"][1])}
        reads = {
            metal: {
                name: (random.gauss(best[problem.place(name, metal)], u), u)
                for name, (_, u) in held.items()
            }
            for metal, held in problem.assays.items()
        }
        again = Bilinear(problem.pieces, problem.metals, masses, reads)
        drawn.append(again.newton(best, steps=12))
    spread = np.std(drawn, axis=0)
    # 400 samples know a standard deviation to 3.5 %; the problem is not quite linear.
    for key in ("feed", "conc", "tail"):
        assert number(found.masses[key]).u == pytest.approx(spread[problem.place(key)], rel=0.15)


def test_a_separation_that_closes_is_left_alone() -> None:
    """Readings that are the true masses and assays stay as they are."""
    problem, start = column_problem()
    true = problem.newton(start)
    exact = Bilinear(
        problem.pieces,
        problem.metals,
        {name: (true[problem.place(name)], u) for name, (_, u) in problem.masses.items()},
        {
            metal: {name: (true[problem.place(name, metal)], u) for name, (_, u) in held.items()}
            for metal, held in problem.assays.items()
        },
    )
    found = reconcile_pieces(as_pieces(exact))
    assert found.chi_square == pytest.approx(0.0, abs=1e-12)
    for key, *_ in problem.pieces:
        assert number(found.masses[key]).value == pytest.approx(true[problem.place(key)], rel=1e-9)


def test_order_and_unit_of_a_separation_do_not_matter() -> None:
    """Pieces in another order, and masses in another unit, give the same."""
    problem, _ = tin_problem()
    plain = reconcile_pieces(as_pieces(problem))
    turned = reconcile_pieces(as_pieces(problem)[::-1])
    larger = Bilinear(problem.pieces, problem.metals, {"feed": (1e5, 100.0)}, problem.assays)
    scaled = reconcile_pieces(as_pieces(larger))
    assert turned.chi_square == pytest.approx(plain.chi_square, rel=1e-9)
    assert scaled.chi_square == pytest.approx(plain.chi_square, rel=1e-9)
    for key, *_ in problem.pieces:
        mass = number(plain.masses[key]).value
        assert number(turned.masses[key]).value == pytest.approx(mass, rel=1e-9)
        assert number(scaled.masses[key]).value == pytest.approx(1000.0 * mass, rel=1e-8)
