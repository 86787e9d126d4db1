"""Silver to inquart, parting and cupellation, against standards and hand calculation."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from logbook.chemistry.assay import Proof, base_metal, gold_by_parting, loss, silver_by_bead
from logbook.chemistry.inquart import to_ratio, to_share, usual_ratio
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import ZERO, Uncertain


def test_silver_to_fourteen_karat() -> None:
    """Check value inquart_worked: 10.00 g of 14 K at 3 to 1 takes 17.5 g for 5.8333 g of gold."""
    found = to_ratio(Uncertain(10.0), Uncertain(14 / 24), ratio=3.0)
    assert found.add.value == pytest.approx(17.5, rel=1e-4)
    assert (found.melt * found.gold_share).value == pytest.approx(5.8333, rel=1e-4)
    assert found.to_gold.value == pytest.approx(3.0)


def test_silver_to_ten_karat_by_share() -> None:
    """Check value inquart_worked_25: 10.00 g of 10 K with 1.0 g of silver, a quarter of gold."""
    found = to_share(Uncertain(10.0), Uncertain(10 / 24), Uncertain(0.1), 0.25)
    assert found.melt.value == pytest.approx(16.667, rel=1e-4)
    assert found.add.value == pytest.approx(6.6667, rel=1e-4)
    assert found.to_gold.value == pytest.approx((1.0 + 6.6667) / 4.16667, rel=1e-4)


# Weight and karat, silver to add to a melt of 6 karat, as people of the trade work it out.
SIX_KARAT = [(331.39, 14.0, 441.85), (13.2, 10.0, 8.8)]


@pytest.mark.parametrize(("weight", "parts", "add"), SIX_KARAT)
def test_a_melt_of_six_karat(weight: float, parts: float, add: float) -> None:
    """Gold a quarter of the melt; by hand, 331.39 × 14/6 − 331.39 = 441.85; 13.2 × 10/6 − 13.2."""
    found = to_share(Uncertain(weight), Uncertain(parts / 24), share=0.25)
    assert found.add.value == pytest.approx(add, rel=1e-4)


def test_the_two_ways_agree_only_where_nothing_else_is_in_it() -> None:
    """3 to 1 and a quarter are one for gold and silver alone, and two once copper is in it."""
    gold, silver = Uncertain(0.7), Uncertain(0.3)
    assert to_ratio(Uncertain(10.0), gold, silver, 3.0).add.value == pytest.approx(
        to_share(Uncertain(10.0), gold, silver, 0.25).add.value
    )
    with_copper = to_ratio(Uncertain(10.0), gold, ZERO, 3.0)
    assert with_copper.add.value > to_share(Uncertain(10.0), gold, ZERO, 0.25).add.value
    assert with_copper.gold_share.value < 0.25


def test_the_standard_asks_for_two_point_three_to_three() -> None:
    """ISO 11426, 7.2.1; quartation is three to one (Cooley)."""
    assert (usual_ratio("assay").low, usual_ratio("assay").high) == (2.3, 3.0)
    assert usual_ratio("quartation").low == usual_ratio("quartation").high == 3.0


def test_enough_silver_is_said() -> None:
    """Of 10 g with a fifth of gold and the rest silver, nothing more is to be added."""
    found = to_ratio(Uncertain(10.0), Uncertain(0.2), Uncertain(0.8), 3.0)
    assert found.add.value == 0.0
    assert any("nothing is to be added" in note for note in found.notes)
    assert any("fall to powder" in note for note in found.notes)


@pytest.mark.parametrize(
    ("share", "word"), [(0.25, ""), (0.32, "may leave silver"), (0.5, "stops at the skin")]
)
def test_a_melt_too_rich_to_part(share: float, word: str) -> None:
    """Rose: acid takes the silver from 60 to 70 per cent on: 0.5 of gold is far too much."""
    found = to_share(Uncertain(10.0), Uncertain(0.75), share=share)
    assert any(word in note for note in found.notes)
    assert ("part" in " ".join(found.notes)) == bool(word)


def test_less_gold_than_hoped_is_told() -> None:
    """A mark is an upper hope, and every answer says so."""
    assert "upper hope" in to_ratio(Uncertain(1.0), Uncertain(0.585)).notes[0]


@pytest.mark.parametrize(
    ("weight", "gold", "silver"), [(0.0, 0.5, 0.0), (1.0, 0.0, 0.0), (1.0, 1.2, 0.0), (1, 0.6, 0.6)]
)
def test_what_makes_no_melt(weight: float, gold: float, silver: float) -> None:
    """No weight, no gold, or more metal than piece."""
    for ways in (to_ratio, to_share):
        with pytest.raises(MissingError):
            ways(Uncertain(weight), Uncertain(gold), Uncertain(silver))
    with pytest.raises(MissingError):
        to_share(Uncertain(1.0), Uncertain(0.5), ZERO, 1.0)
    with pytest.raises(MissingError):
        to_ratio(Uncertain(1.0), Uncertain(0.5), ZERO, 0.0)


def test_the_doubt_of_what_to_add() -> None:
    """By hand: u(add)/add = sqrt(0.001² + 0.02²) where no silver is in it; and by trials."""
    weight = Uncertain.of(10.0, 0.01, "weight")
    gold = Uncertain.of(0.585, 0.0117, "gold")
    found = to_ratio(weight, gold, ZERO, 3.0).add
    assert found.u / found.value == pytest.approx(sqrt(0.001**2 + 0.02**2), rel=1e-9)
    rng = np.random.default_rng(14)
    drawn = rng.normal(10.0, 0.01, 50_000) * rng.normal(0.585, 0.0117, 50_000) / 0.25
    drawn -= rng.normal(10.0, 0.01, 50_000)
    shared = to_share(weight, gold, ZERO, 0.25).add
    assert shared.value == pytest.approx(drawn.mean(), rel=2e-3)
    assert shared.u == pytest.approx(drawn.std(), rel=0.02)


# Rose, p. 504: silver lost in a thousand, 0.5 g with 4 g of lead, three kinds of bone ash.
ROSE = {"without": (9.52, 9.10, 8.90), "with": (10.45, 11.42, 9.75)}


@pytest.mark.parametrize("copper", ROSE)
def test_roses_losses_lie_within_the_limits(copper: str) -> None:
    """The data have the least and the most of the three, and the wide limits hold them all."""
    found, wide = loss(f"silver in the cupel, {copper} copper"), loss("silver in the cupel")
    assert found.low == pytest.approx(min(ROSE[copper]) / 1000)
    assert found.high == pytest.approx(max(ROSE[copper]) / 1000)
    assert wide.low <= found.low < (found.high or 1.0) < (wide.high or 0.0)


@pytest.mark.parametrize("lost", [9.52, 9.10, 8.90, 10.45, 11.42, 9.75])
def test_silver_of_roses_trials_lies_within_the_limits(lost: float) -> None:
    """0.5 g of fine silver leaves a bead of 0.5 (1 − loss): all of it lies within the limits."""
    found = silver_by_bead(Uncertain(0.5), Uncertain(0.5 * (1 - lost / 1000)))
    assert found.read.value == pytest.approx(1 - lost / 1000)
    assert found.read.value < 1.0
    assert found.limits.low <= 1.0 <= (found.limits.high or 0.0)
    assert found.corrected is None
    assert any("nothing is corrected" in note for note in found.notes)


def test_a_proof_beside_it_corrects_and_says_so() -> None:
    """A proof of 0.5000 g left 0.4950 g: by hand 0.4554 × 0.5/0.495 = 0.4600, 920 thousandths."""
    proof = Proof(Uncertain(0.5), Uncertain.of(0.495, 0.0005, "proof"))
    found = silver_by_bead(Uncertain(0.5), Uncertain(0.4554), proof=proof)
    assert found.read.value == pytest.approx(0.9108)
    assert found.corrected is not None
    assert found.corrected.value == pytest.approx(0.92)
    assert found.corrected.u == pytest.approx(0.92 * 0.0005 / 0.495, rel=1e-6)
    assert any("corrected by a proof" in note for note in found.notes)


def test_gold_by_parting_is_never_corrected_in_silence() -> None:
    """250.0 mg leave 146.3 mg: 585.2 as weighed; limits 0.1 % below and 0.5 % above, by hand."""
    found = gold_by_parting(Uncertain(0.2500), Uncertain(0.1463))
    assert found.read.value == pytest.approx(0.5852)
    assert found.corrected is None
    assert found.limits.low == pytest.approx(0.5852 * 0.999)
    assert found.limits.high == pytest.approx(0.5852 / 0.995)
    once = gold_by_parting(Uncertain(0.2500), Uncertain(0.1463), once=True)
    assert once.limits.low == pytest.approx(0.5852 * 0.996)
    assert once.limits.low < found.limits.low
    proof = Proof(Uncertain(0.1463), Uncertain(0.1464))
    corrected = gold_by_parting(Uncertain(0.25), Uncertain(0.1463), proof).corrected
    assert corrected is not None
    assert corrected.value == pytest.approx(0.5852 * 0.1463 / 0.1464)


def test_silver_that_was_added_is_taken_off_and_weighs_on_the_doubt() -> None:
    """250 mg with 400 mg of silver: bead 560 mg, gold 146 mg, so 14 mg of silver, 56 ‰.

    A loss of 5 % of 414 mg would be 21.8 mg more: 143 ‰ (by hand).
    """
    found = silver_by_bead(
        Uncertain(0.250), Uncertain(0.560), parted=Uncertain(0.146), added=Uncertain(0.400)
    )
    assert found.read.value == pytest.approx(0.056)
    assert found.limits.high == pytest.approx((0.414 / 0.95 - 0.400) / 0.250)
    assert any("two large weights" in note for note in found.notes)


def test_base_metal_is_what_is_left() -> None:
    """585 of gold and 100 of silver leave 315; the limits of both widen it outwards."""
    gold = gold_by_parting(Uncertain(1.0), Uncertain(0.585))
    silver = silver_by_bead(Uncertain(1.0), Uncertain(0.685), parted=Uncertain(0.585))
    rest = base_metal(gold, silver)
    assert rest.low < 0.315 < (rest.high or 0.0)
    assert rest.low == pytest.approx(1 - 0.585 / 0.995 - 0.1 / 0.95)


@pytest.mark.parametrize(("sample", "parted"), [(0.0, 0.1), (0.25, -0.1), (0.25, 0.26)])
def test_weights_that_make_no_assay(sample: float, parted: float) -> None:
    """Nothing weighed, less than nothing, more gold than sample."""
    with pytest.raises(MissingError):
        gold_by_parting(Uncertain(sample), Uncertain(parted))
    with pytest.raises(MissingError):
        silver_by_bead(Uncertain(0.25), Uncertain(0.1), parted=Uncertain(0.2))
    with pytest.raises(MissingError):
        gold_by_parting(Uncertain(0.2), Uncertain(0.1), Proof(Uncertain(0.1), Uncertain(0.0)))
