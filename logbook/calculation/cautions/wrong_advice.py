"""Well-known wrong advice in a log or a question, held against what is true.

A belief is recognised by the words of one sentence; a sentence that denies it shows nothing.
What is true is told, with its source. Nothing here is ever a permission.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache

from logbook.calculation.cautions.rules import Signs
from logbook.calculation.cautions.signs import told_signs
from logbook.reference import load

NOT_SO = "Not so, though often heard:"
"""The words before a belief, so that no reader meets it alone."""


@dataclass(frozen=True, slots=True)
class WrongAdvice:
    """A belief that is wrong, as a clause, and what is true. `name` says what is true in short."""

    name: str
    belief: str
    true: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Belief:
    """How a text shows a belief: see the head of wrong_advice.toml."""

    advice: WrongAdvice
    words: tuple[tuple[str, ...], ...]
    says: tuple[re.Pattern[str], ...]  # the same, each where a word begins
    meets: tuple[Signs, ...]
    without: Signs

    def possible_in(self, text: str) -> bool:
        """Whether a text, in lower case, has words of the belief at all: quick to say."""
        return all(any(word in text for word in group) for group in self.words)

    def shown_by(self, sentence: str, signs: Signs) -> bool:
        """Whether a sentence, in lower case, holds the belief and does not deny it."""
        if not self.possible_in(sentence):
            return False
        rest = sentence
        for pattern in self.says:
            if not pattern.search(sentence):
                return False
            rest = pattern.sub(" ", rest)
        if _denial().search(rest):
            return False
        there = told_signs(sentence) | signs
        met = all(not group.isdisjoint(there) for group in self.meets)
        return met and self.without.isdisjoint(there)


_SENTENCE = re.compile(r".+?(?:[.!?](?=\s|$)|$)")


def _opening_with(words: list[str]) -> re.Pattern[str]:
    """A pattern for any word, or words, that open with one of these."""
    return re.compile("|".join(rf"(?<!\w){re.escape(word)}" for word in words))


@cache
def _denial() -> re.Pattern[str]:
    words = map(re.escape, load("wrong_advice.toml")["denials"]["words"])
    return re.compile(rf"(?<!\w)(?:{'|'.join(words)})(?!\w)")


@cache
def _beliefs() -> tuple[Belief, ...]:
    data = load("wrong_advice.toml")
    sources = data["sources"]
    return tuple(
        Belief(
            WrongAdvice(
                row["id"],
                row["belief"],
                row["true"],
                "; ".join(sources[name] for name in row["source"]),
                row["standing"],
            ),
            tuple(map(tuple, row["says"])),
            tuple(map(_opening_with, row["says"])),
            tuple(map(frozenset, row.get("meets", ()))),
            frozenset(row.get("without", ())),
        )
        for row in data["belief"]
    )


def wrong_advice() -> tuple[WrongAdvice, ...]:
    """Every belief that the program contradicts."""
    return tuple(belief.advice for belief in _beliefs())


def possible(text: str) -> tuple[Belief, ...]:
    """The beliefs of which a long text has words, so that its parts need not be asked for all."""
    plain = _plain(text)
    return tuple(belief for belief in _beliefs() if belief.possible_in(plain))


def contradicted(
    text: str, signs: Signs = frozenset(), among: tuple[Belief, ...] | None = None
) -> tuple[WrongAdvice, ...]:
    """The wrong advice that a text shows, each once.

    `signs` are what is known to be there besides what the text names, as in cautions.toml;
    `among` are the beliefs that are looked for, all if it is None.

    >>> [found.name for found in contradicted("Added urea to destroy the nitric acid.")]
    ['urea-leaves-the-nitric-acid']
    >>> contradicted("Urea does not destroy nitric acid.")
    ()
    """
    beliefs = possible(text) if among is None else among
    if not beliefs:
        return ()
    sentences = _SENTENCE.findall(_plain(text))
    return tuple(
        belief.advice
        for belief in beliefs
        if any(belief.shown_by(sentence, signs) for sentence in sentences)
    )


def _plain(text: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", text).lower().split()).replace("’", "'")
