"""The account of every supply: what comes in, what runs use, what is left, what is missing.

Every expected figure is worked out by hand beside its case.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pytest

from logbook.calculation.book_figures import whole_book_findings, work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, SupplyAccount, SupplyMove
from logbook.findings import Finding, Weight
from logbook.model.book import Book
from logbook.reading.read_book import read_book

LOT = "2026-02-02-lot"


def book(
    supplies: str = "", used: str = "", prices: str = "", bench: str = "", other: str = ""
) -> Book:
    """A book with a page of supplies and a run in February 2026 that dissolves something."""
    texts = {
        "runs/bench.md": f"# Bench\n\nCurrency: EUR\n{bench}\n",
        "runs/supplies.md": f"# Supplies\n\n{supplies}\n",
        "runs/prices.md": f"# Prices\n\n{prices}\n",
        f"runs/{LOT}.md": f"# Lot\n\nDate: 2026-02-02\nMetal: silver\n\n## Dissolve\n\n{used}\n",
    }
    if other:
        texts["runs/2026-03-03-other.md"] = other
    return read_book(texts)


def figures(*pages: str, **more: str) -> BookFigures:
    """The figures of such a book."""
    return work_out(book(*pages, **more))


def only(found: BookFigures, supply: str = "") -> SupplyAccount:
    """The one account there is, or the one of a supply."""
    (account,) = (one for one in found.supplies.accounts if supply in one.supply)
    return account


def number(figure: Figure) -> float:
    """The value of a figure that is known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def used(account: SupplyAccount) -> list[SupplyMove]:
    """The uses of an account."""
    return [move for move in account.moves if move.kind == "used"]


def cost_in_run(found: BookFigures, place: int = 0) -> Figure:
    """What the run has as the cost of a reagent."""
    return found.runs[LOT].reagents[place].cost


def short(found: Sequence[Finding]) -> list[Finding]:
    """The findings about supplies."""
    return [one for one in found if one.code.startswith("supply-")]


BORAX = "- 2026-01-05 bought 500 g borax for 10 EUR"


def test_a_half_used_jar_is_not_charged_whole() -> None:
    """125 of 500 g for 10 EUR cost 2.50 EUR; 375 g for 7.50 EUR are left."""
    found = figures(BORAX, "- added 125 g borax")
    account = only(found)
    assert number(cost_in_run(found)) == pytest.approx(2.5)
    assert number(account.left) == pytest.approx(375.0)
    assert number(account.stock_cost) == pytest.approx(7.5)
    assert number(account.paid) == number(account.consumed) + number(account.stock_cost)
    assert not found.supplies.findings


def test_a_use_that_empties_the_account_takes_all_the_money() -> None:
    """Thirds of 10 EUR: 3.33... twice, and the last takes what is left of 10."""
    supplies = "- 2026-01-05 bought 300.00 g borax for 10 EUR"
    account = only(figures(supplies, "\n".join(["- added 100.00 g borax"] * 3)))
    assert number(account.consumed) == 10.0
    assert number(account.stock_cost) == 0.0
    assert number(account.left) == 0.0


def test_strengths_are_kept_apart() -> None:
    """1 L of 68 % for 20 EUR and 1 L of 53 % for 8 EUR; 0.5 L of the weaker cost 4 EUR."""
    supplies = (
        "- 2026-01-05 bought 1 L nitric acid 68 % for 20 EUR\n"
        "- 2026-01-06 bought 1 L nitric acid 53 % for 8 EUR"
    )
    found = figures(supplies, "- added 500 mL nitric acid 53 %")
    strong, weak = found.supplies.accounts
    assert (strong.strength, weak.strength) == ("68 %", "53 %")
    assert number(cost_in_run(found)) == pytest.approx(4.0)
    assert number(strong.left) == pytest.approx(1.0)


def test_a_use_without_a_strength_is_of_the_only_one() -> None:
    """0.25 L of the one acid of 20 EUR/L cost 5 EUR, and the note says so."""
    found = figures(
        "- 2026-01-05 bought 1 L nitric acid 68 % for 20 EUR", "- added 250 mL nitric acid"
    )
    cost = cost_in_run(found)
    assert number(cost) == pytest.approx(5.0)
    assert "taken to be the one strength that was bought" in cost.notes


