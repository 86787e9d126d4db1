"""How fine a labelled thing is: what was written of it, and what its density allows."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import thing_of
from logbook.calculation.figure import Figure
from logbook.calculation.purity import purity
from logbook.calculation.results import DensityCheck, Thing
from logbook.calculation.results.answers import Answer
from logbook.chemistry.ranges import MissingError
from logbook.model.question import Question


def fineness_of(question: Question, known: Known) -> Answer:
    """How fine a labelled thing is, by what is written of it and by its latest density.

    Metals named as partners ("with copper") choose among the densities.
    """
    label = question.labels[0].name
    thing = thing_of(label, known.figures)
    check = _density(label, known)
    by_density = _by_density(check, question.metals)
    written = [] if question.unit == "density" else _written(thing, question.metals)
    if question.unit == "density" and check is None:
        raise MissingError(f"no line tells what [{label}] weighs in air and in water")
    if not by_density and not written:
        raise MissingError(f"the fineness of [{label}] was never measured")
    sentence: list[str | Figure] = []
    for metal, figure in written:
        opening = f"[{label}] is written as " if not sentence else " and "
        sentence += [opening, figure, f" of {metal}"]
    density = check.density if check is not None else None
    if by_density and density is not None:
        sentence += [
            "; its" if sentence else f"[{label}]: its",
            " density of ",
            density,
            " allows ",
        ]
        for place, figure in enumerate(by_density):
            sentence += [" and " if place else "", figure, f" of {_what(figure, label)}"]
    figures = (*(figure for _, figure in written), *by_density)
    return Answer(
        question.text,
        question.kind.value,
        (*sentence, "."),
        figures,
        notes=tuple(dict.fromkeys(note for figure in figures for note in figure.notes)),
    )


def _what(figure: Figure, label: str) -> str:
    return figure.name.replace(f" in [{label}] by density", "")


def _density(label: str, known: Known) -> DensityCheck | None:
    """The latest density of a labelled thing."""
    if known.figures is None:
        return None
    runs = known.figures.runs.values()
    found = [one for run in runs for one in run.densities if one.title == f"[{label}]"]
    return found[-1] if found else None


def _by_density(check: DensityCheck | None, metals: Iterable[str]) -> list[Figure]:
    """What a density allows: with the partners that were named, or with each."""
    if check is None:
        return []
    figures = [one for one in check.fineness if one.known or one.high is not None]
    partners = [f"if the rest is {metal}" for metal in metals]
    named = [one for one in figures if any(one.name.endswith(words) for words in partners)]
    return named or [one for one in figures if "if the rest is" in one.name] or figures


def _written(thing: Thing, named: Iterable[str]) -> list[tuple[str, Figure]]:
    """What is written of its fineness, in the metals that are asked about, or in all."""
    all_of_it = [(metal, purity(thing, metal)) for metal in thing.held]
    known = [(metal, figure) for metal, figure in all_of_it if figure.known or figure.high]
    asked = set(named)
    return [one for one in known if one[0] in asked] or known
