"""Every caution of the book in one place, and every rule that is looked for, with its source.

The reader sees what is checked and, by that, what is not. Nothing here judges a log.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.cautions.rules import Rule, rule_book
from logbook.calculation.cautions.wrong_advice import NOT_SO, wrong_advice
from logbook.calculation.results import BookFigures, Caution
from logbook.model.run import Run
from logbook.pages.addresses import CAUTIONS, Here, LineLink, Link
from logbook.pages.caution_view import SIGNALS
from logbook.pages.frame import Frame, Site
from logbook.pages.rounding import plural

PUBLISHED = "published"
WRONG_ADVICE = "warning"
"""The signal word under which a log that shows wrong advice is told so."""


@dataclass(frozen=True, slots=True)
class KnownRule:
    """A rule that is looked for: what it says, where that is written, and how sure that is.

    `anchor` is its place on the page, `standing` how well its source bears it out, "in part"
    where the source says less than the rule. For wrong advice `text` is the belief, and `do`
    what is true instead.
    """

    anchor: str
    title: str
    signal: str
    word: str
    text: str
    do: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class RaisedIn:
    """The lines of one run that raised a rule; `others` are those they meet in a vessel."""

    run: Link
    planned: bool
    lines: tuple[LineLink, ...]
    others: tuple[LineLink, ...]


@dataclass(frozen=True, slots=True)
class RaisedRule:
    """A rule that the book meets, with the runs that do, and how many they are in words."""

    rule: KnownRule
    count: str
    runs: tuple[RaisedIn, ...]


@dataclass(frozen=True, slots=True)
class CautionsView:
    """The cautions page."""

    frame: Frame
    deferral: str
    summary: str
    raised: tuple[RaisedRule, ...]
    known: tuple[KnownRule, ...]
    beliefs: tuple[KnownRule, ...]


def cautions_view(figures: BookFigures, site: Site) -> CautionsView:
    """The cautions page of a book: plans first, then the runs from the newest on."""
    here = site.addresses.at(CAUTIONS)
    known, beliefs = tuple(known_rules()), tuple(known_beliefs())
    raised = tuple(_raised(figures, (*known, *beliefs), site, here))
    return CautionsView(
        frame=site.frame(here, "Cautions"),
        deferral=DEFERRAL,
        summary=_summary(raised),
        raised=raised,
        known=known,
        beliefs=beliefs,
    )


def dangers_raised(figures: BookFigures, site: Site) -> int:
    """How many rules of the graver signal word the book meets, by what may be shown of it."""
    cautions = (caution for run in figures.runs.values() for caution in run.cautions)
    told = (one for one in cautions if one.signal == "danger" and site.privacy.shows(one.entry))
    return len({caution.rule for caution in told})


def known_rules() -> Iterator[KnownRule]:
    """Every rule of cautions.toml, the dangers first."""
    for rule in sorted(rule_book().rules, key=lambda rule: SIGNALS.index(rule.signal)):
        source = f"{rule.source}. {rule.note}" if rule.note else rule.source
        yield KnownRule(
            *(rule.name, _title(rule.name), rule.signal, rule.signal.capitalize()),
            *(rule.text, rule.do, source, _standing(rule)),
        )


def known_beliefs() -> Iterator[KnownRule]:
    """Every belief of wrong_advice.toml."""
    for advice in wrong_advice():
        yield KnownRule(
            *(advice.name, _title(advice.name), WRONG_ADVICE, WRONG_ADVICE.capitalize()),
            *(f"{NOT_SO} {advice.belief}", advice.true, advice.source, advice.standing),
        )


def _standing(rule: Rule) -> str:
    """The standing of a rule: a note to a published one tells what is not in its source."""
    in_part = rule.note and rule.standing == PUBLISHED
    return f"{rule.standing}, in part" if in_part else rule.standing


def _title(name: str) -> str:
    return name.replace("-", " ")


def _planned(run: Run) -> bool:
    return run.planned


def _summary(raised: tuple[RaisedRule, ...]) -> str:
    if not raised:
        return "No caution of this program is raised in this book."
    dangers = sum(one.rule.signal == "danger" for one in raised)
    parts = f"{plural(dangers, 'danger')} and {plural(len(raised) - dangers, 'warning')}"
    return f"{parts} are raised in this book, each in one run or more."


def _raised(
    figures: BookFigures, known: Iterable[KnownRule], site: Site, here: Here
) -> Iterator[RaisedRule]:
    found: dict[str, dict[str, list[Caution]]] = {}
    for name, run in figures.runs.items():
        for caution in run.cautions:
            if site.privacy.shows(caution.entry):
                found.setdefault(caution.rule, {}).setdefault(name, []).append(caution)
    rules = [rule for rule in known if rule.anchor in found]
    for rule in sorted(rules, key=lambda rule: SIGNALS.index(rule.signal)):
        by_run = found[rule.anchor]
        runs = [figures.runs[name].run for name in by_run]
        newest = [*filter(_planned, runs), *reversed([run for run in runs if not run.planned])]
        yield RaisedRule(
            rule,
            f"in {plural(len(runs), 'run')}",
            tuple(
                _in_run(by_run[run.name], here.run(run.name), run.planned, site, here)
                for run in newest
            ),
        )


def _in_run(cautions: list[Caution], run: Link, planned: bool, site: Site, here: Here) -> RaisedIn:
    lines = dict.fromkeys(caution.entry.span for caution in cautions)
    others = dict.fromkeys(
        caution.other.span
        for caution in cautions
        if caution.other is not None and site.privacy.shows(caution.other)
    )
    return RaisedIn(run, planned, tuple(map(here.line, lines)), tuple(map(here.line, others)))