def test_a_use_without_a_strength_of_two_is_of_neither() -> None:
    """Nobody knows of which it was: what is left of each is at most what was bought."""
    supplies = (
        "- 2026-01-05 bought 1 L nitric acid 68 % for 20 EUR\n"
        "- 2026-01-06 bought 1 L nitric acid 53 % for 8 EUR"
    )
    found = figures(supplies, "- added 250 mL nitric acid")
    cost = cost_in_run(found)
    assert not cost.known
    assert "strength" in cost.why
    for account in found.supplies.accounts[:2]:
        assert not account.left.known
        assert account.left.high == pytest.approx(1.0)


def test_what_stood_there_without_a_price_is_used_first() -> None:
    """200 g of no known price go first; 100 of the next 150 g are priced at 0.02 EUR/g."""
    supplies = "- had 200 g borax\n" + BORAX
    found = figures(supplies, "- added 150 g borax\n- added 150 g borax")
    first, second = used(only(found))
    assert not first.cost.known
    assert first.cost.low == 0.0
    assert not second.cost.known
    assert second.cost.low == pytest.approx(100 * 10 / 500)
    account = only(found)
    assert number(account.stock_cost) == pytest.approx(8.0)
    assert not account.paid.known
    assert account.paid.low == pytest.approx(10.0)


def test_a_purchase_without_a_price_does_not_blur_the_next() -> None:
    """100 g of no price used up: what follows costs 0.02 EUR/g and is known."""
    supplies = "- 2026-01-02 bought 100.0 g borax\n" + BORAX
    found = figures(supplies, "- added 100.0 g borax\n- added 50 g borax")
    assert number(used(only(found))[1].cost) == pytest.approx(1.0)


def test_a_gift_costs_nothing_and_lowers_the_average() -> None:
    """500 g for 10 EUR and 500 g as a gift are 0.01 EUR/g; 100 g cost 1 EUR."""
    supplies = BORAX + "\n- 2026-01-06 bought 500 g borax, a gift"
    found = figures(supplies, "- added 100 g borax")
    assert number(cost_in_run(found)) == pytest.approx(1.0)


def test_used_before_it_was_bought() -> None:
    """100 g were there for 2 EUR; 50 g more come later at 0.04 EUR/g: 2 + 2 = 4 EUR."""
    supplies = (
        "- 2026-01-05 bought 100.0 g borax for 2 EUR\n- 2026-02-10 bought 200.0 g borax for 8 EUR"
    )
    found = figures(supplies, "- added 150.0 g borax")
    cost, account = cost_in_run(found), only(found)
    assert number(cost) == pytest.approx(4.0)
    assert any("counted at the price" in note for note in cost.notes)
    assert number(account.left) == pytest.approx(150.0)
    assert number(account.stock_cost) == pytest.approx(6.0)
    (finding,) = short(found.findings)
    assert finding.weight is Weight.DOUBT
    assert "50 g short on 2 February 2026" in finding.headline
    assert LOT in finding.understood
    assert 'had 50 g borax"' in finding.hint
    assert "earlier date" in finding.hint


def test_a_purchase_that_never_came() -> None:
    """50 g more than was bought: no figure below nothing, and the 2 EUR that are known stay."""
    found = figures("- 2026-01-05 bought 100.0 g borax for 2 EUR", "- added 150.0 g borax")
    cost, account = cost_in_run(found), only(found)
    assert not cost.known
    assert cost.low == pytest.approx(2.0)
    assert not account.left.known
    assert "a purchase of borax is missing" in account.left.why
    assert account.left.low is None or account.left.low >= 0.0
    (finding,) = short(found.findings)
    assert "50 g short" in finding.headline
    assert account.runs_out is None


def test_proof_tells_the_same() -> None:
    """What is found over the whole book without figures is what the figures found."""
    read = book("- 2026-01-05 bought 100.0 g borax for 2 EUR", "- added 150.0 g borax")
    assert short(whole_book_findings(read)) == short(work_out(read).findings)
    assert short(whole_book_findings(read)) != []


def test_a_supply_that_nobody_bought_is_no_finding() -> None:
    """A small book need not have every bottle: the cost is not known, and that is all."""
    found = figures("", "- added 50 g borax")
    assert not found.supplies.findings
    assert not cost_in_run(found).known
    assert "no purchase of borax was noted" in cost_in_run(found).why


def test_water_from_the_tap_is_free() -> None:
    """It has no stock and no cost."""
    found = figures("", "- added 2 L tap water")
    assert number(cost_in_run(found)) == 0.0
    assert not found.supplies.findings


