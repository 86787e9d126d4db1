"""View models of the pages: what each says of the small book, without a line of HTML."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from logbook.pages.addresses import addresses_of
from logbook.pages.figure_view import FigureView
from logbook.pages.finding_view import quoted_line
from logbook.pages.picture_paths import photo_files
from logbook.pages.privacy import privacy_of
from logbook.reading.read_book import read_book
from logbook.source import SourceText, Span
from tests.pages.shown import findings, pages, small_pages, texts
from tests.pages.small_book import CONTACTS, contacts, plan, small_book

CONTACTS_PAGE = "runs/2026-03-14-relay-contacts.html"
CASES_PAGE = "runs/2026-03-20-watch-cases.html"
PLAN_PAGE = "runs/2026-04-01-filters.html"


def view(path: str) -> Any:
    """What a page of the small book shows."""
    return small_pages()[path].view


def entries(run: Any) -> dict[int, Any]:
    """The entries of a run's page by the line they start on."""
    return {
        entry.lines[0].number: entry
        for stage in run.stages
        for block in stage.blocks
        for entry in block.entries
    }


def test_every_kind_of_page_is_there() -> None:
    """Front, runs, labels, fixed pages, guide: each has its template and its path."""
    found = {path: page.template for path, page in small_pages().items()}
    assert found["index.html"] == "front.html"
    assert found[CONTACTS_PAGE] == "run.html"
    assert found[PLAN_PAGE] == "plan.html"
    assert found["labels/ag-7.html"] == "label.html"
    assert (found["supplies.html"], found["prices.html"]) == ("supplies.html", "fixed.html")
    assert found["guide/first.html"] == "chapter.html"
    fixed = {"side-by-side.html", "shelf.html", "waste.html", "attention.html", "bench.html"}
    fixed |= {"guide/index.html", "cautions.html"}
    assert fixed <= found.keys()


def test_an_entry_stands_on_its_line_in_the_writers_words() -> None:
    """Each entry keeps its words, its line number and an anchor of that number."""
    shown = entries(view(CONTACTS_PAGE))
    took = shown[
        CONTACTS.split("\n").index("- took 412.6 g relay contacts [RC-3], silver 71 %") + 1
    ]
    line = took.lines[0]
    words = "".join(
        f"[{part.text}]" if part.kind == "label" else part.text for part in line.segments
    )
    assert words == "took 412.6 g relay contacts [RC-3], silver 71 %"
    assert line.anchor == f"line-{line.number}"
    assert [part.text for part in line.segments if part.kind == "action"] == ["took"]
    assert [part.href for part in line.segments if part.kind == "label"] == ["../labels/rc-3.html"]


def test_the_margin_holds_contents_findings_and_cautions_beside_their_line() -> None:
    """What was worked out stands beside the very entry it belongs to.

    By hand: 412.6 g x 0.71 = 292.9 g; u = 412.6 g x 0.03 = 12.4 g (the weighing adds nothing).
    """
    shown = entries(view(CONTACTS_PAGE))
    beside = {number: entry.beside for number, entry in shown.items()}
    text = contacts().source.text.split("\n")
    took = text.index("- took 412.6 g relay contacts [RC-3], silver 71 %") + 1
    assert [figure.text for figure in beside[took].figures] == ["293 ± 12 g"]
    assert [found.headline for found in beside[took].findings] == ['"412.6 g" is doubtful']
    acid = text.index("- added 650 mL nitric acid 68 %") + 1
    assert beside[acid].cautions.dangers
    assert "Local law and codes" in beside[acid].cautions.deferral
    claimed = text.index("- reckoned recovery 95 %") + 1
    assert beside[claimed].claim is not None or beside[claimed].notes  # until claims land


def test_hours_stand_beside_the_heading() -> None:
    """The stage's hands-on time is in the margin of its heading, with its date."""
    stage = view(CONTACTS_PAGE).stages[0]
    assert stage.when == "14 March 2026"
    assert [(figure.name, figure.text) for figure in stage.beside.figures] == [
        ("hands-on", "50 min")
    ]


def test_figures_lead_to_the_lines_they_rest_on() -> None:
    """The working of a recovery ends in the lines of the log, each with an anchor on its page."""
    balance = view(CONTACTS_PAGE).sums.balances[0]
    recovery = next(figure for figure in balance.figures if figure.name.startswith("recovery"))
    assert recovery.formula == "product / assayed head"
    anchors = {
        f"#{line.anchor}" for entry in entries(view(CONTACTS_PAGE)).values() for line in entry.lines
    }
    hrefs = {line.href for line in leaves(recovery)}
    assert hrefs
    assert hrefs <= anchors


def leaves(figure: Any) -> list[Any]:
    """The lines at which a figure's working ends."""
    return [*figure.lines, *(line for term in figure.terms for line in leaves(term))]


