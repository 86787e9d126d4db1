"""Questions about gas: what comes off at most, and what that makes of a room or of clean air.

It is arithmetic of mixing and no design of a ventilation. Where the data know of no gas, that
says nothing about whether one comes off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from logbook.calculation.answers.given_off import (
    AT_MOST,
    STATE,
    Given,
    dissolving,
    gas_figures,
    given_by_metals,
    said,
)
from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import (
    PREMISE,
    Charge,
    charge,
    in_words,
    only_metal,
    stated,
)
from logbook.calculation.answers.work import equations, substances_in, supplies_of
from logbook.calculation.bench.gas import NO_VENTILATION, ONE_OR_THE_OTHER
from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure
from logbook.calculation.results import Substance
from logbook.calculation.results.answers import Answer
from logbook.calculation.sums import part_of
from logbook.chemistry.air import limits, local_rules, parts_per_million
from logbook.chemistry.electrolysis import faraday_bound, gas_bound, gases_of_cell
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.reactions import Reaction, reactions
from logbook.chemistry.releases import Release, releases
from logbook.model.question import Material, Question


def gas_from(question: Question, known: Known) -> Answer:
    """What gas comes off at most.

    Equation: V = Σ m_i r_i V_m / M [L], r_i the most that a reaction gives of the gas for a
    gram of i. Source: reactions.toml, releases.toml; the ideal gas.
    """
    metals, others = _sorted(question.of)
    asked = tuple(supplies_of(question.asked))
    of = charge(metals, known.figures) if metals else Charge({}, None, "", ())
    held = [one for material in others for one in substances_in(material.portion)]
    formulas = frozenset(one.formula for one in asked) | {one.formula for one in held}
    ways = [*dissolving(of, formulas), *_beside(held, formulas)]
    given = given_by_metals(of, ways)
    freed = list(_freed(held))
    for substance, release in freed:
        grams = _most(substance) * release.from_salt()
        given[release.gas] = max(given.get(release.gas, 0.0), grams)
    for way in ways:
        for substance in held:
            if way.basis == substance.formula:
                for gas in way.gases:
                    grams = _most(substance) * way.given(gas)
                    given[gas] = max(given.get(gas, 0.0), grams)
    if not given:
        raise MissingError(
            "no reaction of the data gives off a gas there; that says nothing about whether one "
            "comes off"
        )
    salts = tuple(f"{s.words} with any {r.set_free_by}: releases.toml" for s, r in freed)
    return _answer(question, given, (*equations(ways), *dict.fromkeys(salts)))


def _sorted(materials: Iterable[Material]) -> tuple[list[Material], list[Material]]:
    """What is metal, or holds some, and what is a substance of the shelf."""
    found = list(materials)

    def is_metal(one: Material) -> bool:
        portion = one.portion
        return not portion.reagent or only_metal(portion.what, portion.reagent) is not None

    return [one for one in found if is_metal(one)], [one for one in found if not is_metal(one)]


def _beside(held: Iterable[Substance], formulas: frozenset[str]) -> Iterator[Reaction]:
    """Reactions of substances of the shelf with one another that give off a gas."""
    there = {one.formula for one in held}
    for way in reactions().values():
        if not way.metal and way.basis in there and way.gases and formulas.issuperset(way.asks):
            yield way


def _freed(held: Iterable[Substance]) -> Iterator[tuple[Substance, Release]]:
    for substance in held:
        for release in releases():
            if release.of == substance.formula:
                yield substance, release


def _most(substance: Substance) -> float:
    if substance.grams.high is None:
        raise MissingError(f"how much {substance.words} holds has no upper limit")
    return substance.grams.high


def _answer(question: Question, given: Given, sources: tuple[str, ...]) -> Answer:
    figures = gas_figures(given)
    with_what = " and ".join(" ".join(one.span.text.split()) for one in question.asked)
    stands = f" in {with_what}" if with_what else ""
    sentence: list[str | Figure] = [f"{in_words(question.of)}{stands} can give off "]
    sentence += [*said(figures), "."]
    notes, compared = [STATE], []
    if {"NO", "NO2"} <= given.keys():
        notes.append(ONE_OR_THE_OTHER)
    for gas, figure in zip(given, figures, strict=True):
        against = limits(gas).held_against()
        if against is None:
            notes.append(f"no limit for breathing {figure.name} was found: that is no leave")
            continue
        assert figure.high is not None
        high = against.air(figure.high)
        name = f"air that the {figure.name} brings to {against.words}"
        formula = "litres at most / limit"
        compared.append(Figure(name, "m3", formula=formula, why=AT_MOST, high=high))
        sources = (*sources, f"{against.words}: {against.limit.source}")
    room = _in_the_room(question, given, figures)
    if room:
        sentence += [f" In a closed room of {_room_words(question)} that makes ", *said(room), "."]
    return Answer(
        question.text,
        question.kind.value,
        tuple(sentence),
        (*figures, *room, *compared),
        tuple(dict.fromkeys(sources)),
        notes=(*notes, NO_VENTILATION, local_rules()),
    )


def _room_words(question: Question) -> str:
    room = question.amount("room")
    return " ".join(room.span.text.split()) if room is not None else ""


def _in_the_room(
    question: Question, given: Mapping[str, float], figures: Sequence[Figure]
) -> list[Figure]:
    """What each gas makes of the room, evenly mixed and with every door shut [ppm]."""
    said_room = question.amount("room")
    if said_room is None:
        return []
    litres_of_it = stated("room", "L", said_room)
    room = replace(part_of("room", litres_of_it, 0.001, PREMISE), unit="m3", terms=())
    least = within(room).low
    if not least:
        raise MissingError("a room of no size")
    return [
        Figure(
            figure.name,
            "ppm",
            formula="litres at most / room, evenly mixed and without any ventilation",
            terms=(replace(figure, terms=()), room),
            why=AT_MOST,
            high=parts_per_million(figure.high or 0.0, least),
        )
        for figure in figures
    ]


def from_cell(question: Question, known: Known) -> Answer:
    """What a current carries over at most in a cell.

    Equation: m = I t M / (z F) [g]. Source: Faraday's law, see `faraday_bound`.
    """
    metal = question.metals[0]
    current, time = question.amount("current"), question.amount("time")
    if current is None or time is None:
        raise MissingError("the current, and for how long")
    terms = (stated("current", "A", current), stated("time", "h", time))
    most = [within(one).high for one in terms]
    if most[0] is None or most[1] is None:
        raise MissingError("the current or the time has no upper limit")
    amperes, hours = most[0], most[1]
    why = "a current can do no more; part of it goes into gas, heat and other metals"
    bound = Figure(
        metal,
        "g",
        formula="current × time × molar mass / (electrons × Faraday constant)",
        terms=terms,
        why=why,
        high=faraday_bound(metal, amperes, hours),
    )
    gases = gas_figures({gas: gas_bound(gas, amperes, hours) for gas in gases_of_cell(())})
    words = " for ".join(" ".join(one.span.text.split()) for one in (current, time))
    return Answer(
        question.text,
        question.kind.value,
        (
            f"{words} can carry over ",
            bound,
            f" of {metal}. What does not goes into gas: ",
            *said(gases),
            ".",
        ),
        (bound, *gases),
        ("Faraday's law of electrolysis; electrons: electrolysis.toml",),
        notes=(STATE, "a bath with chloride gives off chlorine as well", local_rules()),
    )