def test_an_amount_that_is_not_known() -> None:
    """Nothing leaves in money; at most 500 g are left."""
    found = figures(BORAX, "- added some borax")
    account = only(found)
    assert not cost_in_run(found).known
    assert not account.left.known
    assert account.left.high == pytest.approx(500.0)
    assert number(account.stock_cost) == pytest.approx(10.0)


def test_a_use_by_weight_of_what_was_bought_by_volume() -> None:
    """Sulfuric acid 96 % weighs 1.84 g/mL (from memory, to 1 %): 92 g are 50 mL of 1 L, 5 %."""
    found = figures(
        "- 2026-01-05 bought 1 L sulfuric acid 96 % for 20 EUR", "- added 92 g sulfuric acid 96 %"
    )
    assert number(cost_in_run(found)) == pytest.approx(1.0, rel=0.01)
    assert number(only(found).left) == pytest.approx(0.95, rel=0.01)


def test_a_weight_of_what_has_no_density() -> None:
    """Nobody says how strong the acid is: 50 g of it are no volume."""
    found = figures("- 2026-01-05 bought 1 L nitric acid for 20 EUR", "- added 50 g nitric acid")
    assert not cost_in_run(found).known
    assert cost_in_run(found).why
    assert only(found).left.high == pytest.approx(1.0)


def test_a_purchase_in_another_currency() -> None:
    """10 USD at 0.92 EUR are 9.20 EUR for 100 g; 50 g cost 4.60 EUR."""
    supplies = "- 2026-01-05 bought 100 g borax for 10 USD"
    rate = "- 2026-01-02 priced USD at 0.92 EUR"
    assert number(cost_in_run(figures(supplies, "- added 50 g borax", rate))) == pytest.approx(4.6)
    without = cost_in_run(figures(supplies, "- added 50 g borax"))
    assert not without.known
    assert "USD" in without.why


def test_it_ran_out() -> None:
    """The last 50 g went on 4 February."""
    account = only(
        figures(
            "- 2026-01-05 bought 100.0 g borax for 2 EUR",
            "- added 50.0 g borax\n- 2026-02-04 added 50.0 g borax",
        )
    )
    assert account.runs_out == date(2026, 2, 4)
    assert account.runs_out_words == "ran out on 4 February 2026"


def test_it_will_run_out() -> None:
    """100 g in 10 days leave 400 g: 40 days more from 12 February, that is 24 March 2026."""
    account = only(
        figures(BORAX, "- added 50 g borax\n- 2026-02-12 added 50 g borax\n- 2026-02-12 waited 1 h")
    )
    assert account.runs_out == date(2026, 3, 24)
    assert "will run out on 24 March 2026" in account.runs_out_words
    assert "from 2 February 2026 to 12 February 2026" in account.runs_out_words


def test_one_day_is_no_pace() -> None:
    """Nothing is told from a single use."""
    account = only(figures(BORAX, "- added 50 g borax"))
    assert account.runs_out is None
    assert account.runs_out_words


def test_money_of_which_nothing_tells() -> None:
    """34 EUR of chemicals, 12 EUR spent, and one price of two supplies: 58 EUR in three sums."""
    supplies = (
        "- 2026-01-05 bought chemicals for 34 EUR\n"
        "- 2026-01-06 spent 12 EUR on chemicals\n"
        "- 2026-01-07 bought 100 g borax and 100 g salt for 12 EUR"
    )
    found = figures(supplies, "- added 10 g borax")
    sums = [number(one) for one in found.supplies.unallocated]
    assert sums == [34.0, 12.0, 12.0]
    assert all(one.notes for one in found.supplies.unallocated)
    assert "chemicals" not in [account.supply for account in found.supplies.accounts]
    assert not cost_in_run(found).known


def test_scrap_is_no_supply() -> None:
    """A lot with a label follows the metal."""
    found = figures("- 2026-01-05 bought 500 g contacts [RC-1] for 40 EUR", "- took [RC-1]")
    assert found.supplies.accounts == ()
    assert found.supplies.unallocated == ()


def test_a_plan_uses_nothing() -> None:
    """It asks what is there: 500 less 125 g; and would cost 2 EUR at 0.02 EUR/g."""
    plan = (
        "# Next\n\nDate: 2026-03-03\nStatus: planned\nMetal: silver\n\n"
        "## Melt\n\n- add 100 g borax\n"
    )
    found = figures(BORAX, "- added 125 g borax", other=plan)
    account = only(found)
    assert number(account.left) == pytest.approx(375.0)
    (row,) = found.plans["2026-03-03-other"].supplies
    assert row.in_hand is not None
    assert number(row.in_hand) == pytest.approx(375.0)
    (use,) = found.runs["2026-03-03-other"].reagents
    assert number(use.cost) == pytest.approx(2.0)