def test_recovery_by_hand() -> None:
    """278.2 g of 292.9 g is 95.0 %; 4.2 % and 0.3 % relative give 4.0 % of it."""
    balance = view(CONTACTS_PAGE).sums.balances[0]
    recovery = next(figure for figure in balance.figures if figure.name.startswith("recovery"))
    assert recovery.text == "95.0 ± 4.0 %"


def test_the_verdict_says_no_more_than_is_known() -> None:
    """One sentence each: with the recovery, of a run without a product, of a plan."""
    done = view(CONTACTS_PAGE).verdict.replace("\u00a0", " ")
    assert done.startswith("It gave 278.20 ± 0.84 g of fine silver, 95.0 ± 4.0 % of what went in")
    assert "not known, because no price was noted for [RC-3]" in done
    assert view(CASES_PAGE).verdict.startswith("Given up: it gave no product")
    assert view(PLAN_PAGE).verdict.startswith("This is a plan: nothing in it has been done")


def test_what_is_not_known_comes_with_its_reason() -> None:
    """No figure of any page is silent about why it is not known."""
    seen = 0
    for page in small_pages().values():
        for figure in figures(page.view):
            if not figure.known:
                seen += 1
                assert figure.why, figure.name
                assert figure.text == "not known"
    assert seen > 10


def figures(shown: Any) -> list[Any]:
    """Every figure in a view, at any depth."""
    found = [shown] if isinstance(shown, FigureView) else []
    if is_dataclass(shown):
        for field in fields(shown):
            found += figures(getattr(shown, field.name))
    elif isinstance(shown, tuple | list):
        for item in shown:
            found += figures(item)
    return found


def test_private_notes_are_left_out_everywhere() -> None:
    """Neither the note nor a finding that would quote it is on any page."""
    for path, page in small_pages().items():
        assert not [text for text in texts(page.view) if "SECRETWORD" in text], path
        assert not [text for text in texts(page.view) if "neighbour" in text], path


def test_private_notes_are_there_for_the_keeper_who_asks() -> None:
    """With private notes asked for, the note and its finding are shown, and marked."""
    found = pages(small_book(findings=findings()), with_private=True)
    run = found[CONTACTS_PAGE].view
    note = next(entry for entry in entries(run).values() if entry.private)
    assert note.lines[0].segments[0].text == "private"
    assert [one.headline for one in note.beside.findings] == ['"SECRETWORD" is doubtful']


def test_a_label_tells_its_whole_lineage() -> None:
    """The bar came from the contacts through the stage that made it; every line is named."""
    label = view("labels/ag-7.html")
    assert [row.what for row in label.back] == ["relay contacts"]
    assert [state.made_by.text for state in label.states] == ["Dissolve, Relay contacts, lot 3"]
    assert [one.line.quote for one in label.mentions] == [
        "got 279.6 g silver bar [AG-7], silver 99.5 %"
    ]
    filters = view("labels/f-21.html")
    assert len(filters.mentions) == 2  # the run and the plan


def test_what_had_no_label_yet_stands_under_its_words_and_run() -> None:
    """What was poured into a jar is headed by words and titles, never by the name of a file."""
    log = (
        "# Fingers in AP\n\n## Strip\n\n- took 100 g fingers\n"
        "- discarded 200 mL green liquor into [W-2]\n"
    )
    found = pages(read_book({"runs/2026-01-04-fingers-ap.md": log}))
    label = found["labels/w-2.html"].view
    assert [state.heading for state in label.states][:1] == ["green liquor, from Fingers in AP"]
    assert not any("2026-01-04" in state.heading for state in label.states)


def test_a_label_that_is_only_spoken_of_says_so() -> None:
    """A label of a plan alone has a page, and no state is invented for it."""
    found = pages(small_book(plan()))
    label = found["labels/f-21.html"].view
    assert label.states == ()
    assert "ever got, kept or bought" in label.summary


def test_the_shelf_counts_from_the_newest_day_of_the_book() -> None:
    """The bar of 14 March has stood for 6 days on 20 March, whatever the clock says."""
    rows = {row.thing.label.text: row for row in view("shelf.html").rows}
    assert rows["AG-7"].since == "14 March 2026"
    assert rows["AG-7"].age == "6 days"
    assert "20 March 2026" in view("shelf.html").summary


def test_side_by_side_compares_no_plans() -> None:
    """Every run is there, in order of day; of a plan no figure is shown or compared."""
    shown = view("side-by-side.html")
    done = [run for run in shown.runs if not run.planned]
    assert [run.run.text for run in done] == ["Relay contacts, lot 3", "Watch cases & spectacles"]
    assert [row.basis for run in done for row in run.rows] == ["assayed", ""]
    plans = [run for run in shown.runs if run.planned]
    assert [run.status for run in plans] == ["planned"]
    assert all(not run.figures and not any(row.figures for row in run.rows) for run in plans)
    assert set(shown.compared["runs"]) == {run.choice for run in done}


