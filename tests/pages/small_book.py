"""A small book made by hand, without a reader: two runs, a plan, supplies and prices.

Every record points into its text, so that anchors and quotes can be checked against it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from logbook.findings import Finding, Weight
from logbook.model.amount import Amount, Dimension
from logbook.model.book import Bench, Book, Customs, FixedPage
from logbook.model.entry import Claim, Composition, Entry, Label, Portion, Price, When
from logbook.model.run import Block, Fact, Picture, Prose, Run, Stage, Status
from logbook.source import SourceText, Span

UNIT = {
    "g": (Dimension.MASS, 1.0),
    "mL": (Dimension.VOLUME, 0.001),
    "min": (Dimension.TIME, 1 / 60),
}
UNIT |= {"L": (Dimension.VOLUME, 1.0), "%": (Dimension.FRACTION, 0.01), "h": (Dimension.TIME, 1.0)}

CONTACTS = """\
# Relay contacts, lot 3

Date: 14 March 2026
Metal: silver

Contacts cut from two scrapped lift controllers.

## Dissolve, 14 March

Small pours; <script>alert("foam")</script> the beaker foamed once.

- took 412.6 g relay contacts [RC-3], silver 71 %
- added 650 mL nitric acid 68 %
- worked 50 min
- private the neighbour SECRETWORD complained
- kept 3 filters [F-21]
- got 279.6 g silver bar [AG-7], silver 99.5 %
- ask how much acid would 1 kg need
- reckoned recovery 95 %
![The dish](dish.png)
"""

CASES = """\
# Watch cases & spectacles

Date: 20 March 2026

## Strip

- took 52.0 g watch cases
- kept 4.0 g cases, stripped [W/1]
"""

PLAN = """\
# Filters of spring

Date: 1 April 2026
Metal: silver

## Incinerate

- take 3 filters [F-21]
- add 100 mL nitric acid 68 %
"""

SUPPLIES = """\
# Supplies

- 2026-01-08 bought 2.5 L nitric acid 68 % for 42 EUR
"""

PRICES = """\
# Prices

- 2026-03-01 priced silver at 1.08 EUR/g
"""

BENCH = """\
# The lift shaft bench

Keeper: M. Invented