def test_bought_in_a_log_and_used_the_same_day() -> None:
    """Within a day what was bought is there before it is used, wherever it stands."""
    found = figures("", "- added 50 g borax\n- bought 100 g borax for 2 EUR")
    assert number(cost_in_run(found)) == pytest.approx(1.0)
    assert not found.supplies.findings


def test_copper_in_any_shape_is_one_supply() -> None:
    """1 kg bar for 16 EUR and 1 kg pipe for 8 EUR: 0.012 EUR/g, so 100 g cost 1.20 EUR."""
    supplies = (
        "- 2026-01-05 bought 1 kg copper bar for 16 EUR\n"
        "- 2026-01-06 bought 1 kg copper pipe for 8 EUR"
    )
    found = figures(supplies, "- added 100 g copper bar")
    assert number(cost_in_run(found)) == pytest.approx(1.2)
    assert [account.supply for account in found.supplies.accounts] == ["copper"]


def test_a_volume_and_a_weight_of_one_purchase_are_one() -> None:
    """1 L (1.4 kg) for 20 EUR: 140 g are a tenth of it, 2 EUR."""
    found = figures(
        "- 2026-01-05 bought 1 L (1.4 kg) nitric acid 68 % for 20 EUR",
        "- added 140 g nitric acid 68 %",
    )
    assert number(only(found).paid) == 20.0
    assert number(cost_in_run(found)) == pytest.approx(2.0)


def test_a_rinse_until_clear_takes_at_least_what_is_written() -> None:
    """200 mL at least, at 0.60 EUR/L: at least 0.12 EUR, and at most 4.8 of 5 L are left."""
    found = figures(
        "- 2026-01-05 bought 5 L distilled water for 3 EUR",
        "- rinsed with 200 mL distilled water, until clear",
    )
    cost, account = cost_in_run(found), only(found)
    assert (cost.value, cost.low) == (None, pytest.approx(0.12))
    assert (account.left.value, account.left.high) == (None, pytest.approx(4.8))
    assert number(account.stock_cost) == pytest.approx(2.88)
    assert account.consumed.low == pytest.approx(0.12)


def test_a_price_per_weight() -> None:
    """2 kg at 0.80 EUR/kg are 1.60 EUR; 100 g of it cost 0.08 EUR."""
    found = figures("- 2026-01-05 bought 2 kg salt at 0.80 EUR/kg", "- added 100 g salt")
    assert number(only(found).paid) == pytest.approx(1.6)
    assert number(cost_in_run(found)) == pytest.approx(0.08)


def test_one_price_of_two_bottles_of_one_acid_is_divided() -> None:
    """1 L and 0.5 L for 30 EUR are 20 EUR/L; 100 mL cost 2 EUR, and nothing is left over."""
    found = figures(
        "- 2026-01-05 bought 1 L nitric acid 68 % and 500 mL nitric acid 68 % for 30 EUR",
        "- added 100 mL nitric acid 68 %",
    )
    assert number(cost_in_run(found)) == pytest.approx(2.0)
    assert found.supplies.unallocated == ()


def test_scrap_without_a_label_is_money_that_nothing_carries() -> None:
    """Nobody can tell which run took the sweeps of 300 EUR: no supply, and not lost either."""
    found = figures("- 2026-01-05 bought 1 kg sweeps for 300 EUR", "- took 300 g sweeps")
    assert found.supplies.accounts == ()
    (loose,) = found.supplies.unallocated
    assert (loose.name, number(loose)) == ("sweeps", 300.0)
    assert any("label" in note for note in loose.notes)


def test_metal_without_a_label_that_is_added_is_a_supply() -> None:
    """Silver to inquart: 100 g for 90 EUR, of which 50 g cost 45 EUR."""
    found = figures(
        "- 2026-01-05 bought 100 g fine silver, silver 99.9 %, for 90 EUR",
        "- took 10 g gold chips [G-1], gold 50 %\n- added 50 g fine silver",
    )
    assert number(cost_in_run(found)) == pytest.approx(45.0)


