"""The pages of the metal balance: drawing, table, terms, gaps and their causes, and the tables.

Books are made by hand; what the network would find is put into their records where a case
needs it, so that each page is held against figures that stand in the test.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from typing import Any
from xml.etree import ElementTree

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import (
    BookFigures,
    Cause,
    Content,
    Gap,
    StageKey,
    Standing,
    Thing,
)
from logbook.model.amount import Uncertain
from logbook.model.book import Book
from logbook.pages.addresses import Here, addresses_of
from logbook.pages.book_flow import MOST_STATIONS, book_flow, ways_of
from logbook.pages.flow import End
from logbook.pages.metal_flow import MOST_BETWEEN
from logbook.pages.privacy import privacy_of
from logbook.pages.site_pages import Page, PageOptions, site_pages
from logbook.pages.table import Table
from logbook.pages.tables import tables
from logbook.pages.verdict import verdict
from tests.calculation.build import book, entry, g, part, pieces, run, stage
from tests.pages.shown import rendered

MARCH, MAY = "2026-03-01-contacts", "2026-05-01-filters"
HOSTILE = '"><script>alert(1)</script>&]]> -- <b>\x0bno'


def two_runs(filters: str = "filters") -> Book:
    """Contacts of 100 g silver give a bar of 90 g and filters, which a later run works up."""
    first = run(
        MARCH,
        stage(
            "Dissolve",
            entry("took", g(125.0, 0.01), "contacts", "RC-1", holds={"silver": part(0.8, 0.01)}),
            entry("kept", pieces(2.0), filters, "F-1"),
            entry("got", g(300.0, 0.1), "silver nitrate solution"),
        ),
        stage(
            "Melt",
            entry("lost", None, "silver", holds={"silver": g(0.5, 0.1)}),
            entry("got", g(90.0, 0.01), "silver bar", "AG-1", holds={"silver": part(1.0)}),
        ),
    )
    second = run(
        MAY,
        stage(
            "Melt",
            entry("took", None, filters, "F-1", share=1.0),
            entry("got", g(9.0, 0.01), "silver bar", "AG-2", holds={"silver": part(0.99, 0.001)}),
        ),
    )
    return book(first, second)


def pages_of(figures: BookFigures) -> dict[str, Page]:
    """The pages of figures, by path."""
    return {page.path: page for page in site_pages(figures, (), PageOptions())}


def plain(words: str) -> str:
    """Words without the spaces that hold figures together."""
    return words.replace("\u00a0", " ")


def with_things(figures: BookFigures, key: str, **changes: Any) -> BookFigures:
    """Figures in which one thing is another, wherever it stands."""

    def changed(things: tuple[Thing, ...]) -> tuple[Thing, ...]:
        return tuple(replace(one, **changes) if one.key == key else one for one in things)

    runs = {
        name: replace(one, things_in=changed(one.things_in), things_out=changed(one.things_out))
        for name, one in figures.runs.items()
    }
    return replace(figures, runs=runs, things=changed(figures.things), shelf=changed(figures.shelf))


def with_balance(figures: BookFigures, name: str, **changes: Any) -> BookFigures:
    """Figures in which the first balance of a run is another."""
    one = figures.runs[name]
    balance = replace(one.balances[0], **changes)
    runs = {**figures.runs, name: replace(one, balances=(balance,))}
    return replace(figures, runs=runs)


def silver(value: float, u: float, name: str = "silver") -> Figure:
    """So many grams."""
    return Figure(name, "g", Uncertain.of(value, u, object()))


def a_gap(figures: BookFigures, *causes: str, **changes: Any) -> Gap:
    """A gap of 8.0 ± 0.5 g at the first run, with causes that rest on one of its lines."""
    spans = (figures.book.runs[0].stages[0].blocks[0].span,)
    gap = Gap(
        metal="silver",
        group=MARCH,
        runs=(MARCH,),
        stages=(StageKey(MARCH, 1),),
        things=("RC-1",),
        missing=silver(8.0, 0.5),
        deviations=16.0,
        causes=tuple(Cause("reading", one, "weigh it again", spans, 0.1) for one in causes),
    )
    return replace(gap, **changes)


def opened(*causes: str, **changes: Any) -> BookFigures:
    """The book with that gap in it."""
    figures = with_balance(work_out(two_runs()), MARCH, closes="no", unaccounted=silver(8.0, 0.5))
    return replace(figures, gaps=(a_gap(figures, *causes, **changes),))


def balance_of(figures: BookFigures, name: str) -> Any:
    """The balance as a run's page shows it."""
    return pages_of(figures)[f"runs/{name}.html"].view.sums.balances[0]


