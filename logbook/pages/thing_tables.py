"""Tables of what is there: things with what they hold and carry, and waste."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import Content, Fate, HeldWorth, Thing, WasteContainer
from logbook.pages.content_view import content_of
from logbook.pages.table import (
    Cell,
    Column,
    Kind,
    Source,
    Table,
    as_day,
    day,
    doubt,
    number,
    table,
    text,
    value,
    words,
)

STANDING = text(
    "standing", "how well the content is known: measured, adjusted, deduced, bounded or unknown"
)
LOW = number("low_g", "g", "least that it can hold, where limits are known")
OF_THE_WHOLE = "of the whole thing, again in each row of it"
HIGH = number("high_g", "g", "most that it can hold, where limits are known")


@dataclass(frozen=True, slots=True)
class Holding:
    """One metal in one thing; no metal where none is spoken of."""

    thing: Thing
    metal: str = ""

    @property
    def content(self) -> Content | None:
        """What is known of the metal in it."""
        return content_of(self.thing, self.metal) if self.metal else None

    @property
    def measured(self) -> Figure | None:
        """How much of the metal was read in the thing itself."""
        return self.content.measured if self.content is not None else None

    @property
    def best(self) -> Figure | None:
        """How much of the metal it holds, as the whole book gives it."""
        return self.content.best if self.content is not None else None

    @property
    def low(self) -> float | None:
        """The least that it can hold."""
        return self.best.low if self.best is not None else None

    @property
    def high(self) -> float | None:
        """The most that it can hold."""
        return self.best.high if self.best is not None else None

    @property
    def standing(self) -> Cell:
        """How well the content is known."""
        return self.content.standing.value if self.content is not None else None

    @property
    def adjustment(self) -> Cell:
        """How far the content was moved, in standard uncertainties of its reading."""
        return self.content.adjustment if self.content is not None else None

    @property
    def allocated(self) -> Figure | None:
        """The share that it was given of a sum."""
        return self.content.allocated if self.content is not None else None

    @property
    def share_rule(self) -> Cell:
        """The rule by which the sum was shared."""
        return words(self.content.share_rule) if self.content is not None else None


def _contents(things: Sequence[Thing]) -> Iterator[Holding]:
    for thing in things:
        yield from (Holding(thing, metal) for metal in thing.contents or ("",))


def things(source: Source) -> Table:
    """One row for each metal in each thing; a thing of which no metal is spoken has one row."""
    money = source.currency
    carried = source.figures.costing.things
    held = {one.thing: one for one in source.figures.held_worth.things}
    return table(
        "things",
        "a metal in a thing",
        _contents(source.figures.things),
        (text("thing", "name of the thing, one for each state of a jar"), lambda c: c.thing.key),
        (text("label", "what is written on the jar"), lambda c: words(c.thing.label)),
        (text("what", "what it is, in the writer's words"), lambda c: words(c.thing.what)),
        (
            text("made_by", "run and stage it came from, with a slash between them"),
            lambda c: source.place(c.thing.made_by),
        ),
        (
            text("used_by", "run and stage that took it"),
            lambda c: source.place(c.thing.used_by),
        ),
        (number("gross_g", "g", "weight of the thing"), lambda c: value(c.thing.gross)),
        (number("volume_l", "L", "volume of the thing"), lambda c: value(c.thing.volume)),
        (text("metal", "the metal"), lambda c: words(c.metal)),
        (
            number("measured_g", "g", "content as measured on this thing itself"),
            lambda c: value(c.measured),
        ),
        (number("measured_u_g", "g", "its standard uncertainty"), lambda c: doubt(c.measured)),
        (number("content_g", "g", "best figure for the content"), lambda c: value(c.best)),
        (number("content_u_g", "g", "its standard uncertainty"), lambda c: doubt(c.best)),
        (
            number("adjustment_sd", "1", "content less reading, over the reading's uncertainty"),
            lambda c: c.adjustment,
        ),
        (LOW, lambda c: c.low),
        (HIGH, lambda c: c.high),
        (STANDING, lambda c: c.standing),
        (
            number("allocated_g", "g", "share given to it of a sum that is known"),
            lambda c: value(c.allocated),
        ),
        (text("share_rule", "rule by which the sum was shared"), lambda c: c.share_rule),
        (
            number("cost_carried", money, f"money that it carries, with the scrap; {OF_THE_WHOLE}"),
            lambda c: value(cost.cost) if (cost := carried.get(c.thing.key)) else None,
        ),
        (
            number("hours_carried", "h", f"hours that it carries; {OF_THE_WHOLE}"),
            lambda c: value(cost.hours) if (cost := carried.get(c.thing.key)) else None,
        ),
        (
            Column("on_shelf", Kind.YES_NO, "", "whether it stands on the shelf now"),
            lambda c: c.thing.fate is Fate.SHELF,
        ),
        (
            text("cost_rule", "rule by which it got its share of money and hours"),
            lambda c: words(cost.rule) if (cost := carried.get(c.thing.key)) else None,
        ),
        (
            number("worth", money, "worth of this metal in it at the latest price, where held"),
            lambda c: value(_worth(held, c)),
        ),
        (number("worth_low", money, "least that it can be worth"), lambda c: _least(held, c)),
        (number("worth_high", money, "most that it can be worth"), lambda c: _most(held, c)),
    )


def _worth(held: Mapping[str, HeldWorth], one: Holding) -> Figure | None:
    """What one metal in a thing is worth; None where the thing is not held."""
    found = held.get(one.thing.key)
    return None if found is None else found.by_metal.get(one.metal)


def _least(held: Mapping[str, HeldWorth], one: Holding) -> float | None:
    worth = _worth(held, one)
    return None if worth is None else worth.low


def _most(held: Mapping[str, HeldWorth], one: Holding) -> float | None:
    worth = _worth(held, one)
    return None if worth is None else worth.high


def waste(source: Source) -> Table:
    """One row for each metal in each waste container, those that have left the book included."""
    return table(
        "waste",
        "a metal in a waste container",
        _wasted(source.figures.waste),
        (
            text("container", "what is written on the container, or what was thrown away"),
            lambda c: c.container.label or c.container.key,
        ),
        (
            number("volume_l", "L", "volume of what is in it"),
            lambda c: value(c.container.volume),
        ),
        (
            number("ph", "1", "pH as last read, if it was read as one number"),
            lambda c: value(c.container.ph),
        ),
        (text("metal", "the metal"), lambda c: words(c.metal)),
        (number("content_g", "g", "how much of the metal is in it"), lambda c: value(c.best)),
        (LOW, lambda c: c.best.low if c.best is not None else None),
        (HIGH, lambda c: c.best.high if c.best is not None else None),
        (STANDING, lambda c: c.standing),
        (
            text("last_run", "the last run that added to it"),
            lambda c: words(c.container.last_run),
        ),
        (
            day("gone", "day on which it left the book; empty where no line says so"),
            lambda c: as_day(c.container.gone),
        ),
    )


@dataclass(frozen=True, slots=True)
class Wasted:
    """One metal in one waste container; no metal where none is spoken of."""

    container: WasteContainer
    metal: str = ""

    @property
    def best(self) -> Figure | None:
        """How much of the metal it holds."""
        return self.container.contents[self.metal].best if self.metal else None

    @property
    def standing(self) -> Cell:
        """How well that is known."""
        return self.container.contents[self.metal].standing.value if self.metal else None


def _wasted(containers: Sequence[WasteContainer]) -> Iterator[Wasted]:
    for one in containers:
        if one.taken_by is None:
            yield from (Wasted(one, metal) for metal in one.contents or ("",))
