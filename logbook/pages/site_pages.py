"""Figures and guide → every page of the site, as a path, a template and a view.

Nothing here writes a file or knows HTML; the same figures give the same pages.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from logbook.calculation.results import BookFigures
from logbook.findings import Finding
from logbook.pages.addresses import (
    ATTENTION,
    BENCH,
    CAUTIONS,
    FRONT,
    GUIDE,
    METAL,
    METHODS,
    MONEY,
    PRICES,
    SCRAP,
    SEARCH,
    SHELF,
    SIDE_BY_SIDE,
    SUPPLIES,
    TIMELINE,
    TRENDS,
    WASTE,
    addresses_of,
    chapter_path,
    label_path,
    run_path,
)
from logbook.pages.ancestry import ancestry
from logbook.pages.attention_page import all_findings, attention_view
from logbook.pages.balance_view import RunMetal
from logbook.pages.carried_view import thing_money
from logbook.pages.cautions_page import cautions_view
from logbook.pages.fixed_page import bench_view, fixed_view
from logbook.pages.frame import Site
from logbook.pages.front_page import front_view
from logbook.pages.gap_view import gaps_by_run
from logbook.pages.guide_page import GuideChapter, chapter_view, guide_view
from logbook.pages.label_page import label_view, labels_named, shown_entries, things_by_label
from logbook.pages.metal_flow import inner_things
from logbook.pages.metal_page import metal_page_view
from logbook.pages.methods_page import methods_view
from logbook.pages.money_page import money_view
from logbook.pages.plan_page import plan_view
from logbook.pages.privacy import privacy_of
from logbook.pages.run_page import run_view
from logbook.pages.scrap_page import scrap_view
from logbook.pages.search_index import search_index
from logbook.pages.search_page import search_view
from logbook.pages.shelf_page import shelf_view
from logbook.pages.side_by_side_page import side_by_side_view
from logbook.pages.supplies_page import supplies_view
from logbook.pages.timeline_page import timeline_view
from logbook.pages.trends_page import trends_view
from logbook.pages.waste_page import waste_view


@dataclass(frozen=True, slots=True)
class PageOptions:
    """What the keeper asks of the pages."""

    with_private: bool = False


@dataclass(frozen=True, slots=True)
class Page:
    """One page: where it goes in the site, the template that shows it, and what it shows.

    `view` is a frozen record of the page's own kind.
    """

    path: str
    template: str
    view: Any


def search_of(
    figures: BookFigures, guide: tuple[GuideChapter, ...], options: PageOptions
) -> dict[str, Any]:
    """What the search looks through: only what the pages show."""
    return search_index(figures, _site(figures, guide, options))


def _site(figures: BookFigures, guide: tuple[GuideChapter, ...], options: PageOptions) -> Site:
    privacy = privacy_of(figures.book, with_private=options.with_private)
    mentions = labels_named(figures, shown_entries(figures.book, privacy))
    return Site(
        figures.book,
        addresses_of(figures.book, mentions, privacy),
        privacy,
        bool(guide),
        figures.book.newest_day,
        has_supplies=bool(figures.supplies.accounts) or figures.book.supplies is not None,
    )


def site_pages(
    figures: BookFigures, guide: tuple[GuideChapter, ...], options: PageOptions
) -> Iterator[Page]:
    """Every page of the site, one after another."""
    site = _site(figures, guide, options)
    yield Page(FRONT, "front.html", front_view(figures, site))
    yield Page(SIDE_BY_SIDE, "side-by-side.html", side_by_side_view(figures, site))
    yield Page(SCRAP, "scrap.html", scrap_view(figures, site))
    yield Page(METHODS, "methods.html", methods_view(figures, site))
    yield Page(TRENDS, "trends.html", trends_view(figures, site))
    yield Page(TIMELINE, "timeline.html", timeline_view(figures, site))
    yield Page(METAL, "metal.html", metal_page_view(figures, site))
    if site.book.edition.money:
        yield Page(MONEY, "money.html", money_view(figures, site))
    yield Page(SHELF, "shelf.html", shelf_view(figures, site))
    yield Page(WASTE, "waste.html", waste_view(figures, site))
    yield Page(CAUTIONS, "cautions.html", cautions_view(figures, site))
    yield Page(SEARCH, "search.html", search_view(figures, site))
    yield Page(ATTENTION, "attention.html", attention_view(figures, site))
    findings = _by_file(all_findings(figures, site))
    yield from _fixed_pages(figures, findings, site)
    yield from _run_pages(figures, findings, site)
    money = thing_money(figures)
    ways, states = ancestry(figures.things), things_by_label(figures.things)
    mentions = labels_named(figures, shown_entries(figures.book, site.privacy))
    for label, named in mentions.items():
        view = label_view(label, states.get(label, ()), named, ways, money, site)
        yield Page(label_path(label), "label.html", view)
    yield from _guide_pages(guide, site)


def _by_file(findings: Sequence[Finding]) -> dict[str, list[Finding]]:
    files: dict[str, list[Finding]] = {}
    for finding in findings:
        files.setdefault(finding.span.path, []).append(finding)
    return files


def _fixed_pages(
    figures: BookFigures, findings: dict[str, list[Finding]], site: Site
) -> Iterator[Page]:
    yield Page(BENCH, "bench.html", bench_view(figures.book, site))
    supplies, prices = figures.book.supplies, figures.book.prices
    if site.has_supplies:
        found = findings.get(supplies.source.path, []) if supplies is not None else []
        yield Page(SUPPLIES, "supplies.html", supplies_view(figures, found, site))
    if prices is not None:
        found = findings.get(prices.source.path, [])
        yield Page(PRICES, "fixed.html", fixed_view(prices, PRICES, found, site))


def _run_pages(
    figures: BookFigures, findings: dict[str, list[Finding]], site: Site
) -> Iterator[Page]:
    runs = figures.book.runs
    inner, gaps = inner_things(figures.things), gaps_by_run(figures.gaps)
    done = _records(figures)
    for place, run in enumerate(runs):
        before = runs[place - 1].name if place else ""
        after = runs[place + 1].name if place + 1 < len(runs) else ""
        found = findings.get(run.source.path, [])
        own, around = figures.runs.get(run.name), (before, after)
        if run.planned:
            plan, records = figures.plans.get(run.name), done.get(run.name, [])
            sheet = plan_view(run, own, plan, found, around, records, site)
            yield Page(run_path(run.name), "plan.html", sheet)
            continue
        metal = RunMetal(inner.get(run.name, ()), tuple(gaps.get(run.name, ())))
        check = figures.plan_checks.get(run.name)
        view = run_view(run, own, found, around, metal, check, site)
        yield Page(run_path(run.name), "run.html", view)


def _records(figures: BookFigures) -> dict[str, list[str]]:
    """The runs that say they were done by a plan, by the plan's name."""
    done: dict[str, list[str]] = {}
    for check in figures.plan_checks.values():
        done.setdefault(check.plan, []).append(check.record)
    return done


def _guide_pages(guide: tuple[GuideChapter, ...], site: Site) -> Iterator[Page]:
    if guide:
        yield Page(GUIDE, "guide.html", guide_view(guide, site))
    for place, chapter in enumerate(guide):
        yield Page(chapter_path(chapter.name), "chapter.html", chapter_view(place, guide, site))