# The run page


def test_every_thing_of_a_balance_is_in_its_table_and_in_its_sentence() -> None:
    """What came in, what went from stage to stage, what came out: nothing is left aside."""
    figures = work_out(two_runs())
    for name, one in figures.runs.items():
        shown = balance_of(figures, name)
        told = {row.what for group in shown.groups for row in group.rows}
        things = [
            thing for thing in (*one.things_in, *one.things_out) if "silver" in thing.contents
        ]
        assert things
        assert {thing.what or "what was lost" for thing in things} <= told
        for thing in things:
            assert (thing.label or thing.what) in shown.flow.desc


def test_raw_and_reconciled_stand_side_by_side() -> None:
    """The reading, the figure of the whole book, how far it was moved, and what else is said."""
    content = Content(
        measured=silver(100.0, 1.25),
        best=silver(99.5, 0.4),
        standing=Standing.ADJUSTED,
        adjustment=-0.4,
        words="at zero",
    )
    figures = with_things(work_out(two_runs()), "RC-1", held={"silver": content})
    row = balance_of(figures, MARCH).groups[0].rows[0]
    assert row.measured.text == "100.0 ± 1.2 g"
    assert row.best.text == "99.50 ± 0.40 g"
    assert (row.adjustment, row.standing, row.notes) == ("−0.4", "adjusted", ("at zero",))


def test_a_share_names_its_rule_and_fills_no_content() -> None:
    """A piece that is only bounded keeps its limits; its share stands beside them."""
    content = Content(
        measured=not_known("silver", "g", "it was not measured"),
        best=Figure("silver", "g", why="only the sum is known", low=0.0, high=12.0),
        standing=Standing.BOUNDED,
        allocated=silver(4.0, 0.2),
        share_rule="mass",
    )
    figures = with_things(work_out(two_runs()), "F-1", held={"silver": content})
    rows = [row for group in balance_of(figures, MARCH).groups for row in group.rows]
    row = next(row for row in rows if row.label.text == "F-1")
    assert not row.best.known
    assert row.best.limits == "at most 12\u00a0g"
    assert "share of the sum by mass: 4.00 ± 0.20 g" in map(plain, row.notes)
    label = pages_of(figures)["labels/f-1.html"].view
    assert "share of the sum by mass" in label.states[0].thing.contents[0].how
    bar = pages_of(figures)["labels/ag-2.html"].view
    assert [plain(words) for row in bar.back for words in row.held if row.label.text == "F-1"] == [
        "silver at most 12 g, share of the sum by mass: 4.00 ± 0.20 g"
    ]


def test_the_terms_name_both_heads_and_the_recovery_so_far() -> None:
    """Assayed and built-up head, and what later runs made of the side streams."""
    figures = with_balance(
        work_out(two_runs()),
        MARCH,
        assayed_head=silver(100.0, 1.0),
        built_up_head=silver(98.0, 0.5),
        later=silver(8.91, 0.01),
        so_far=Figure("so far", "g/g", Uncertain(0.989)),
    )
    names = [figure.name for figure in balance_of(figures, MARCH).figures]
    for name in ("assayed head", "built-up head", "product", "on the shelf", "in waste"):
        assert name in names
    assert names[-3:] == ["made of it later", "recovery so far", "accountability"]


def test_an_open_balance_names_its_cause_with_advice_and_its_line() -> None:
    """What is missing, how many standard deviations that is, and what to weigh again."""
    gap = balance_of(opened("the weighing of [RC-1]"), MARCH).gaps[0]
    assert plain(gap.headline) == (
        "8.00 ± 0.50 g of silver went in and did not come out, 16 standard deviations."
    )
    assert [cause.words for cause in gap.causes] == ["the weighing of [RC-1]"]
    assert gap.causes[0].advice == "Weigh it again."
    assert gap.causes[0].lines
    assert "likeliest" in gap.lead


