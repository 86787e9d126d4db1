"""What a book is asked: contents, worth, stock and plans, in small books counted by hand."""

from __future__ import annotations

import pytest

from logbook.calculation.answers.of_book import answers_of
from tests.calculation.answers.asked import ask, known, limits, words

SUPPLIES = "# Supplies\n\n- 2026-01-08 bought 2.5 L nitric acid 68 % for 42 EUR\n"
PRICES = """\
# Prices

- 2026-03-01 priced silver at 1.00 EUR/g
- 2026-03-20 priced silver at 1.20 EUR/g
"""
DONE = """\
# Contacts, lot 1

Date: 2026-03-14
Metal: silver

## Dissolve

- took 100.0 g relay contacts [RC-1], silver 71 ± 3 %
- added 150 mL nitric acid 68 %
- kept 2 filters [F-1]
- got 0.3 L silver nitrate solution

## Cement

- added 60 g copper bar
- got 70.0 g silver bar [AG-1], silver 99.0 ± 0.5 %
"""
PLAN = """\
# Contacts, lot 2

Date: 2026-04-01
Metal: silver
Status: planned

## Dissolve

- take 200 g relay contacts, silver 71 %
- add 300 mL nitric acid 68 %
- ask is there enough nitric acid for this?
- ask is there enough salt for this?
"""
BOOK = {
    "supplies.md": SUPPLIES,
    "prices.md": PRICES,
    "bench.md": "# A bench\n\nCurrency: EUR\n",
    "2026-03-14-lot-1.md": DONE,
    "2026-04-01-lot-2.md": PLAN,
}


def test_what_is_in_a_jar() -> None:
    """The bar: 70.0 g x 0.99 = 69.3 g of silver, as it was assayed."""
    answer = ask("how much silver is in [AG-1]?", known(BOOK))
    assert limits(answer.figures[0])[0] == pytest.approx(69.3, rel=0.02)
    assert "[AG-1] stands on the shelf" in words(answer)
    assert any("silver in [AG-1] is" in note for note in answer.notes)


def test_what_no_line_tells_is_unknown() -> None:
    """A metal nobody spoke of is not known to be there or not."""
    answer = ask("how much gold is in [AG-1]?", known(BOOK))
    assert answer.figures[0].value is None
    assert answer.figures[0].high is None
    assert "no line tells" in answer.figures[0].why


def test_a_label_that_is_not_there() -> None:
    """An unknown label is said to be unknown."""
    answer = ask("what is in [XX-9]?", known(BOOK))
    assert not answer.answered
    assert "[XX-9]" in answer.missing[0]


def test_worth_at_the_latest_price() -> None:
    """12.3 g x 0.99 x 1.20 EUR/g = 14.61 EUR, by the price of 20 March."""
    answer = ask("worth of 12.3 g of silver 99 %", known(BOOK))
    assert limits(answer.figures[0])[0] == pytest.approx(14.6124)
    assert "the price of silver is that of 2026-03-20" in answer.notes


def test_worth_needs_a_price() -> None:
    """No price of gold is noted, so that its worth is not known."""
    answer = ask("worth of 2 g gold", known(BOOK))
    assert not answer.answered
    assert "no price of gold is noted" in answer.missing[0]


@pytest.mark.parametrize(
    "text",
    [
        "worth of 12.3 g of silver 99 %",
        "what is in [AG-1]?",
        "plan for 1 kg contacts like lot-1",
        "is there enough nitric acid for this?",
    ],
)
def test_without_a_book_a_book_is_missing(text: str) -> None:
    """What only a book can tell is not answered without one."""
    answer = ask(text)
    assert not answer.answered
    assert answer.missing


def test_enough_for_a_plan() -> None:
    """2.5 L less 0.15 L used are 2.35 L, which is enough for 0.3 L; no salt is in the plan."""
    book = known(BOOK, "2026-04-01-lot-2")
    assert book.figures is not None
    plan = book.figures.runs["2026-04-01-lot-2"]
    first, second = answers_of(plan.run, book.figures).values()
    assert words(first).startswith("The book has enough nitric acid 68 % for this plan")
    assert [limits(one)[0] for one in first.figures] == pytest.approx([0.3, 2.35])
    assert not second.answered
    assert second.missing == ("this plan asks for no sodium chloride",)


def test_not_enough_for_a_plan() -> None:
    """3 L are asked for and 2.35 L there: short by 0.65 L."""
    book = {**BOOK, "2026-04-01-lot-2.md": PLAN.replace("300 mL", "3 L")}
    found = known(book, "2026-04-01-lot-2")
    assert found.figures is not None
    answer = next(iter(answers_of(found.figures.runs[found.run].run, found.figures).values()))
    assert words(answer).startswith("The book does not have enough nitric acid")
    short = [part for part in answer.sentence if not isinstance(part, str)][-1]
    assert limits(short)[0] == pytest.approx(0.65)


def test_a_plan_like_a_run() -> None:
    """Half as much again as lot 1 takes: 150 g would use 225 mL of acid and give 105 g of bar."""
    answer = ask("plan for 150 g relay contacts like 2026-03-14-lot-1", known(BOOK))
    found = {figure.name: limits(figure)[0] for figure in answer.figures}
    assert found["nitric acid 68 % (dissolve)"] == pytest.approx(0.225)
    assert found["silver bar"] == pytest.approx(105.0)
    assert any("do not grow in step" in note for note in answer.notes)


def test_a_plan_like_no_run() -> None:
    """A name that is nearly one is asked about."""
    answer = ask("plan for 150 g contacts like 2026-03-14-lot-11", known(BOOK))
    assert not answer.answered
    assert "is it 2026-03-14-lot-1?" in answer.missing[0]


def test_acid_for_a_jar() -> None:
    """The bar holds 69.3 g silver: 69.3 x 1.1683 g of HNO3, and its rest may ask for more."""
    answer = ask("nitric acid 68 % to dissolve [AG-1]", known(BOOK))
    _, high = limits(answer.figures[0])
    assert high > 69.3 * 1.1683 / 957


def test_every_question_of_a_log_is_answered_beside_it() -> None:
    """The answers stand with their run, by the place of the entry."""
    figures = known(BOOK).figures
    assert figures is not None
    run = figures.runs["2026-04-01-lot-2"]
    asks = [entry.span.start for entry in run.run.entries if entry.action == "ask"]
    assert list(run.answers) == asks
    assert figures.runs["2026-03-14-lot-1"].answers == {}