def test_a_labelled_lot_brings_its_own_money() -> None:
    """Silver nitrate with a content and a label is a thing: its 50 EUR are counted with it."""
    found = figures(
        "- 2026-01-05 bought 100 g silver nitrate [SN-1], silver 63.5 %, for 50 EUR",
        "- added 5 g silver nitrate [SN-1]",
    )
    assert found.supplies.accounts == ()
    assert number(cost_in_run(found)) == 0.0
    assert "labelled lot" in cost_in_run(found).notes[0]


def test_bottles_with_a_label() -> None:
    """100 mL and 50 mL from the bottle are 150 mL at 20 EUR/L: 3 EUR."""
    account = only(
        figures(
            "- 2026-01-05 bought 1 L nitric acid 68 % [N-1] for 20 EUR",
            "- took 100 mL from [N-1]\n- added 50 mL from [N-1]",
        )
    )
    assert number(account.consumed) == pytest.approx(3.0)


def test_a_bar_that_comes_back_is_used_once() -> None:
    """120.4 g at 0.016 EUR/g go in, once; the rest that is kept and hung in again is no use."""
    work = (
        "- added 120.4 g copper bar\n- kept 78.3 g copper bar [CU-1]\n\n"
        "## Cement again\n\n- added [CU-1]"
    )
    account = only(figures("- 2026-01-05 bought 1 kg copper bar for 16 EUR", work))
    assert number(account.used) == pytest.approx(120.4)
    assert number(account.consumed) == pytest.approx(120.4 * 0.016)
    assert number(account.left) == pytest.approx(1000 - 120.4)


def test_less_than_the_doubt_of_the_readings_is_no_missing_purchase() -> None:
    """10 mL of 1.01 L, when each reading may be off by 15 mL: the litre was used up, for 20 EUR."""
    found = figures(
        "- 2026-01-05 bought 1 L nitric acid 68 % for 20 EUR",
        "- added 500 mL nitric acid 68 %\n- added 510 mL nitric acid 68 %",
    )
    account = only(found)
    assert number(account.left) == 0.0
    assert any("a little more was used" in note for note in account.left.notes)
    assert number(account.consumed) == 20.0
    assert account.runs_out == date(2026, 2, 2)
    assert not found.supplies.findings


def test_a_use_of_which_nothing_was_there_is_never_excused() -> None:
    """20 mL beyond an empty bottle have no cost, however doubtful the readings before."""
    found = figures(
        "- 2026-01-05 bought 1 L nitric acid 68 % for 20 EUR",
        "- added 1.000 L nitric acid 68 %\n- added 20 mL nitric acid 68 %",
    )
    assert not used(only(found))[1].cost.known
    assert len(found.supplies.findings) == 1


def test_several_uses_before_one_purchase_are_one_finding() -> None:
    """50 g, then 20 g: 70 g before the 500 g for 10 EUR came; they cost 1.40 EUR."""
    found = figures(
        "- 2026-02-20 bought 500.0 g borax for 10 EUR", "- added 50.0 g borax\n- added 20.0 g borax"
    )
    (finding,) = found.supplies.findings
    assert "50 g short" in finding.headline
    assert "70 g in all" in finding.understood
    assert 'had 70 g borax"' in finding.hint
    assert number(only(found).consumed) == pytest.approx(1.4)


def test_used_before_a_purchase_without_a_price() -> None:
    """What is counted as a part of it has no price either."""
    found = figures("- 2026-02-20 bought 500.0 g borax", "- added 50.0 g borax")
    cost = cost_in_run(found)
    assert not cost.known
    assert "20 February 2026" in cost.why
    assert number(only(found).left) == pytest.approx(450.0)
    assert "price" not in found.supplies.findings[0].understood


def test_old_stock_of_no_known_amount_may_have_been_enough() -> None:
    """100 g beyond the 500 g for 10 EUR may have been there: no finding, at least 10 EUR."""
    found = figures("- had some borax\n" + BORAX, "- added 600 g borax")
    cost, account = cost_in_run(found), only(found)
    assert not found.supplies.findings
    assert (cost.value, cost.low) == (None, pytest.approx(10.0))
    assert (account.left.value, account.left.high) == (None, None)
    assert account.runs_out is None