def test_two_causes_that_fit_alike_are_both_named() -> None:
    """Nothing is picked where the figures cannot tell; the page shows both."""
    figures = opened("the weighing of [RC-1]", "a loss at Melt")
    gap = balance_of(figures, MARCH).gaps[0]
    assert len(gap.causes) == 2
    assert "alike" in gap.lead
    html = rendered(pages_of(figures))[f"runs/{MARCH}.html"]
    assert "a loss at Melt" in html
    assert "the weighing of [RC-1]" in html
    assert "Nothing was adjusted" in html


def test_a_gap_is_drawn_once_as_a_gap() -> None:
    """One torn stump on the run's drawing, with its grams; none where the balance closes."""
    view = balance_of(opened("the weighing of [RC-1]"), MARCH)
    assert len(view.flow.drawing.tears) == 1
    assert "gap: 8.00 ± 0.50 g (16 sd)" in [plain(line.text) for line in view.flow.drawing.words]
    assert balance_of(work_out(two_runs()), MARCH).flow.drawing.tears == ()


def test_two_readings_that_disagree_are_told_as_that() -> None:
    """No metal is said to have gone missing where one thing was only read twice."""
    figures = opened("the weighing of [F-1]", stages=(), things=("F-1",), runs=(MARCH, MAY))
    first, second = balance_of(figures, MARCH), balance_of(figures, MAY)
    assert plain(first.gaps[0].headline).startswith("Two readings of [F-1] lie 8.00 ± 0.50 g of")
    for view in (first, second):
        assert len(view.flow.drawing.tears) == 1
        assert [link.text for link in view.gaps[0].runs] == [MARCH, MAY]


def test_more_out_than_in_is_said_the_right_way_round() -> None:
    """A negative gap is no loss."""
    figures = opened(missing=silver(-8.0, 0.5), deviations=-16.0)
    headline = plain(balance_of(figures, MARCH).gaps[0].headline)
    assert headline.startswith("8.00 ± 0.50 g more silver came out than went in")
    assert "single reading" in balance_of(figures, MARCH).gaps[0].lead


# The verdict


def said(figures: BookFigures, name: str, gaps: tuple[Gap, ...] = ()) -> str:
    """The verdict on a run."""
    one = figures.runs[name]
    return plain(verdict(one.run, one, gaps))


def test_the_verdict_names_the_likeliest_cause_of_an_open_balance() -> None:
    """One sentence holds the gap and its cause, and two where they fit alike."""
    figures = opened("the weighing of [RC-1]", "a loss at Melt")
    words = said(figures, MARCH, figures.gaps)
    assert "8.00 ± 0.50 g of silver went in and did not come out" in words
    assert "(likeliest cause: the weighing of [RC-1] or a loss at Melt)" in words


def test_the_verdict_says_where_a_gap_that_is_not_defined_must_be() -> None:
    """What is deduced from its making alone holds any loss: it is in the filter or lost."""
    content = Content(
        measured=not_known("silver", "g", "it was not measured"),
        best=silver(9.5, 1.2),
        standing=Standing.DEDUCED,
        side="making",
    )
    figures = with_things(work_out(two_runs()), "F-1", held={"silver": content})
    figures = with_balance(figures, MARCH, closes="unknown")
    assert "9.5 ± 1.2 g of silver is in [F-1] or lost" in said(figures, MARCH)


# The page of the whole book


def section(figures: BookFigures) -> Any:
    """What the page of the metal says of silver."""
    return pages_of(figures)["metal.html"].view.sections[0]


def test_the_page_of_the_metal_joins_the_runs() -> None:
    """The filters lead from the first run to the second; feed and bars stand at the ends."""
    shown = section(work_out(two_runs()))
    rows = {(row.source.text, row.what.text, row.target.text) for row in shown.rows}
    assert (MARCH, "filters [F-1]", MAY) in rows
    assert ("outside the book", "contacts [RC-1]", MARCH) in rows
    assert (MAY, "silver bar [AG-2]", "product") in rows
    assert any(row.target.text == "lost" for row in shown.rows)
    names = {band.name for band in shown.flow.drawing.bands}
    assert {"filters [F-1]", "contacts [RC-1]", "silver bar [AG-1]"} <= names


