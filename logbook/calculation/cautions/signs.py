"""What the entries of a log say is in a vessel: signs for the rules of cautions.toml.

Names are matched as whole words, and plurals of them, in the reader's own record of a thing and
in the writer's words for it. Which rules the signs meet is decided in cautions.py.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, lru_cache

from logbook.calculation.cautions.rules import Signs, rule_book, words_asked_for
from logbook.calculation.cautions.shut import tells_of_closing
from logbook.calculation.cautions.strong import strong_in_words, strong_signs
from logbook.calculation.cautions.unread import UNREAD, action_words
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Portion
from logbook.model.run import Stage
from logbook.reference import actions, metals, reagent_words, reagents, stage_words

HOT = 40.0
"""degC from which an entry counts as hot; common practice, no source."""

OUT = frozenset(
    {"got", "kept", "left", "lost", "sampled", "discarded", "weighed", "measured"}
    | {"assayed", "tested", "found", "waited", "worked", "read"}
)
"""Actions whose things leave the stage, or were in it before."""

RINSING = frozenset({"rinsed", "washed"})
"""Actions that take away what clings to a thing."""

LIQUID = re.compile(r"\b(solution|liquor|liquid|filtrate|acid|rinse|rinsing|washing|water)s?\b")

BAR = re.compile(r"\b(bar|ingot|button|bead|prill)s?\b")

LIKE_WORDS = {"As": "arsenic", "Be": "beryllium"}
"""Symbols of metals that are words of English: they count after an amount only."""

_SYMBOL = re.compile(r"(?:\d|%|\b[mk]?g|\boz) +(As|Be)(?!\w)")

SHUT = frozenset({"state shut", "state closed"})
"""The signs of a working vessel that was closed."""

STEPS = frozenset({"heated", "added", UNREAD})
"""Actions besides the steps of the work whose every word is looked at."""


def _plain(text: str) -> str:
    """A text in lower case on one line, with the figures of formulas as plain digits."""
    return " ".join(unicodedata.normalize("NFKC", text).lower().split())


Index = Mapping[str, tuple[tuple[int, str], ...]]
"""Words with their rank, the longest first, under what they open with."""

_TOKEN = re.compile(r"\w+")


def _indexed(words: Iterable[str]) -> Index:
    index: dict[str, tuple[tuple[int, str], ...]] = {}
    ranked = enumerate(sorted(words, key=lambda word: (-len(word), word)))
    for rank, word in ranked:
        opening = _TOKEN.findall(word)[0]
        index[opening] = (*index.get(opening, ()), (rank, word))
    return index


@lru_cache(maxsize=8192)
def _opened(text: str) -> tuple[str, frozenset[str]]:
    """A text made plain, with its words and what they may be the plural of."""
    plain = _plain(text)
    tokens = _TOKEN.findall(plain)
    singular = [token[:-1] for token in tokens if token.endswith("s")]
    return plain, frozenset((*tokens, *singular, *(s[:-1] for s in singular if s.endswith("e"))))


def _ends_word(text: str, at: int) -> bool:
    """Whether no letter or figure stands at a place."""
    return not (0 <= at < len(text) and (text[at].isalnum() or text[at] == "_"))


def _without(text: str, word: str) -> str:
    """A text without a word or its plural; compiling a pattern for each word takes longer."""
    at = text.find(word)
    while at >= 0:
        end = at + len(word)
        ends = [end + len(s) for s in ("", "s", "es") if text.startswith(s, end)]
        whole = [end for end in ends if _ends_word(text, end)]
        if whole and _ends_word(text, at - 1):
            text = f"{text[:at]}\0{text[whole[0] :]}"
        at = text.find(word, at + 1)
    return text


def _found(text: str, index: Index) -> Iterator[str]:
    """Which words, the longest first, stand in a text; each stretch of it counts once."""
    rest, openings = _opened(text)
    candidates = [pair for opening in openings if opening in index for pair in index[opening]]
    for _, word in sorted(candidates):
        without = _without(rest, word)
        if without != rest:
            rest = without
            yield word


@cache
def _names_of_reagents() -> Mapping[str, str]:
    """Words and formulas of reagents, but not a formula as short as a symbol."""
    formulas = {
        reagent.formula.lower(): name
        for name, reagent in reagents().items()
        if len(reagent.formula) > 2 and " " not in reagent.formula
    }
    return {**formulas, **reagent_words()}


@cache
def _supply_words() -> Index:
    return _indexed({*_names_of_reagents(), *rule_book().words})


@cache
def _metal_names() -> tuple[Index, Mapping[str, str]]:
    """Words for metals without their symbols, which keep their case."""
    names = {
        word.lower(): metal.name
        for metal in metals().values()
        for word in (metal.name, *metal.also)
    }
    return _indexed(names), names


@cache
def _symbols() -> tuple[re.Pattern[str], Mapping[str, str]]:
    """A pattern for the symbols of metals, and their names.

    Only metals that a rule asks for; the single letter W is a watt far more often.
    """
    asked = {sign for rule in rule_book().rules for group in rule.meets for sign in group}
    names = {
        metal.symbol: f"metal {metal.name}"
        for metal in metals().values()
        if f"metal {metal.name}" in asked and len(metal.symbol) > 1
    }
    return re.compile(rf"(?<!\w)(?:{'|'.join(names)})(?!\w)"), names


@cache
def _words_of(kind: str) -> Index:
    goods, states = rule_book().goods, rule_book().states
    more = {*goods, *states} if kind == "said" else goods
    return _indexed({*words_asked_for(kind), *more})


def _reagent_signs(name: str) -> Signs:
    reagent = reagents().get(name)
    classes = reagent.classes if reagent else ()
    return frozenset({f"reagent {name}", *(f"class {word}" for word in classes)})


@lru_cache(maxsize=8192)
def _supply_signs(text: str) -> Signs:
    """What words for a supply say is there."""
    signs: set[str] = set()
    for word in _found(text, _supply_words()):
        signs |= rule_book().words.get(word, frozenset())
        if word in _names_of_reagents():
            signs |= _reagent_signs(_names_of_reagents()[word])
    return frozenset(signs)


@lru_cache(maxsize=8192)
def metal_signs(text: str) -> Signs:
    """The metals that a text names, in full or by a symbol with its capital letter.

    >>> sorted(metal_signs("Zinc from a galvanised lead pipe, and 1 g Hg"))
    ['metal lead', 'metal mercury', 'metal zinc']
    """
    index, names = _metal_names()
    pattern, symbols = _symbols()
    found = {symbols[symbol] for symbol in pattern.findall(text)}
    return frozenset(found.union(f"metal {names[word]}" for word in _found(text, index)))


@lru_cache(maxsize=8192)
def word_signs(kind: str, text: str) -> Signs:
    """The words of a text that rules ask for as `word X` or as `said X`, and states with these.

    >>> sorted(word_signs("word", "Contacts of relays"))
    ['word contact', 'word relay']
    """
    book = rule_book()
    found = [word for word in _found(text, _words_of(kind)) if word not in book.goods]
    states = (book.states.get(word, frozenset()) for word in found)
    return frozenset(f"{kind} {word}" for word in found).union(*states)


def thing_signs(portion: Portion) -> Signs:
    """What one thing is, as far as its name tells."""
    signs = _supply_signs(portion.what) | metal_signs(portion.what)
    if portion.reagent and portion.what.lower() not in rule_book().words:
        signs |= _reagent_signs(portion.reagent)
    return signs | strong_signs(portion, signs)


@lru_cache(maxsize=8192)
def _work_signs(text: str) -> Signs:
    """The kinds of stage that verbs of a text name, and the symbols that look like words.

    What is poured is a liquid far more often than a melt.
    """
    verbs = (word for word in _opened(text)[1] if word.endswith("ed") and word != "poured")
    kinds = {stage_words()[verb] for verb in verbs if verb in stage_words()}
    signs = {f"stage {kind}" for kind in kinds}
    if rule_book().hot & kinds:
        signs.add("state heat")
    return frozenset(signs.union(f"word {LIKE_WORDS[symbol]}" for symbol in _SYMBOL.findall(text)))


def _is_hot(entry: Entry) -> bool:
    return any(
        amount.dimension is Dimension.TEMPERATURE and (amount.high or amount.base_value or 0) >= HOT
        for amount in entry.conditions
    )


def _is_liquid(portion: Portion) -> bool:
    by_volume = portion.amount is not None and portion.amount.dimension is Dimension.VOLUME
    return by_volume or LIQUID.search(portion.what.lower()) is not None


def is_bar(entry: Entry) -> bool:
    """Whether everything an entry names is metal in one piece.

    >>> from logbook.source import SourceText, Span
    >>> span = Span(SourceText("a.md", ""), 0, 0)
    >>> is_bar(Entry("got", span, 1, portions=(Portion(span, what="silver bars"),)))
    True
    """
    names = [portion.what.lower() for portion in entry.portions]
    return bool(names) and all(map(BAR.search, names))


def _may_be_liquid(portion: Portion) -> bool:
    reagent = reagents().get(portion.reagent)
    solid = reagent is not None and reagent.state == "solid"
    return _is_liquid(portion) or (portion.amount is None and not solid)


def stated_signs(entry: Entry) -> Signs:
    """What an entry says whatever becomes of its things: step, heat, metals, words, damp."""
    signs = {f"action {entry.action}", *rule_book().steps.get(entry.action, ())}
    signs |= {f"metal {composition.metal}" for composition in entry.compositions}
    signs |= word_signs("said", entry.span.text)
    if _is_hot(entry):
        signs.add("state heat")
    if tells_of_closing(entry.span.text):
        signs |= SHUT
    if entry.moisture in ("damp", "wet"):
        signs.add("state damp")
    if entry.action in ("kept", "left") and any(map(_may_be_liquid, entry.portions)):
        signs.add("state liquid kept")
    for test in entry.tests:
        signs |= {f"tested {s.removeprefix('class ')}" for s in _supply_signs(test.test)}
    if entry.action in ("took", "got", "kept", "heated", UNREAD) or _is_step(entry):
        signs |= word_signs("word", entry.span.text) | metal_signs(entry.span.text)
        signs |= _work_signs(entry.span.text)
    return frozenset(signs)


def _is_step(entry: Entry) -> bool:
    action = actions().get(entry.action)
    return action is not None and action.reads == "step"


def told_signs(text: str) -> Signs:
    """What a paragraph names: things, places, states, and steps by their verbs."""
    steps = rule_book().steps
    done = {action_words().get(word) for word in _opened(text)[1]}
    return (
        frozenset().union(*(steps.get(action, frozenset()) for action in done if action))
        | _supply_signs(text)
        | metal_signs(text)
        | _work_signs(text)
        | word_signs("word", text)
        | word_signs("said", text)
        | (SHUT if tells_of_closing(text) else frozenset())
    )


def _all_things(entry: Entry) -> tuple[Portion, ...]:
    return (*entry.portions, *entry.supplies)


def brought_signs(entry: Entry) -> Signs:
    """What an entry brings into the vessel under its own name.

    A step has no place for a thing but after `with`, and an item that was not read has none:
    there, and where something was added, every word of the entry is looked at.
    """
    if entry.words == UNREAD or entry.action in STEPS or _is_step(entry):
        said = _supply_signs(entry.span.text)
        if not entry.portions and not entry.supplies:
            said |= strong_in_words(entry.span.text, said)
        return said.union(*map(thing_signs, _all_things(entry)))
    brought = entry.supplies if entry.action in OUT else _all_things(entry)
    return frozenset().union(*(thing_signs(portion) for portion in brought))


def heading_signs(stage: Stage) -> Signs:
    """What the heading of a stage says."""
    signs = {f"stage {kind}" for kind in stage.kinds}
    if rule_book().hot.intersection(stage.kinds):
        signs.add("state heat")
    return frozenset(signs)


def labels(entry: Entry) -> Iterator[str]:
    """The labels of the things an entry speaks of."""
    for portion in entry.portions:
        yield from (label.name for label in portion.labels)


def got(stage: Stage) -> tuple[Portion, ...]:
    """What a stage got."""
    return tuple(p for entry in stage.entries if entry.action == "got" for p in entry.portions)


def rinses_charge(entry: Entry, stage: Stage) -> bool:
    """Whether an entry washes the solid charge itself, not a filter that its liquid left.

    Where that is open, it does not: what was there is taken to be there still.
    """
    if entry.action not in RINSING:
        return False
    left = got(stage)
    if any(_is_liquid(portion) for portion in left):
        return False
    return bool(left) or "rinse" in stage.kinds