def test_the_front_page_leads_to_dangers_and_to_waste() -> None:
    """One line for each, only where there are any; a private note gives none."""
    strip = "# Strip\n\n## Strip\n\n- added 100 mL bleach into [W-2]\n"
    acid = strip.replace("100 mL bleach", "50 mL vinegar") + "- discarded 50 mL rinse into [W-2]\n"
    front = pages(read_book({"runs/a.md": strip, "runs/b.md": acid}))["index.html"].view
    assert [link.href for link in front.beware] == ["cautions.html", "waste.html"]
    assert front.beware[0].text.endswith("raised in the logs")
    assert front.beware[1].text.startswith("1 container of waste")
    sorting = "# Sort\n\n## Sort\n\n- took 20 g copper wire\n- private: the drain, bleach\n"
    calm = pages(read_book({"runs/a.md": sorting}))["index.html"]
    assert calm.view.beware == ()


def test_attention_names_problems_and_questions() -> None:
    """The doubtful words are marked off; questions say that they wait."""
    attention = view("attention.html")
    found = attention.files[0].findings[0]
    assert (found.before, found.doubtful) == ("- took ", "412.6 g")
    assert found.place.href == f"{CONTACTS_PAGE}#line-12"
    assert found.column == "column 8"
    assert [one.line.quote for one in attention.questions] == ["ask how much acid would 1 kg need"]
    assert attention.summary == "1 entry read with a doubt"


def test_the_front_page_sums_up() -> None:
    """Fine metal with its doubt, the latest runs, plans apart, the totals by period."""
    front = view("index.html")
    silver = next(figure for figure in front.fine if figure.name == "silver")
    assert silver.text == "278.20 ± 0.84 g"
    assert front.latest[0].run.text == "Watch cases & spectacles"
    assert [line.run.text for line in front.planned] == ["Filters of spring"]
    assert [period.name for period in front.years] == ["all of the book", "2026"]


def test_a_plan_puts_its_cautions_and_supplies_first() -> None:
    """The plan has its cautions, and its supplies against the stock.

    By hand: 2.5 L were bought and 0.65 L used, so that 1.85 L are left for 0.1 L.
    """
    shown = view(PLAN_PAGE)
    assert shown.cautions is not None
    (acid,) = shown.supplies
    assert (acid.supply, acid.planned.text, acid.enough) == ("nitric acid", "100.0 ± 3.0 mL", "yes")
    assert acid.in_hand.text == "1.850 ± 0.019 L"
    assert "Local law and codes" in shown.deferral


def test_a_picture_that_is_not_there_is_said_to_be_missing() -> None:
    """A picture is shown where its file is in the book, and never from elsewhere."""

    def picture(book: Any) -> Any:
        stage = pages(book)[CONTACTS_PAGE].view.stages[0]
        return next(block.picture for block in stage.blocks if block.kind == "picture")

    assert picture(small_book()).src == ""
    assert "no picture" in picture(small_book()).missing
    assert "dish.png" not in picture(small_book()).missing  # a name may say where it was taken
    files = photo_files("d9d4", (600, 300), ".jpg")
    shown = picture(replace(small_book(), pictures={"runs/dish.png": files}))
    assert (shown.src, shown.width, shown.height) == ("../pictures/d9d4-600.jpg", "600", "300")
    assert shown.srcset == "../pictures/d9d4-480.webp 480w, ../pictures/d9d4-600.webp 600w"
    assert (shown.alt, shown.caption) == ("The dish", "The dish")


def test_a_line_without_an_anchor_leads_to_the_one_above() -> None:
    """A place between two blocks leads to the nearest line above it that is shown."""
    run = contacts()
    book = small_book(run)
    here = addresses_of(book, (), privacy_of(book, with_private=False)).at("index.html")
    lines = run.source.text.split("\n")
    blank = run.source.text.index("\n\n## Dissolve") + 1
    opening = lines.index("Contacts cut from two scrapped lift controllers.") + 1
    assert here.line(Span(run.source, blank, blank)).href == f"{CONTACTS_PAGE}#line-{opening}"
    private = run.source.text.index("private the")
    worked = lines.index("- worked 50 min") + 1
    assert here.line(Span(run.source, private, private)).href == f"{CONTACTS_PAGE}#line-{worked}"
    title = here.line(Span(run.source, 0, 5))
    assert title.href == CONTACTS_PAGE


@pytest.mark.parametrize(
    ("text", "start", "end", "parts"),
    [
        ("- took 12 g\nnext", 7, 11, ("- took ", "12 g", "")),
        ("- took 12 g\nnext", 7, 14, ("- took ", "12 g", "")),  # goes on in the next line
        ("- took", 6, 6, ("- took", "", "")),
        ("a\r\nb", 0, 1, ("", "a", "")),
    ],
)
def test_the_quoted_line_marks_the_doubtful_words(
    text: str, start: int, end: int, parts: tuple[str, str, str]
) -> None:
    """The line is cut into what stands before, the doubtful words, and what stands after."""
    assert quoted_line(Span(SourceText("runs/a.md", text), start, end)) == parts