def test_the_terms_of_the_book_are_sums_at_its_bounds() -> None:
    """By hand, with variances (1.25 g)², (0.01 g)², (0.009 g)² and (0.1 g)².

    100 g came in; 90 and 8.91 g are product and 0.5 g is lost: 0.59 g lie between. Of these
    1.5625/1.5727 go to what came in, 99.41 g, and 0.01/1.5727 to the loss, 0.504 g.
    """
    shown = section(work_out(two_runs()))
    figures = {figure.name: figure.text for figure in shown.figures}
    assert figures["came in"] == "99.41 ± 0.10 g"
    assert figures["product, in stock or sold"].startswith("98.91")
    assert figures["lost, as noted"] == "0.50 ± 0.10 g"
    assert figures["not accounted for"] == "0.6 ± 1.3 g"


def test_nothing_is_said_to_be_missing_where_a_part_was_not_measured() -> None:
    """A filter that still stands on the shelf takes up the gap: that is no closed balance."""
    figures = work_out(book(two_runs().runs[0]))
    gap = section(figures).figures[-1]
    assert not gap.known
    assert "[F-1]" in gap.why


def many_runs(count: int) -> Book:
    """Runs day after day, each with a filter that the next one takes up."""
    found = []
    for place in range(count):
        day = date(2024, 1, 1) + timedelta(days=11 * place)
        entries = [entry("took", g(100.0, 0.01), "contacts", f"RC-{place}", holds=SOME)]
        if place:
            entries.append(entry("took", None, "filter", f"F-{place - 1}", share=1.0))
        entries.append(entry("kept", g(5.0, 0.01), "filter", f"F-{place}", holds=SOME))
        entries.append(entry("got", g(60.0, 0.01), "silver bar", f"AG-{place}", holds=FINE))
        found.append(run(f"{day.isoformat()}-contacts", stage("Melt", *entries)))
    return book(*found)


SOME = {"silver": part(0.6, 0.01)}
FINE = {"silver": part(0.99, 0.001)}


@pytest.mark.parametrize("count", [5, 25, 80])
def test_a_large_book_stays_readable(count: int) -> None:
    """No more stations and bands than can be read; what is not drawn is counted in words."""
    figures = work_out(many_runs(count))
    shown = section(figures)
    here = pages_of(figures)["metal.html"]
    titles = [line for line in shown.flow.drawing.words if line.kind == "title"]
    assert len(titles) <= MOST_STATIONS
    assert len(titles) == count if count <= MOST_STATIONS else len(titles) < count
    assert len(shown.flow.drawing.bands) < 150
    assert len(rendered({"metal.html": here})["metal.html"]) < 200_000
    assert all(row.amount for row in shown.rows)


def test_nothing_is_lost_where_runs_are_taken_together() -> None:
    """The grams that came in from outside are the same by runs and by months."""
    figures = work_out(many_runs(40))
    flow = book_flow(ways_of(figures), "silver", here_of(figures))
    full, drawn = flow.full, flow.drawn
    assert len(drawn.stations) < len(full.stations)
    for end in (End.OUTSIDE, End.PRODUCT):
        sums = [sum(s.grams or 0.0 for s in f.streams if s.end is end) for f in (full, drawn)]
        assert sums[0] == pytest.approx(sums[1])
    assert sum(s.end is End.INNER for s in drawn.streams) <= MOST_BETWEEN


def here_of(figures: BookFigures) -> Here:
    """The addresses of a book, seen from the page of the metal."""
    privacy = privacy_of(figures.book, with_private=False)
    return addresses_of(figures.book, (), privacy).at("metal.html")


# SVG


def drawings(html: str) -> list[str]:
    """The metal flows of a page."""
    return re.findall(r'<svg class="drawing flow".*?</svg>', html, re.DOTALL)


@pytest.mark.parametrize("filters", ["filters", HOSTILE])
def test_drawings_are_well_formed_and_named(filters: str) -> None:
    """Each is XML with a title and a description, whatever a log calls its things."""
    figures = opened("the weighing of [RC-1]")
    figures = with_things(figures, "F-1", what=filters)
    site = rendered(pages_of(figures))
    found = [svg for html in site.values() for svg in drawings(html)]
    assert len(found) == 3  # two runs and the book
    for svg in found:
        root = ElementTree.fromstring(svg.replace("\x0b", ""))
        title, desc = root.findtext("title"), root.findtext("desc")
        assert title and "silver" in title
        assert desc and "bar" in desc
        assert root.get("role") == "img"
        ids = {one.get("id") for one in root.iter()}
        assert root.get("aria-labelledby") in ids
        assert root.get("aria-describedby") in ids
        assert not [one for one in root.iter() if one.tag in {"script", "b"}]


