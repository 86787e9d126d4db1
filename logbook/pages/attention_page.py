"""What needs attention: problems in the logs, open balances, wrong claims, what ran out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from logbook.calculation.results import BookFigures, ClaimCheck
from logbook.findings import Finding, Weight
from logbook.model.entry import Entry
from logbook.pages.addresses import ATTENTION, PRICES, Here, LineLink, Link
from logbook.pages.claim_view import ClaimView, claim_view
from logbook.pages.figure_view import FigureView, bare_figure
from logbook.pages.finding_view import FindingView, finding_view
from logbook.pages.frame import Frame, Site
from logbook.pages.gap_view import GapView, open_balances, untold
from logbook.pages.privacy import every_block
from logbook.pages.rounding import plural
from logbook.pages.supplies_page import is_out, ran_out
from logbook.pages.wording import listed

NOT_CLOSING = ("balance that does not close", "balances that do not close")
WRONG = ("reckoned figure that disagrees", "reckoned figures that disagree")
OUT = ("supply that ran out", "supplies that ran out")
OLD = ("price that is old", "prices that are old")


@dataclass(frozen=True, slots=True)
class AttentionCount:
    """How much waits, for the front page."""

    words: str
    nothing: bool


@dataclass(frozen=True, slots=True)
class FileProblems:
    """The problems of one log or fixed page."""

    page: Link
    file: str
    findings: tuple[FindingView, ...]


@dataclass(frozen=True, slots=True)
class OpenBalance:
    """A metal of a run of which it is not known whether its balance closes."""

    run: Link
    metal: str
    gap: FigureView


@dataclass(frozen=True, slots=True)
class Saying:
    """A question that waits, with the place where it stands."""

    line: LineLink


@dataclass(frozen=True, slots=True)
class AttentionView:
    """The attention page."""

    frame: Frame
    summary: str
    files: tuple[FileProblems, ...]
    gaps: tuple[GapView, ...]
    open: tuple[OpenBalance, ...]
    wrong: tuple[ClaimView, ...]
    unchecked: tuple[ClaimView, ...]
    agreeing: str
    out: tuple[Link, ...]
    old: tuple[Link, ...]
    questions: tuple[Saying, ...]


def all_findings(figures: BookFigures, site: Site) -> tuple[Finding, ...]:
    """Every finding that may be told, in order of file and place, each once."""
    supplies = figures.supplies.findings
    both = dict.fromkeys((*figures.book.findings, *figures.findings, *supplies))
    told = [finding for finding in both if site.privacy.shows_finding(finding)]
    return tuple(sorted(told, key=lambda finding: finding.sort_key))


def count_attention(figures: BookFigures, site: Site) -> AttentionCount:
    """How much there is of each kind that waits, in words."""
    findings = all_findings(figures, site)
    errors = sum(finding.weight is Weight.ERROR for finding in findings)
    doubts = len(findings) - errors
    gaps = len(figures.gaps) + len(list(untold(figures)))
    parts = [
        *([f"{plural(errors, 'entry', 'entries')} not used"] if errors else []),
        *([f"{plural(doubts, 'entry', 'entries')} read with a doubt"] if doubts else []),
        *([plural(gaps, *NOT_CLOSING)] if gaps else []),
        *_money_waits(figures, site),
    ]
    return AttentionCount(listed(parts) or "nothing", not parts)


def _money_waits(figures: BookFigures, site: Site) -> Iterator[str]:
    """What waits of claims, supplies and prices, in words."""
    wrong = sum(one.agrees == "no" for one in checked_claims(figures, site))
    out = sum(is_out(one, site.newest_day) for one in figures.supplies.accounts)
    old = sum(age.stale for age in figures.held_worth.ages)
    for count, words in ((wrong, WRONG), (out, OUT), (old, OLD)):
        if count:
            yield plural(count, *words)


def checked_claims(figures: BookFigures, site: Site) -> list[ClaimCheck]:
    """The reckoned figures of all runs that may be shown, in the order of the book."""
    every = (one for run in figures.runs.values() for one in run.claims)
    return [one for one in every if site.privacy.shows(one.entry)]


def old_prices(figures: BookFigures, here: Here) -> Iterator[Link]:
    """Prices that are too old to count with, each with its age."""
    for age in figures.held_worth.ages:
        if age.stale:
            yield Link(f"price of {age.metal}: {age.words}", here.to(PRICES))


def _agreeing(count: int) -> str:
    """How many reckoned figures agree, in a sentence; empty where there is none."""
    agree = "agrees" if count == 1 else "agree"
    return f"{plural(count, 'reckoned figure')} {agree} with the book." if count else ""


def attention_view(figures: BookFigures, site: Site) -> AttentionView:
    """The attention page of a book."""
    here = site.addresses.at(ATTENTION)
    checked = checked_claims(figures, site)
    return AttentionView(
        frame=site.frame(here, "What needs attention"),
        summary=count_attention(figures, site).words,
        files=_by_file(all_findings(figures, site), here),
        gaps=open_balances(figures, here),
        open=tuple(_not_known(figures, here)),
        wrong=tuple(claim_view(one, here) for one in checked if one.agrees == "no"),
        unchecked=tuple(claim_view(one, here) for one in checked if one.agrees == "unknown"),
        agreeing=_agreeing(sum(one.agrees == "yes" for one in checked)),
        out=tuple(ran_out(figures, site, here)),
        old=tuple(old_prices(figures, here)),
        questions=tuple(_sayings(figures, site, here, "ask")),
    )


def _by_file(findings: Iterable[Finding], here: Here) -> tuple[FileProblems, ...]:
    files: dict[str, list[Finding]] = {}
    for finding in findings:
        files.setdefault(finding.span.path, []).append(finding)
    problems = []
    for path, found in files.items():
        source = here.addresses.sources.get(path)
        link = Link(source.title, here.to(source.path)) if source is not None else Link(path)
        views = tuple(finding_view(finding, here) for finding in found)
        problems.append(FileProblems(link, path, views))
    return tuple(problems)


def _not_known(figures: BookFigures, here: Here) -> Iterator[OpenBalance]:
    for run in figures.runs.values():
        for one in run.balances:
            if one.closes == "unknown":
                yield OpenBalance(here.run(run.run.name), one.metal, bare_figure(one.unaccounted))


def _sayings(figures: BookFigures, site: Site, here: Here, action: str) -> Iterator[Saying]:
    for block in every_block(figures.book):
        if isinstance(block, Entry) and block.action == action and site.privacy.shows(block):
            yield Saying(here.line(block.span))
