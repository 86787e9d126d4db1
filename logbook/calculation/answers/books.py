"""Questions to a book: what a jar holds or is worth, and one weight in another unit.

What no line of the book tells is said to be unknown, with the reason the book has for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import charge, in_words, stated, thing_of
from logbook.calculation.figure import Figure
from logbook.calculation.money.markets import book_currency, market
from logbook.calculation.results import Fate, Thing
from logbook.calculation.results.answers import Answer
from logbook.calculation.sums import add_up, part_of, product
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Amount
from logbook.model.question import Question
from logbook.reference import metals
from logbook.units import units_by_word

OUNCES = (
    "an ounce of gold, silver, platinum or palladium is a troy ounce of 31.1034768 g, about a "
    "tenth more than the common ounce of 28.349523125 g"
)
NO_CHARGE = "no refiner's charge, fee or tax is taken off"


_WHERE = {
    Fate.SHELF: "stands on the shelf",
    Fate.USED: "was used up",
    Fate.WASTE: "is in the waste",
    Fate.LOST: "was lost",
    Fate.SOLD: "was sold",
}


def worth(question: Question, known: Known) -> Answer:
    """What a thing is worth at the book's latest price.

    Equation: worth = Σ fine weight [g] × price [currency/g]. Source: common practice, no source.
    """
    book, said = known.figures, question.amount("price")
    if said is not None:
        return _at_price(question, known, said)
    if book is None:
        raise MissingError("a book to take the price from: none was read")
    of = charge(question.of, book)
    currency = book_currency(book.book)
    prices = market(book.prices, currency)
    precious = [metal for metal in of.metals if metals()[metal].precious] or list(of.metals)
    parts = [
        product(f"worth of {metal}", currency, of.metals[metal], prices.price(metal, None))
        for metal in precious
    ]
    whole = parts[0] if len(parts) == 1 else add_up("worth", currency, parts)
    if not whole.known and whole.high is None:
        raise MissingError(whole.why)
    days = {price.metal: price.day for price in book.prices if price.metal in precious}
    dated = [f"the price of {metal} is that of {day.isoformat()}" for metal, day in days.items()]
    return Answer(
        question.text,
        question.kind.value,
        (f"At the latest price in the book {in_words(question.of)} is worth ", whole, "."),
        (whole,),
        notes=tuple(dict.fromkeys((*dated, NO_CHARGE, *whole.notes))),
    )


def _at_price(question: Question, known: Known, said: Amount) -> Answer:
    """What a thing is worth at a price that the question names, of the one metal it can be for."""
    if said.per != "g":
        raise MissingError(f"{said.span.text} is no price of a weight: for example 85 $/g")
    of = charge(question.of, known.figures)
    precious = [metal for metal in of.metals if metals()[metal].precious] or list(of.metals)
    if len(precious) != 1:
        raise MissingError(f"the price of which metal: {' or '.join(precious)}")
    (metal,) = precious
    price = stated(f"price of {metal}", said.base_unit, said)
    worth = product(f"worth of {metal}", said.currency, of.metals[metal], price)
    words = " ".join(said.span.text.split())
    return Answer(
        question.text,
        question.kind.value,
        (f"At {words} of {metal} {in_words(question.of)} is worth ", worth, "."),
        (worth,),
        notes=tuple(dict.fromkeys((NO_CHARGE, *worth.notes))),
    )


def content(question: Question, known: Known) -> Answer:
    """What a labelled thing holds, as the whole book gives it; or any other, as it is said."""
    if question.of:
        return _claimed(question, known)
    things = [thing_of(label.name, known.figures) for label in question.labels]
    figures: list[Figure] = []
    sentence: list[str | Figure] = []
    notes: list[str] = []
    for thing in things:
        found = _contents(thing, question.metals)
        figures += found
        sentence += [" " if sentence else "", *_told(thing, found)]
        notes += _how_known(thing, question.metals)
    return Answer(
        question.text, question.kind.value, tuple(sentence), tuple(figures),
        notes=tuple(dict.fromkeys(notes)),
    )  # fmt: skip


def _claimed(question: Question, known: Known) -> Answer:
    """What a thing holds by its name, its mark or what is said of it."""
    of = charge(question.of, known.figures)
    metal = question.metals[0]
    figure = of.metals.get(metal)
    if figure is None:
        raise MissingError(f"what is said of it tells nothing of {metal}")
    return Answer(
        question.text,
        question.kind.value,
        (f"By what is said of it, {of.words} holds ", figure, f" of {metal}."),
        (figure,),
        of.sources,
        notes=tuple(dict.fromkeys(("a name or a mark is a claim and no assay", *figure.notes))),
    )


def _contents(thing: Thing, named: Sequence[str]) -> list[Figure]:
    """The metals that are asked about, or all that are spoken of."""
    if not named:
        return list(thing.contents.values())
    return [
        thing.contents.get(metal)
        or Figure(metal, "g", why=f"no line tells what [{thing.label}] holds of it")
        for metal in named
    ]


def _told(thing: Thing, found: Sequence[Figure]) -> list[str | Figure]:
    gone = thing.fate is not Fate.SHELF
    weighs, holds = ("weighed", "held") if gone else ("weighs", "holds")
    words: list[str | Figure] = [f"[{thing.label}] {_WHERE[thing.fate]}"]
    if thing.gross.known:
        words += [f"; it {weighs} ", thing.gross]
    elif thing.volume.known:
        words += ["; it measures ", thing.volume]
    for place, figure in enumerate(found):
        opens = f" and {holds} " if len(words) > 1 else f"; it {holds} "
        words += [opens if not place else ", ", figure, f" of {_metal(thing, figure)}"]
    if not found:
        words.append("; no line tells what metal it holds")
    return [*words, "."]


def _metal(thing: Thing, figure: Figure) -> str:
    names = (metal for metal, known in thing.contents.items() if known is figure)
    return next(names, figure.name)


def _how_known(thing: Thing, named: Sequence[str]) -> list[str]:
    return [
        f"{metal} in [{thing.label}] is {held.standing.value}"
        + (f": {held.words}" if held.words else "")
        for metal, held in thing.held.items()
        if not named or metal in named
    ]


def weight_in(question: Question, known: Known) -> Answer:
    """One weight in another unit; an ounce that may be either is told in both.

    Equation: m = m_g / f, f grams of the unit. Source: NIST SP 811, appendix B, by units.toml.
    """
    amount = question.amount("weight")
    if amount is None or amount.base_value is None:
        raise MissingError("the weight is not said in one figure")
    unit = units_by_word()[question.unit]
    grams = stated(" ".join(amount.span.text.split()), "g", amount)
    figure = _in_unit(grams, unit.name, unit.factor)
    either = "oz" in (amount.unit, question.unit)
    precious = any(metals()[metal].precious for metal in question.metals)
    figures = [figure]
    figures += [_in_troy(grams, amount.unit, unit.name, unit.factor)] if either else []
    if either and precious:
        figures.reverse()
    are = "is" if grams.name.lower().startswith(("a ", "an ", "one ", "1 ")) else "are"
    sentence: list[str | Figure] = [f"{grams.name[0].upper()}{grams.name[1:]} {are} ", figures[0]]
    if either and precious:
        sentence += [" in troy ounces, as precious metals are weighed; in common ounces, "]
    elif either:
        sentence += [" in common ounces; in troy ounces, as precious metals are weighed, "]
    sentence += [*figures[1:], "."]
    return Answer(
        question.text,
        question.kind.value,
        tuple(sentence),
        tuple(figures),
        ("NIST SP 811, appendix B",),
        notes=(OUNCES,) if either else (),
    )


def _in_unit(grams: Figure, unit: str, factor: float) -> Figure:
    figure = part_of(unit, grams, 1.0 / factor, f"{grams.name} in grams / grams of one {unit}")
    return replace(figure, unit=unit, notes=())


def _in_troy(grams: Figure, said: str, unit: str, factor: float) -> Figure:
    """The same with troy ounces in place of common ones."""
    words = units_by_word()
    troy = words["ozt"].factor / words["oz"].factor
    as_troy = (
        part_of(f"{grams.name} troy", grams, troy, "in troy ounces") if said == "oz" else grams
    )
    return _in_unit(
        as_troy, "ozt" if unit == "oz" else unit, factor * (troy if unit == "oz" else 1.0)
    )
