"""The supplies whose amount a question asks for, each with the pure substance that counts in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from logbook.calculation.answers.premises import only_metal
from logbook.calculation.supplies.names import supply_in_words
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.solutions import substances, word_of_trade
from logbook.model.entry import Portion
from logbook.reference import metals

_MIXED_ACIDS = {"aqua regia": ("concentrated hydrochloric acid", "concentrated nitric acid")}


@dataclass(frozen=True, slots=True)
class Asked:
    """A supply of a question with the pure substance that counts in it."""

    portion: Portion
    formula: str

    @property
    def words(self) -> str:
        """The supply in words, with its strength."""
        return supply_in_words(self.portion)


def supplies_of(portions: Iterable[Portion]) -> Iterable[Asked]:
    """The supplies of a question, mixed acids as the acids they are mixed of.

    Raises:
        MissingError: for a supply of which the data have no formula.
    """
    symbols = {metal.name: metal.symbol for metal in metals().values()}
    for portion in portions:
        for name in _MIXED_ACIDS.get(portion.reagent, ()):
            apart = replace(portion, reagent=name, what=name, strength=None)
            yield Asked(apart, substances(name)[0])
        if portion.reagent in _MIXED_ACIDS:
            continue
        metal = only_metal(portion.what, portion.reagent)
        formulas = substances(portion.reagent) if portion.reagent else ()
        if metal is not None:
            yield Asked(portion, symbols[metal])
        elif len(formulas) == 1:
            yield Asked(_by_its_word(portion), formulas[0])
        else:
            raise MissingError(f"what is in {supply_in_words(portion)} is not in the data")


def _by_its_word(portion: Portion) -> Portion:
    """A supply under a word of the trade that is of another strength, else by its own name."""
    return replace(portion, reagent=word_of_trade(portion.what, portion.reagent))