def test_no_id_of_a_drawing_stands_twice_on_a_page() -> None:
    """A run with two metals has two drawings, each with names of its own."""
    both = {"silver": part(0.6, 0.01), "gold": part(0.02, 0.001)}
    one = run(
        MARCH,
        stage("Melt", entry("took", g(10.0, 0.01), "links", "GL-1", holds=both)),
        metals=("gold", "silver"),
    )
    html = rendered(pages_of(work_out(book(one))))[f"runs/{MARCH}.html"]
    ids = re.findall(r'\bid="(flow[^"]+)"', html)
    assert len(drawings(html)) == 2
    assert len(ids) == len(set(ids)) == 6


# Front and attention


def test_the_front_page_names_the_open_balance_and_no_more_than_three() -> None:
    """The largest in standard deviations first; the others are a link away."""
    figures = opened("the weighing of [RC-1]")
    front = pages_of(figures)["index.html"].view
    assert [link.text for link in front.gaps[0].runs] == [MARCH]
    assert front.more_gaps == ""
    many = tuple(replace(figures.gaps[0], deviations=float(size)) for size in (3, 9, 5, 4, 7))
    front = pages_of(replace(figures, gaps=many))["index.html"].view
    shown = [gap.headline.rsplit(", ", 1)[1] for gap in front.gaps]
    assert [words.split(" ")[0] for words in shown] == ["9.0", "7.0", "5.0"]
    assert front.more_gaps == "2 more open balances"


def test_the_attention_page_lists_gaps_with_advice() -> None:
    """Each gap once with its causes; a balance whose gap nobody explains is there as well."""
    figures = opened("the weighing of [RC-1]")
    shown = pages_of(figures)["attention.html"].view
    assert [gap.causes[0].advice for gap in shown.gaps] == ["Weigh it again."]
    assert "1 balance that does not close" in shown.summary
    bare = pages_of(replace(figures, gaps=()))["attention.html"].view
    assert [plain(gap.headline) for gap in bare.gaps] == [
        "8.00 ± 0.50 g of silver is not accounted for."
    ]


# Tables


def table_of(figures: BookFigures, name: str) -> Table:
    """One table of the data folder."""
    return next(one for one in tables(figures, with_private=False) if one.name == name)


def row_of(table: Table, key: str) -> dict[str, Any]:
    """The row of a table that begins with a key."""
    names = [column.name for column in table.columns]
    return next(dict(zip(names, row, strict=True)) for row in table.rows if row[0] == key)


def test_things_csv_holds_reading_content_and_share_apart() -> None:
    """The reading, the best figure, the adjustment, the limits, and the share with its rule."""
    content = Content(
        measured=silver(100.0, 1.25),
        best=replace(silver(99.5, 0.4), low=98.7, high=100.3),
        standing=Standing.ADJUSTED,
        adjustment=-0.4,
        allocated=silver(4.0, 0.2),
        share_rule="mass",
    )
    figures = with_things(work_out(two_runs()), "RC-1", held={"silver": content})
    row = row_of(table_of(figures, "things"), "RC-1")
    assert (row["measured_g"], row["measured_u_g"]) == (100.0, 1.25)
    assert (row["content_g"], row["content_u_g"]) == (99.5, 0.4)
    assert (row["adjustment_sd"], row["standing"]) == (-0.4, "adjusted")
    assert (row["low_g"], row["high_g"]) == (98.7, 100.3)
    assert (row["allocated_g"], row["share_rule"]) == (4.0, "mass")


def test_balances_csv_names_the_group_of_a_gap() -> None:
    """Runs that have one gap between them share its name."""
    figures = with_balance(work_out(two_runs()), MARCH, gap_group="one", why="a cause")
    row = row_of(table_of(figures, "balances"), MARCH)
    assert (row["gap_group"], row["why"]) == ("one", "a cause")
