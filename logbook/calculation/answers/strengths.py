"""Questions about one strength in other units, and about acids measured out by parts.

What is measured out is no mixture yet: what forms when acids meet, and what leaves, no figure
here tells.
"""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import limits
from logbook.calculation.answers.solutions import TABLES
from logbook.calculation.figure import Figure
from logbook.calculation.results.answers import Answer
from logbook.calculation.supplies.names import supply_in_words
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.mixing import VOLUMES, parts
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.solutions import Strength, strength, substances, word_of_trade
from logbook.chemistry.written import limits_of, peroxide_grams_per_litre
from logbook.model.entry import Portion
from logbook.model.question import Question

BEFORE = "this is what is measured out: what forms when they meet, and what leaves, is not in it"


def in_other_units(question: Question, known: Known) -> Answer:
    """One strength in per cent, mol/L, g/L and by density.

    Equation: β = w ρ [g/L], c = β / M [mol/L]; of peroxide v = β V_m / 2 M volumes of oxygen.
    Source: definitions; tables of densities in strengths.toml.
    """
    (portion,) = question.asked
    formula = _formula(portion)
    word = word_of_trade(portion.what, portion.reagent)
    found = strength(word, portion.strength)
    figures = _units(found, formula)
    first = figures.pop(question.unit, None)
    if first is None:
        raise MissingError(f"volumes of oxygen say nothing of {portion.reagent}")
    rest = list(figures.values())
    words = supply_in_words(replace(portion, reagent=word))
    sentence: list[str | Figure] = [f"{words[0].upper()}{words[1:]} is ", first]
    for place, figure in enumerate(rest):
        sentence += [" or " if place == len(rest) - 1 else ", ", figure]
    return Answer(
        question.text,
        question.kind.value,
        (*sentence, " at 20 C."),
        (first, *rest),
        tuple(dict.fromkeys(found.sources)),
        notes=tuple(dict.fromkeys((f"it follows from: {found.basis}", *found.notes))),
    )


def _formula(portion: Portion) -> str:
    formulas = substances(portion.reagent)
    if len(formulas) != 1:
        raise MissingError(f"{portion.reagent} is not one substance")
    return formulas[0]


def _units(found: Strength, formula: str) -> dict[str, Figure]:
    """A strength in every unit it can be told in."""
    grams = limits("grams in a litre", "g/L", found.grams_per_litre, TABLES)
    figures = {
        "per cent": limits("mass fraction", "g/g", found.fraction, TABLES, found.basis),
        "molarity": replace(
            limits(
                "molarity", "mol/L", found.moles_per_litre(molar_mass(formula)), TABLES,
                "grams in a litre / molar mass",
            ),
            terms=(grams,),
        ),
        "grams": grams,
        "density": limits("density", "g/mL", found.density, TABLES),
    }  # fmt: skip
    if formula == "H2O2":
        one = peroxide_grams_per_litre(1.0)
        volumes = found.grams_per_litre.times(1.0 / one)
        figures["volumes"] = limits("volume strength", "volumes of oxygen", volumes, TABLES)
    return figures


def by_parts(question: Question, known: Known) -> Answer:
    """Two acids by their parts: litres of each, and what they hold before anything has reacted.

    Equation: V_i = V n_i / Σ n [L], m_i = V_i β_i [g]. Source: definition.
    """
    first, second = question.asked
    whole, numbers = question.amount("whole"), (question.amount("first"), question.amount("second"))
    if whole is None or any(number is None or not number.base_value for number in numbers):
        raise MissingError("how many parts of each")
    shares = [number.base_value or 0.0 for number in numbers if number is not None]
    litres = limits_of(whole)
    each = parts(
        tuple(
            (word_of_trade(one.what, one.reagent), one.strength, share)
            for one, share in zip((first, second), shares, strict=True)
        )
    )
    figures: list[Figure] = []
    sentence: list[str | Figure] = [f"{' '.join(whole.span.text.split())} is measured out of "]
    for place, (portion, part) in enumerate(zip((first, second), each, strict=True)):
        words = supply_in_words(portion)
        volume = limits(words, "L", part.litres * litres, TABLES, "whole × parts / all parts")
        held = limits(f"{part.formula} in it", "g", part.grams * litres, TABLES, "by its strength")
        figures += [volume, replace(held, terms=(volume,))]
        sentence += [" and " if place else "", volume, f" of {words}, which holds ", held]
        sentence += [f" of {part.formula}"]
    notes = (BEFORE, VOLUMES, *(note for part in each for note in part.notes))
    return Answer(
        question.text,
        question.kind.value,
        (*sentence, ", before anything has reacted."),
        tuple(figures),
        notes=tuple(dict.fromkeys(notes)),
    )
