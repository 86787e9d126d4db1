"""Money in the lines of a book: rates, terms, fees, and what a claim is of."""

from __future__ import annotations

import pytest

from logbook.findings import Finding
from logbook.model.amount import Dimension
from logbook.model.entry import Entry
from logbook.reading.read_book import read_book

BENCH = "# Bench\n\nCurrency: EUR\n"
TROY_OUNCE = 31.1034768  # g, exact: NIST Handbook 44, appendix C, from memory


def priced(line: str, bench: str = BENCH) -> tuple[Entry | None, tuple[Finding, ...]]:
    """The entry of a line of prices.md, and what was found in it."""
    book = read_book({"runs/prices.md": f"# Prices\n\n- {line}\n", "runs/bench.md": bench})
    entries = book.prices.entries if book.prices else ()
    return (entries[0] if entries else None), book.findings


def noted(line: str) -> Entry:
    """The entry of a line of a log."""
    log = f"# Lot\n\n## Work\n\n- {line}\n"
    (entry,) = read_book({"runs/2026-03-14-log.md": log, "runs/bench.md": BENCH}).runs[0].entries
    return entry


@pytest.mark.parametrize(
    ("line", "code", "rate"),
    [
        ("2026-01-08 priced USD at 0.92 EUR", "USD", 0.92),
        ("2026-01-08 priced 1 USD at 0.92 EUR", "USD", 0.92),
        ("2026-01-08 priced dollar at 0.92 EUR", "USD", 0.92),
        ("2026-01-08 priced 100 JPY at 0.60 EUR", "JPY", 0.006),  # 0.60 / 100, by hand
    ],
)
def test_a_rate_is_of_one_of_a_currency(line: str, code: str, rate: float) -> None:
    """However much of a currency was named, the rate is of one of it, and of no metal."""
    entry, findings = priced(line)
    assert entry is not None and entry.per is not None
    assert (entry.money, entry.metal, entry.per.currency) == (code, "", "EUR")
    assert entry.per.base_value == pytest.approx(rate, rel=1e-12)
    assert findings == ()


@pytest.mark.parametrize(("bench", "code"), [("# Bench\n\nCurrency: AUD\n", "AUD"), (BENCH, "USD")])
def test_a_bare_dollar_is_the_dollar_of_the_book(bench: str, code: str) -> None:
    """Where the book counts in a dollar, `$` is that one, and needs no rate."""
    entry, findings = priced("2026-01-08 priced $ at 0.61 AUD", bench)
    if code == "AUD":
        assert entry is None and [one.code for one in findings] == ["rate-unread"]
    else:
        assert entry is not None and entry.money == "USD"


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("2026-01-08 priced EUR at 1.09 USD", "write what one USD is worth in EUR"),
        ("2026-01-08 priced GBP at 1.17 CHF", "write what one GBP is worth in EUR"),
    ],
)
def test_a_rate_that_will_not_be_used_is_said(line: str, hint: str) -> None:
    """Money is brought into the book's currency, and no rate is turned round."""
    entry, findings = priced(line)
    assert entry is not None
    assert [(one.code, one.hint) for one in findings] == [("rate-not-in-book", hint)]


def test_terms_are_kept_in_base_units() -> None:
    """Fractions, money per gram and money; 1 EUR/kg is 0.001 EUR/g, by hand."""
    entry, findings = priced(
        "2026-01-02 priced silver, payable 96 %, deduction 1 ozt/t, treatment charge 2 EUR/kg, "
        "refining charge 0.60 EUR per ozt, lot charge 12 EUR"
    )
    assert findings == () and entry is not None and entry.terms is not None and entry.per is None
    terms = entry.terms
    assert terms.payable is not None and terms.payable.base_value == pytest.approx(0.96)
    assert terms.deduction is not None
    assert terms.deduction.base_value == pytest.approx(TROY_OUNCE / 1e6)
    assert terms.treatment is not None and terms.treatment.base_value == pytest.approx(0.002)
    assert terms.refining is not None
    assert terms.refining.base_value == pytest.approx(0.60 / TROY_OUNCE)
    assert terms.lot is not None and terms.lot.base_value == pytest.approx(12.0)
    assert (terms.payable.base_u, terms.deduction.base_u) == (0.0, 0.0)
    assert terms.span.text.strip().startswith("payable") and terms.span.text.endswith("12 EUR")


def test_two_charges_for_each_lot_are_one_sum() -> None:
    """12 EUR and 30 EUR for each lot are 42 EUR, by hand."""
    entry, _ = priced("2026-01-02 priced gold, lot charge 12 EUR, assay charge 30 EUR")
    assert entry is not None and entry.terms is not None and entry.terms.lot is not None
    assert entry.terms.lot.base_value == 42.0


def test_fees_of_a_sale_add_up_and_never_vanish() -> None:
    """12 EUR and 4.50 EUR are 16.50 EUR, by hand; what is no money is not known, and not none."""
    fee = noted("sold [AG-2] for 335 EUR, fee 12 EUR, postage 4.50 EUR").fee
    assert fee is not None and fee.base_value == 16.5
    for unknown in ("fee 3 %", "fee 12 EUR, postage 4 USD"):
        fee = noted(f"sold [AG-2] for 335 EUR, {unknown}").fee
        assert fee is not None and not fee.known and fee.note


def test_a_claim_keeps_the_labels_it_is_of() -> None:
    """A worth is of something, and what it is of is on the jar."""
    claim = noted("reckoned worth 26.20 EUR of [AG-10] at 1.31 EUR/g").claim
    assert claim is not None and claim.at is not None
    assert [label.name for label in claim.labels] == ["AG-10"]
    assert (claim.what, claim.amount.base_value, claim.at.base_value) == ("worth", 26.2, 1.31)


def test_work_on_each_of_three_beakers_says_how_it_was_read() -> None:
    """50 min at each of three beakers are 150 min, or 2.5 h, by hand; the note says so."""
    duration = noted("worked 50 min each in 3 beakers").duration
    assert duration is not None and duration.base_value == pytest.approx(2.5)
    assert '"50 min" each' in duration.note
    beside = noted("waited 50 min each in 3 beakers").duration
    assert beside is not None and beside.base_value == pytest.approx(50 / 60)


def test_a_plate_that_was_set_lower_drew_what_it_was_set_to() -> None:
    """The power that was said of the heating comes before the power of the plate."""
    conditions = noted("heated at 500 W on the 800 W hotplate for 2 h").conditions
    powers = [one.base_value for one in conditions if one.dimension is Dimension.POWER]
    assert powers == [500.0]