def test_a_purchase_of_no_known_amount_is_money_without_an_account() -> None:
    """12 EUR of borax, nobody knows how much: in no account, and the use has no price."""
    found = figures("- 2026-01-05 bought borax for 12 EUR", "- added 60 g borax")
    assert [number(one) for one in found.supplies.unallocated] == [12.0]
    assert only(found).stock_cost.low == 0.0
    assert only(found).paid.low == 0.0
    assert not cost_in_run(found).known
    assert not found.supplies.findings


def test_pieces_and_grams_are_two_accounts_and_a_pinch_is_of_either() -> None:
    """A piece for 1 EUR, 5 g for 0.10 EUR; after a pinch what is left is at most the rest."""
    supplies = BORAX + "\n- 2026-01-06 bought 3 borax for 3 EUR"
    found = figures(supplies, "- added 5 g borax\n- added 1 borax\n- added a pinch of borax")
    by_unit = {account.unit: account for account in found.supplies.accounts}
    assert sorted(by_unit) == ["1", "g"]
    assert by_unit["g"].left.high == pytest.approx(495.0)
    assert by_unit["1"].left.high == pytest.approx(2.0)
    assert number(by_unit["1"].consumed) == pytest.approx(1.0)


def test_pieces_are_no_grams() -> None:
    """Borax by the gram and used by the piece: nobody knows what a piece weighs."""
    found = figures(BORAX, "- added 2 borax")
    assert not cost_in_run(found).known
    assert "another kind of unit" in cost_in_run(found).why
    assert only(found).left.high == pytest.approx(500.0)
    assert number(only(found).stock_cost) == pytest.approx(10.0)


def test_water_that_was_bought_runs_out_into_the_tap() -> None:
    """5 L for 3 EUR, 8 L used: 3 EUR, and the rest is free."""
    found = figures("- 2026-01-05 bought 5 L water for 3 EUR", "- added 8 L water")
    assert number(cost_in_run(found)) == pytest.approx(3.0)
    assert not found.supplies.findings


def test_water_by_weight() -> None:
    """A litre of water weighs 998 g at 20 C (CRC Handbook): 499 g are half a litre, 0.50 EUR."""
    found = figures(
        "- 2026-01-05 bought 5 L distilled water for 5 EUR", "- added 499 g distilled water"
    )
    assert number(cost_in_run(found)) == pytest.approx(0.5, rel=0.005)


def test_a_plan_in_grams_sees_a_stock_in_litres() -> None:
    """0.5 L of sulfuric acid 96 % at 1.84 g/mL (from memory, to 1 %) are 920 g."""
    plan = (
        "# Next\n\nDate: 2026-03-03\nStatus: planned\nMetal: silver\n\n"
        "## Strip\n\n- add 92 g sulfuric acid 96 %\n"
    )
    found = figures(
        "- 2026-01-05 bought 1.000 L sulfuric acid 96 % for 20 EUR",
        "- added 500 mL sulfuric acid 96 %",
        other=plan,
    )
    (row,) = found.plans["2026-03-03-other"].supplies
    assert row.in_hand is not None
    assert (row.in_hand.unit, row.enough) == ("g", "yes")
    assert number(row.in_hand) == pytest.approx(920.0, rel=0.01)


def test_pages_without_days_come_first() -> None:
    """Old stock without a day was there before the run, whatever day that had."""
    found = figures("- bought 100 g borax for 2 EUR", "- added 50 g borax")
    assert number(cost_in_run(found)) == pytest.approx(1.0)
    assert only(found).moves[0].day is None


def test_money_spent_on_the_page_of_prices_is_not_lost() -> None:
    """7 EUR on that page belong to nothing; a total in all is not counted again."""
    found = figures(prices="- 2026-01-06 spent 7 EUR on post\n- 2026-01-07 spent 40 EUR in all")
    post, whole = found.supplies.unallocated
    assert number(post) == 7.0
    assert (whole.value, bool(whole.why)) == (None, True)


def test_the_run_costs_what_the_account_says() -> None:
    """Two uses in one stage, before and after a dearer purchase: 100 g at 0.02, 100 g at 0.04.

    400 g for 8 EUR are left; 400 g for 24 EUR more make 0.04 EUR/g.
    """
    supplies = BORAX + "\n- 2026-02-03 bought 400 g borax for 24 EUR"
    found = figures(supplies, "- added 100 g borax\n- 2026-02-04 added 100 g borax")
    assert number(cost_in_run(found)) == pytest.approx(2.0 + 4.0)
    assert number(only(found).consumed) == pytest.approx(6.0)
    assert number(only(found).average) == pytest.approx(0.04)