All of it is invented.
"""


class Log:
    """One text, and records that are cut out of it."""

    def __init__(self, path: str, text: str) -> None:
        self.source = SourceText(path, text)

    def span(self, words: str, after: int = 0) -> Span:
        """The first place at which words stand."""
        start = self.source.text.index(words, after)
        return Span(self.source, start, start + len(words))

    def amount(self, words: str, u: float = 0.0, after: int = 0) -> Amount:
        """An amount such as `412.6 g`, read in the plainest way."""
        number, unit = words.split()
        dimension, factor = UNIT[unit]
        value = float(number)
        return Amount(
            self.span(words, after),
            dimension,
            unit,
            value,
            value * factor,
            u * factor,
            "as the test says",
        )

    def label(self, name: str, after: int = 0) -> Label:
        """A label in its brackets."""
        return Label(self.span(f"[{name}]", after), name)

    def entry(self, line: str, **more: Any) -> Entry:
        """The entry of a whole line, without its list mark."""
        span = self.span(line)
        return Entry(line.split()[0], span, span.line, **more)

    def moved(
        self, words: str, amount: str, u: float, what: str, *names: str, **more: Any
    ) -> Entry:
        """An entry that moves an amount of something."""
        at = self.span(words).start
        portion = Portion(
            self.span(words),
            self.amount(amount, u, at) if amount else None,
            what,
            tuple(self.label(name, at) for name in names),
            reagent=more.pop("reagent", ""),
        )
        return self.entry(words, portions=(portion,), **more)

    def silver(self, words: str, fraction: str, u: float) -> Composition:
        """What a line says of its silver."""
        at = self.span(words).start
        return Composition(
            self.span(f"silver {fraction}", at), "silver", self.amount(fraction, u, at)
        )

    def heading(self, title: str, *blocks: Block, kinds: tuple[str, ...] = (), day: date) -> Stage:
        """A stage under its heading."""
        span = self.span(f"## {title}")
        return Stage(span, title.split(",")[0], kinds, When(span, day), False, blocks)


def contacts() -> Run:
    """The run with everything in it: a private note, a question, a claim, a picture."""
    log = Log("runs/2026-03-14-relay-contacts.md", CONTACTS)
    took = "took 412.6 g relay contacts [RC-3], silver 71 %"
    got = "got 279.6 g silver bar [AG-7], silver 99.5 %"
    filters = log.span("3 filters [F-21]")
    three = Amount(log.span("3 filters"), Dimension.COUNT, "", 3.0, 3.0)
    claim = Claim(log.span("recovery 95 %"), "recovery", log.amount("95 %"))
    stage = log.heading(
        "Dissolve, 14 March",
        Prose(log.span('Small pours; <script>alert("foam")</script> the beaker foamed once.')),
        log.moved(
            took,
            "412.6 g",
            0.03,
            "relay contacts",
            "RC-3",
            compositions=(log.silver(took, "71 %", 3.0),),
        ),
        log.moved(
            "added 650 mL nitric acid 68 %", "650 mL", 19.0, "nitric acid", reagent="nitric acid"
        ),
        log.entry("worked 50 min", duration=log.amount("50 min")),
        log.entry("private the neighbour SECRETWORD complained", words="the neighbour complained"),
        log.entry(
            "kept 3 filters [F-21]",
            portions=(Portion(filters, three, "filters", (log.label("F-21"),)),),
        ),
        log.moved(
            got,
            "279.6 g",
            0.03,
            "silver bar",
            "AG-7",
            compositions=(log.silver(got, "99.5 %", 0.3),),
        ),
        log.entry("ask how much acid would 1 kg need", words="how much acid would 1 kg need"),
        log.entry("reckoned recovery 95 %", claim=claim),
        Picture(log.span("![The dish](dish.png)"), "dish.png", "The dish"),
        kinds=("dissolve",),
        day=date(2026, 3, 14),
    )
    return Run(
        log.source.name,
        log.source,
        "Relay contacts, lot 3",
        date(2026, 3, 14),
        Status.FINISHED,
        ("silver",),
        "",
        None,
        (
            Fact(log.span("Date: 14 March 2026"), "Date", "14 March 2026"),
            Fact(log.span("Metal: silver"), "Metal", "silver"),
        ),
        (Prose(log.span("Contacts cut from two scrapped lift controllers.")),),
        (stage,),
    )


def cases() -> Run:
    """A run of which next to nothing is known."""
    log = Log("runs/2026-03-20-watch-cases.md", CASES)
    stage = log.heading(
        "Strip",
        log.moved("took 52.0 g watch cases", "52.0 g", 0.03, "watch cases"),
        log.moved("kept 4.0 g cases, stripped [W/1]", "4.0 g", 0.03, "cases, stripped", "W/1"),
        kinds=("strip",),
        day=date(2026, 3, 20),
    )
    day = date(2026, 3, 20)
    title = "Watch cases & spectacles"
    return Run(
        log.source.name,
        log.source,
        title,
        day,
        Status.ABANDONED,
        ("gold",),
        "",
        None,
        (),
        (),
        (stage,),
    )


def plan() -> Run:
    """A plan, in the plain form."""
    log = Log("runs/2026-04-01-filters.md", PLAN)
    stage = log.heading(
        "Incinerate",
        replace(
            log.moved("take 3 filters [F-21]", "", 0.0, "filters", "F-21"),
            action="took",
            planned=True,
        ),
        replace(
            log.moved(
                "add 100 mL nitric acid 68 %", "100 mL", 3.0, "nitric acid", reagent="nitric acid"
            ),
            action="added",
            planned=True,
        ),
        kinds=("incinerate",),
        day=date(2026, 4, 1),
    )
    day = date(2026, 4, 1)
    return Run(
        log.source.name,
        log.source,
        "Filters of spring",
        day,
        Status.PLANNED,
        ("silver",),
        "",
        None,
        (),
        (),
        (stage,),
    )


def _money(log: Log, words: str) -> Amount:
    value = float(words.split()[0])
    span = log.span(words)
    return Amount(span, Dimension.MONEY, "EUR", value, value, currency="EUR")


def supplies() -> FixedPage:
    """supplies.md."""
    log = Log("runs/supplies.md", SUPPLIES)
    words = "bought 2.5 L nitric acid 68 % for 42 EUR"
    day = When(log.span("2026-01-08"), date(2026, 1, 8))
    entry = replace(
        log.moved(words, "2.5 L", 0.0, "nitric acid", reagent="nitric acid"),
        when=day,
        price=Price(_money(log, "42 EUR")),
        span=log.span(f"2026-01-08 {words}"),
    )
    return FixedPage(log.source, "Supplies", (entry,))


def prices() -> FixedPage:
    """prices.md."""
    log = Log("runs/prices.md", PRICES)
    words = "2026-03-01 priced silver at 1.08 EUR/g"
    span = log.span("1.08 EUR/g")
    per = Amount(span, Dimension.PRICE, "EUR/g", 1.08, 1.08, currency="EUR", per="g")
    when = When(log.span("2026-03-01"), date(2026, 3, 1))
    entry = replace(log.entry(words, when=when, per=per, metal="silver"), action="priced")
    return FixedPage(log.source, "Prices", (entry,))


def small_book(*runs: Run, findings: tuple[Finding, ...] = ()) -> Book:
    """The book of these runs, or of all three."""
    log = Log("runs/bench.md", BENCH)
    bench = Bench(
        title="The lift shaft bench",
        keeper="M. Invented",
        currency="EUR",
        facts=(Fact(log.span("Keeper: M. Invented"), "Keeper", "M. Invented"),),
        opening=(Prose(log.span("All of it is invented.")),),
    )
    return Book(
        bench=bench,
        customs=Customs(currency="EUR"),
        runs=runs or (contacts(), cases(), plan()),
        supplies=supplies(),
        prices=prices(),
        findings=findings,
    )


def doubt_about(run: Run, words: str) -> Finding:
    """A finding on the first place of some words in a run."""
    start = run.source.text.index(words)
    span = Span(run.source, start, start + len(words))
    return Finding(
        "unit-unknown", Weight.DOUBT, f'"{words}" is doubtful', span, "as it is", "mend it"
    )
