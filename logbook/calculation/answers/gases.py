"""Questions about gas: what comes off at most, and what that makes of a room or of clean air.

It is arithmetic of mixing and no design of a ventilation. Where the data know of no gas, that
says nothing about whether one comes off.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from logbook.calculation.answers.given_off import (
    STATE,
    all_said,
    limited,
    mixture_gases,
    notes_with,
    said,
    sources_of,
    volume,
)
from logbook.calculation.answers.known import Known
from logbook.calculation.answers.mixture import Mixture, mixture_of
from logbook.calculation.answers.premises import in_words, stated
from logbook.calculation.bench.gas import NO_VENTILATION, ONE_OR_THE_OTHER
from logbook.calculation.bench.gas_mix import Setting
from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageGas
from logbook.calculation.results.answers import Answer
from logbook.chemistry.air import limits, litres, local_rules, name_of
from logbook.chemistry.electrolysis import faraday_bound, gas_bound, gases_of_cell
from logbook.chemistry.ranges import MissingError
from logbook.model.question import Question

_HOT = re.compile(r"(?<!\w)(?:hot(?!\w)|heat|boil|steam|warm|evaporat)", re.I)
_DRY = re.compile(
    r"(?<!\w)(?:evaporat|boil(?:ed|ing)?\s+(?:down|dry|off)|dr(?:y|ied|ying)(?!\w))", re.I
)
_METAL_ALONE = (
    "no acid or base is named for the metal: what any but the mildest would give is not known, "
    "and not counted"
)
_UNKNOWN_BATH = (
    "which bath it is, is not said: the fewest electrons and the gases of every bath count"
)


def gas_from(question: Question, known: Known) -> Answer:
    """What gas comes off at most of all that a question names, in one vessel.

    Equation: V = Σ m_i r_i V_m / M [L], r_i the most that a reaction gives of the gas for a
    gram of i; of the ways of one i the greatest counts, what different i give adds up. Source:
    reactions.toml, releases.toml; the ideal gas.
    """
    mixture = mixture_of(question, known)
    found = mixture_gases(mixture.chemistry, _room(question), _done(question.text))
    if not found:
        raise MissingError(_nothing(mixture))
    figures = tuple(volume(one) for one in found)
    with_what = " and ".join(" ".join(one.span.text.split()) for one in question.asked)
    stands = f" in {with_what}" if with_what else ""
    room = limited(_in_the_room(found))
    sentence = [f"{in_words(question.of)}{stands} can give off ", *all_said(figures), "."]
    if room:
        sentence += [f" In a closed room of {_room_words(question)} that makes ", *said(room)]
        sentence.append("." if len(room) == len(found) else "; for the others there is no limit.")
    sentence += _of_unknown(mixture.unknown)
    return Answer(
        question.text,
        question.kind.value,
        tuple(sentence),
        (*figures, *room, *limited(_spoilt(found))),
        sources_of(found),
        notes=(*_lacking(question, mixture), *notes_with(found)),
    )


def _done(text: str) -> Setting:
    """What is done with it, as far as the question says so; its metal may always dissolve."""
    dried = _DRY.search(text) is not None
    return Setting(heated=dried or _HOT.search(text) is not None, dried=dried, dissolves=True)


def _nothing(mixture: Mixture) -> str:
    """Why no gas is named; that is never the same as none."""
    if mixture.unknown:
        names = " and ".join(mixture.unknown)
        return f"what is in {names} is not in the data: which gas comes off is not known"
    if mixture.metal_alone:
        return f"which gas comes off is not known: {_METAL_ALONE}"
    return (
        "which gas comes off is not known: the data have no reaction for it, and that says "
        "nothing about whether one comes off"
    )


def _of_unknown(names: Iterable[str]) -> list[str | Figure]:
    return [
        f" What {name} gives off is not known, because what is in it is not in the data."
        for name in names
    ]


def _lacking(question: Question, mixture: Mixture) -> list[str]:
    notes = [_METAL_ALONE] if mixture.metal_alone else []
    room = question.amount("room")
    if room is not None and _room(question) is None:
        notes.append(f"how large {room.span.text} is at the least is not known")
    if room is not None and room.low is not None:
        notes.append("of a room within limits the smallest counts: it holds the most gas")
    return notes


def _room_words(question: Question) -> str:
    room = question.amount("room")
    return " ".join(room.span.text.split()) if room is not None else ""


def _room(question: Question) -> Figure | None:
    """The room that is named, at its smallest [L]; None where there is none, or no least."""
    amount = question.amount("room")
    if amount is None:
        return None
    read = stated("the room", "L", amount)
    least = within(read).low if amount.low is None else amount.low
    if not least:
        return None
    if amount.low is None and read.value is not None and not read.value.u:
        return read
    return replace(read, value=None, low=least, why="the smallest that it may be counts")


def _in_the_room(found: Iterable[StageGas]) -> list[Figure]:
    """What each gas makes of the room, evenly mixed and with every door shut [ppm]."""
    return [
        replace(one.room, name=name_of(one.gas), low=None) for one in found if one.room is not None
    ]


def _spoilt(found: Iterable[StageGas]) -> list[Figure]:
    """The air that each gas brings to the limit that it reaches first [m3]."""
    figures = []
    for one in found:
        against = limits(one.gas).held_against()
        if one.air is not None and against is not None:
            name = f"air that the {name_of(one.gas)} brings to {against.words}"
            figures.append(replace(one.air, name=name, low=None))
    return figures


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
    gases = tuple(_by_current(gas, amperes, hours, terms) for gas in gases_of_cell(()))
    words = " for ".join(" ".join(one.span.text.split()) for one in (current, time))
    return Answer(
        question.text,
        question.kind.value,
        (
            f"{words} can carry over ",
            bound,
            f" of {metal}. What does not goes into gas, as the bath is: ",
            *said(gases),
            ".",
        ),
        (bound, *gases),
        ("Faraday's law of electrolysis; electrons: electrolysis.toml",),
        notes=(_UNKNOWN_BATH, ONE_OR_THE_OTHER, STATE, NO_VENTILATION, local_rules()),
    )


def _by_current(gas: str, amperes: float, hours: float, terms: tuple[Figure, ...]) -> Figure:
    """The most of a gas that a current can set free [L]."""
    return Figure(
        name_of(gas),
        "L",
        formula="current × time × molar volume / (electrons × Faraday constant)",
        terms=terms,
        why="as if all of the current went into it",
        high=litres(gas, gas_bound(gas, amperes, hours)),
    )
