"""Nothing a user can write raises, and every span is the text it names."""

from __future__ import annotations

from dataclasses import fields, is_dataclass

from hypothesis import example, given, settings
from hypothesis import strategies as st

from logbook.model.book import Book
from logbook.model.entry import Entry
from logbook.reading.read_book import read_book
from logbook.reading.vocabulary import action_words
from logbook.source import SourceText, Span

WORDS = st.sampled_from(
    [
        *sorted(action_words()), "412.6 g", "1,250.5 g", "½ lb", "3 x 30 mL", "2h15", "20-25 C",
        "80-60 C", "0.40(5) g", "± 3 %", "[RC-3]", "[F-1] to [F-12]", "relay contacts", "silver",
        "gold 14 kt", "nitric acid 68 %", "about", "some", "overnight", ",", "for $42", "at pH 2-3",
        "(320 g)", "each", "in 3 beakers", "with", "from", "into", "until clear", "2:1", "and", ":",
        "35 vol %", "03/04/2026", "15 March 09:20", "in all", "as product", "(k=2)", "1/0 g", "-",
        "USD", "0.92 EUR", "payable 96 %", "deduction 1 g/kg", "treatment charge", "2 EUR/kg",
        "lot charge 12 EUR", "fee 12 EUR", "less", "800 W", "on the 500 W plate", "1.2 kWh", "-$3",
        "\n", "\n- ", "\n## ", "\n  - ", "Date: ", "![a](b.svg)", "٣ g", "1e999 g", "²", "[", "]",
    ]
)  # fmt: skip
LINES = st.lists(WORDS, min_size=1, max_size=12).map(" ".join)
LOGS = st.one_of(
    st.text(max_size=400),
    st.lists(LINES.map(lambda line: f"- {line}"), max_size=8).map("\n".join),
    st.lists(st.one_of(LINES, st.text(max_size=40)), max_size=8).map("\n".join),
)
PAGES = st.sampled_from(
    ["2026-03-14-log.md", "bench.md", "supplies.md", "prices.md", "scales.md", "sources.md"]
)


def spans(value: object) -> list[Span]:
    """Every span inside a record."""
    if isinstance(value, Span):
        return [value]
    if isinstance(value, tuple):
        return [span for item in value for span in spans(item)]
    if is_dataclass(value) and not isinstance(value, SourceText):
        return [span for field in fields(value) for span in spans(getattr(value, field.name))]
    return []


def entries(book: Book) -> list[Entry]:
    """Every entry of a book, those of the fixed pages too."""
    pages = [page for page in (book.supplies, book.prices) if page is not None]
    return [entry for holder in (*book.runs, *pages) for entry in holder.entries]


@settings(max_examples=300, deadline=None)
@given(PAGES, LOGS)
@example("2026-03-14-log.md", "- ADD < (11g)1g")  # said again before it was said
def test_nothing_a_user_writes_raises(page: str, text: str) -> None:
    """Any text in any file is read, and what is said of it points into it."""
    path = f"runs/{page}"
    book = read_book({path: text})
    for span in spans(book.findings):
        assert 0 <= span.start <= span.end <= len(span.source.text)
        assert 1 <= span.line <= span.source.line_count


@settings(max_examples=300, deadline=None)
@given(LOGS)
def test_a_span_is_the_text_it_names(text: str) -> None:
    """Labels, amounts and entries are found again in the text at their spans."""
    for entry in entries(read_book({"runs/2026-03-14-log.md": f"# Log\n\n{text}"})):
        whole = entry.span.text
        assert whole and entry.line == entry.span.line
        for label in (*entry.sources, *entry.destinations):
            assert label.span.text.startswith("[")
        for portion in entry.portions:
            assert entry.span.start <= portion.span.start <= portion.span.end <= entry.span.end
            if portion.amount is not None:
                assert portion.amount.span.text in whole
            for label in portion.labels:
                inside = " ".join(label.span.text.split())
                assert label.name in inside or " to " in inside or "-" in inside


def test_an_amount_is_its_own_words() -> None:
    """The span of an amount is the amount as it was written, no more and no less."""
    written = ["412.6 g", "1 1/2 gal", "14 dwt 6 gr", "0.40 ± 0.05 g", "about 200 mL", "3 x 30 mL"]
    lines = (f"- took {amount} contacts [C-{n}]" for n, amount in enumerate(written))
    book = read_book({"runs/2026-03-14-log.md": "# Log\n\n" + "\n".join(lines)})
    found = [entry.portions[0].amount for entry in book.runs[0].entries]
    assert [amount.span.text for amount in found if amount] == written


def test_one_broken_entry_costs_only_itself() -> None:
    """The entries around a broken one are read as if it were not there."""
    log = "# Log\n\n- took 5.0 g contacts\n- added 20 gramm salt\n- got 4.0 g bar"
    book = read_book({"runs/2026-03-14-log.md": log})
    assert [entry.action for entry in book.runs[0].entries] == ["took", "got"]
    assert [finding.code for finding in book.findings] == ["unit-unknown"]
