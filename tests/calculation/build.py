"""Terse records of a book for tests of the figures, without a reader between.

Every amount gets words and a place of its own, so that spans and identities are as they
would be in a book that was read.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, time
from typing import Any

from logbook.model.amount import BASE_UNITS, Amount, Dimension
from logbook.model.book import Bench, Book, Customs, FixedPage
from logbook.model.entry import Composition, Entry, Label, Portion, Price, When
from logbook.model.run import Fact, Run, Stage, Status
from logbook.source import SourceText, Span


def span(words: str) -> Span:
    """A place that holds just these words."""
    return Span(SourceText("runs/test.md", words), 0, len(words))


def amount(dimension: Dimension, value: float | None, u: float = 0.0, **more: Any) -> Amount:
    """An amount in the base unit of its dimension."""
    unit = BASE_UNITS.get(dimension, "")
    words = "some" if value is None else f"{value:g} {unit}".strip()
    return Amount(span(words), dimension, unit, value, value, u, **more)


def g(value: float | None, u: float = 0.0, **more: Any) -> Amount:
    """A mass in grams."""
    return amount(Dimension.MASS, value, u, **more)


def litres(value: float | None, u: float = 0.0, **more: Any) -> Amount:
    """A volume in litres."""
    return amount(Dimension.VOLUME, value, u, **more)


def pieces(value: float) -> Amount:
    """A count."""
    return amount(Dimension.COUNT, value)


def hours(value: float | None) -> Amount:
    """A time in hours; None where nobody knows."""
    return amount(Dimension.TIME, value)


def part(value: float | None, u: float = 0.0, **more: Any) -> Amount:
    """An assay as a mass fraction."""
    return amount(Dimension.FRACTION, value, u, **more)


def per_litre(value: float, u: float = 0.0) -> Amount:
    """A concentration in grams per litre."""
    return amount(Dimension.CONCENTRATION, value, u)


def euros(value: float) -> Amount:
    """A sum of money."""
    return Amount(span(f"{value:g} EUR"), Dimension.MONEY, "EUR", value, value, currency="EUR")


def rate(value: float, per: str, currency: str = "EUR") -> Amount:
    """A price per unit."""
    words = f"{value:g} {currency}/{per}"
    return Amount(span(words), Dimension.PRICE, words, value, value, currency=currency, per=per)


def labels(*names: str) -> tuple[Label, ...]:
    """Labels by their names."""
    return tuple(Label(span(f"[{name}]"), name) for name in names)


def when(day: str = "", clock: str = "") -> When | None:
    """A date, a time of day, or both."""
    if not day and not clock:
        return None
    return When(
        span(f"{day} {clock}".strip()),
        date.fromisoformat(day) if day else None,
        time.fromisoformat(clock) if clock else None,
    )


def entry(
    action: str,
    how_much: Amount | None = None,
    what: str = "",
    *names: str,
    holds: Mapping[str, Amount] | None = None,
    source: str = "",
    into: str = "",
    share: float | None = None,
    strength: Amount | None = None,
    reagent: str = "",
    on: str = "",
    clock: str = "",
    cost: Amount | None = None,
    would_cost: bool = False,
    **more: Any,
) -> Entry:
    """An entry with at most one portion: what most list items of a log are."""
    words = f"- {action} {what} " + " ".join(f"[{name}]" for name in names)
    portions: tuple[Portion, ...] = ()
    if how_much is not None or what or names:
        found = labels(*names)
        portions = (Portion(span(words), how_much, what, found, share, strength, reagent),)
    return Entry(
        action,
        span(words),
        1,
        when=when(on, clock),
        portions=portions,
        sources=labels(source) if source else (),
        destinations=labels(into) if into else (),
        compositions=tuple(
            Composition(one.span, metal, one) for metal, one in (holds or {}).items()
        ),
        price=Price(cost, would_cost) if cost is not None else None,
        **more,
    )


def worked(value: float | None, **more: Any) -> Entry:
    """Hands-on work."""
    return entry("worked", duration=hours(value), **more)


def stage(
    title: str, *entries: Entry, kind: str = "", on: str = "", clock: str = "", trial: bool = False
) -> Stage:
    """A stage of the kind its title names."""
    kinds = (kind or title.lower(),) if kind != "none" else ()
    return Stage(span(f"## {title}"), title, kinds, when(on, clock), trial, tuple(entries))


def run(
    name: str,
    *stages: Stage,
    metals: tuple[str, ...] = ("silver",),
    day: str | None = None,
    status: Status = Status.FINISHED,
    continues: str = "",
) -> Run:
    """A run whose name begins with its date."""
    source = SourceText(f"runs/{name}.md", f"# {name}\n")
    facts = (Fact(span(f"Continues: {continues}"), "Continues", continues),) if continues else ()
    on = day or name[:10]
    return Run(
        name,
        source,
        name,
        date.fromisoformat(on),
        status,
        metals,
        continues,
        None,
        facts,
        (),
        tuple(stages),
    )


def page(name: str, *entries: Entry) -> FixedPage:
    """A fixed page."""
    return FixedPage(SourceText(f"runs/{name}.md", f"# {name}\n"), name, tuple(entries))


def priced(metal: str, value: float, on: str, currency: str = "EUR") -> Entry:
    """The price of a metal on a day, per gram."""
    return entry("priced", metal=metal, per=rate(value, "g", currency), on=on)


def book(
    *runs: Run,
    supplies: FixedPage | None = None,
    prices: FixedPage | None = None,
    hour: float | None = None,
    tariff: float | None = None,
) -> Book:
    """A book that counts in euros."""
    bench = Bench(
        currency="EUR",
        hour=rate(hour, "h") if hour is not None else None,
        tariff=rate(tariff, "kWh") if tariff is not None else None,
    )
    in_order = tuple(sorted(runs, key=lambda one: (one.day or date.max, one.name)))
    return Book(bench, Customs(currency="EUR"), in_order, supplies=supplies, prices=prices)
