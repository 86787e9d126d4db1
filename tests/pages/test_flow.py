"""The metal flow as a drawing: widths by grams, words that never meet, a gap that stays open.

Widths and sums are reckoned by hand beside each check.
"""

from __future__ import annotations

import re
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.figure import Figure
from logbook.calculation.results import Standing
from logbook.model.amount import Uncertain
from logbook.pages.flow import End, Flow, Missing, Station, Stream, grouped, in_order, joined
from logbook.pages.flow_layout import WIDTH, Band, FlowDrawing, lay_out
from logbook.pages.metal_flow import MOST_ROWS, flow_view, in_sentences
from logbook.pages.text_width import cut_to, text_width


def grams(value: float | None, high: float | None = None) -> Figure:
    """A content with one percent of doubt, or one that is not known."""
    if value is None:
        return Figure("silver", "g", why="it was not measured", low=0.0, high=high)
    return Figure("silver", "g", Uncertain.of(value, value / 100.0, object()))


def stream(
    source: int | None,
    target: int | None,
    value: float | None,
    *,
    end: End = End.SHELF,
    what: str = "a thing",
    standing: Standing = Standing.MEASURED,
    high: float | None = None,
) -> Stream:
    """A stream of so many grams; its end follows from where it goes."""
    if target is not None:
        end = End.OUTSIDE if source is None else End.INNER
    return Stream(source, target, end, what, "", grams(value, high), grams(value, high), standing)


def by_name(drawing: FlowDrawing) -> dict[str, Band]:
    """The bands of a drawing by what flows in them."""
    return {band.name: band for band in drawing.bands}


STATIONS = tuple(Station(name) for name in ("Dissolve", "Cement", "Melt"))


def test_widths_are_in_the_ratio_of_the_grams() -> None:
    """60 g is drawn three times as wide as 20 g, and 100 g as wide as both and the other 20."""
    flow = Flow(
        STATIONS,
        (
            stream(None, 0, 100.0, what="feed"),
            stream(0, None, 20.0, what="filter"),
            stream(0, 1, 80.0, what="solution"),
            stream(1, 2, 60.0, what="powder"),
            stream(1, None, 20.0, what="waste", end=End.WASTE),
            stream(2, None, 60.0, what="bar", end=End.PRODUCT),
        ),
    )
    band = by_name(lay_out(flow))
    assert band["powder"].width == pytest.approx(3 * band["filter"].width)
    assert band["feed"].width == pytest.approx(band["solution"].width + band["filter"].width)
    assert band["bar"].width == pytest.approx(band["powder"].width)


def test_what_is_too_thin_to_see_is_drawn_a_little_wider() -> None:
    """A milligram beside 100 g has a band all the same."""
    flow = Flow(STATIONS, (stream(None, 0, 100.0), stream(0, None, 0.001, what="trace")))
    assert by_name(lay_out(flow))["trace"].width > 1.0


def test_the_looks_tell_how_a_content_is_known() -> None:
    """Full for measured and adjusted, hatched for deduced, dashed for the rest; all in the key."""
    streams = [
        stream(None, 0, 9.0, what=standing.value, standing=standing)
        for standing in (Standing.MEASURED, Standing.ADJUSTED, Standing.DEDUCED)
    ]
    streams += [
        stream(0, None, None, what="bounded", standing=Standing.BOUNDED, high=3.0),
        stream(0, None, None, what="unknown", standing=Standing.UNKNOWN),
    ]
    drawing = lay_out(Flow(STATIONS, tuple(streams)))
    looks = {name: band.look for name, band in by_name(drawing).items()}
    assert looks == {
        "measured": "full",
        "adjusted": "full",
        "deduced": "hatched",
        "bounded": "dashed",
        "unknown": "dashed",
    }
    assert {mark.look for mark in drawing.key} == {"full", "hatched", "dashed", "scale"}
    limit = by_name(drawing)["bounded"].width / by_name(drawing)["measured"].width
    assert limit == pytest.approx(3.0 / 9.0)


def test_a_gap_is_torn_off_and_no_band_fills_it() -> None:
    """Of 100 g in, 75 come out: the missing 25 are a stump as wide as a third of what came out."""
    words = ("gap: 25 g", "went in and did not come out")
    flow = Flow(
        STATIONS[:1],
        (stream(None, 0, 100.0, what="feed"), stream(0, None, 75.0, what="bar")),
        (Missing(0, grams(25.0), words),),
    )
    drawing = lay_out(flow)
    assert [tear.width for tear in drawing.tears] == [
        pytest.approx(by_name(drawing)["bar"].width / 3)
    ]
    assert {band.name for band in drawing.bands} == {"feed", "bar"}
    assert [line.text for line in drawing.words if line.kind == "gap"] == list(words)


def test_a_surplus_stands_where_things_come_in() -> None:
    """More out than in: the stump is above the bar, which is then as wide as what came out."""
    flow = Flow(
        STATIONS[:1],
        (stream(None, 0, 75.0), stream(0, None, 100.0, what="bar")),
        (Missing(0, grams(-25.0), ("gap: 25 g", "more came out than went in"), above=True),),
    )
    drawing = lay_out(flow)
    (bar,) = drawing.bars
    top = min(y for _, y in places(bar))
    assert max(y for _, y in places(drawing.tears[0].outline)) == pytest.approx(top, abs=0.1)


def places(outline: str) -> list[tuple[float, float]]:
    """The places that a path goes through, its corners among them."""
    x = y = 0.0
    found = []
    for letter, rest in re.findall(r"([MLQHVZ])([^MLQHVZ]*)", outline):
        values = [float(one) for one in rest.split()]
        if letter == "H":
            values = [values[0], y]
        elif letter == "V":
            values = [x, values[0]]
        found += list(zip(values[::2], values[1::2], strict=True))
        x, y = found[-1] if found else (x, y)
    return found


NAMES = st.text(min_size=1, max_size=60).filter(str.strip)
GAPS = st.floats(-50.0, 50.0)
AMOUNTS = st.one_of(st.none(), st.floats(0.0, 5000.0))


@st.composite
def flows(draw: st.DrawFn) -> Flow:
    """Any flow: stations, streams that may lead back, and gaps."""
    stations = tuple(Station(draw(NAMES)) for _ in range(draw(st.integers(1, 7))))
    place = st.integers(0, len(stations) - 1)
    streams = []
    for _ in range(draw(st.integers(0, 25))):
        source, target = draw(st.one_of(st.none(), place)), draw(st.one_of(st.none(), place))
        if (source is None and target is None) or source == target:
            continue
        standing = draw(st.sampled_from(Standing))
        high = draw(st.one_of(st.none(), st.floats(0.0, 100.0)))
        one = stream(source, target, draw(AMOUNTS), what=draw(NAMES), standing=standing, high=high)
        streams.append(one)
    gaps = tuple(
        Missing(
            draw(place), grams(draw(st.floats(-50.0, 50.0))), ("gap", "words"), draw(st.booleans())
        )
        for _ in range(draw(st.integers(0, 2)))
    )
    return Flow(stations, tuple(streams), gaps)


@settings(max_examples=150, deadline=None)
@given(flows())
def test_words_never_meet_each_other_or_leave_the_drawing(flow: Flow) -> None:
    """However many things a station has and however they are called."""
    whole = in_order(flow)
    streams = grouped(whole.streams, MOST_ROWS)
    drawing = lay_out(Flow(whole.stations, streams, whole.gaps))
    lines = [*drawing.words, *(mark.words for mark in drawing.key)]
    for one, other in combinations(lines, 2):
        assert not one.box.meets(other.box), (one.text, other.text)
    for line in lines:
        assert line.box.right <= WIDTH, line.text
        assert line.box.bottom <= float(drawing.height) + 1.0, line.text
    left = min((line.box.left for line in drawing.words), default=WIDTH)
    bands = [band.outline for band in drawing.bands]
    tears = [shape for tear in drawing.tears for shape in (tear.outline, tear.pointer)]
    for shape in (*bands, *drawing.bars, *drawing.links, *tears):
        for x, y in places(shape):
            assert 0.0 <= x < left
            assert 0.0 <= y <= float(drawing.height)


@settings(max_examples=100, deadline=None)
@given(flows())
def test_no_band_of_a_row_runs_into_another_row(flow: Flow) -> None:
    """Where bands run beside words, each has a height of its own."""
    whole = in_order(flow)
    drawing = lay_out(Flow(whole.stations, grouped(whole.streams, MOST_ROWS), whole.gaps))
    beside = [band.outline for band in drawing.bands if "Q" in band.outline]
    rows = []
    for outline in beside:
        edge = max(x for x, _ in places(outline))
        ys = [y for x, y in places(outline) if x > edge - 7.0]
        rows.append((min(ys), max(ys)))
    for (_, bottom), (top, _) in pairwise(sorted(rows)):
        assert bottom <= top + 0.11


@settings(max_examples=100, deadline=None)
@given(flows())
def test_every_stream_is_drawn_or_counted_in_one_that_is(flow: Flow) -> None:
    """Grouping loses no thing: the counts of the drawn streams are those of all."""
    kept = grouped(flow.streams, 3)
    assert sum(one.count for one in kept) == sum(one.count for one in flow.streams)
    drawing = lay_out(in_order(Flow(flow.stations, kept, flow.gaps)))
    names = [band.name for band in drawing.bands]
    assert {one.name for one in kept} == set(names)


@pytest.mark.parametrize("size", [0.0, 5e-324, 1e-12, 1e9])
def test_any_size_can_be_drawn(size: float) -> None:
    """Nothing at all, less than an atom or a thousand tonnes: widths stay finite."""
    flow = Flow(STATIONS, (stream(None, 0, size), stream(0, 2, size), stream(2, None, size)))
    for band in lay_out(flow).bands:
        assert 0.0 < band.width <= WIDTH


def test_streams_taken_together_are_summed_and_the_unknown_counted() -> None:
    """By hand: 3 g and 4 g with 1 % each are 7.00 ± 0.05 g; the third thing is not known."""
    parts = [stream(0, None, 3.0), stream(0, None, 4.0), stream(0, None, None)]
    both = joined(parts, "3 more")
    assert both.count == 3
    assert both.unknown == 1
    assert both.words.replace("\u00a0", " ") == "7.000 ± 0.050 g, and 1 not known, measured"


def test_the_smallest_things_of_a_stage_are_taken_together() -> None:
    """Of eight things out of one stage, the three largest are drawn and five are one band."""
    flow = Flow(STATIONS[:1], tuple(stream(0, None, float(size)) for size in range(1, 9)))
    kept = grouped(flow.streams, 4)
    assert sorted(one.grams or 0.0 for one in kept) == [6.0, 7.0, 8.0, 15.0]
    assert "5 more" in {one.what for one in kept}


def test_a_stream_that_leads_back_is_shown_at_both_ends() -> None:
    """No band runs upward; nothing is lost either."""
    flow = in_order(Flow(STATIONS, (stream(2, 0, 5.0, what="rest"),)))
    assert [(one.source, one.target) for one in flow.streams] == [(2, None), (None, 0)]


def test_the_sentences_name_every_stream_and_gap() -> None:
    """Who does not see the drawing is told the same, station by station."""
    words = ("gap: 25 g", "went in and did not come out")
    flow = Flow(
        STATIONS[:2],
        (
            stream(None, 0, 100.0, what="feed"),
            stream(0, 1, 75.0, what="solution"),
            stream(1, None, None, what="filter"),
        ),
        (Missing(0, grams(25.0), words),),
    )
    told = in_sentences(flow)
    for word in ("feed", "to Cement solution", "filter (kept, not known)", "gap: 25 g"):
        assert word in told
    view = flow_view(flow, "Where the silver went", "silver", "flow-1")
    assert view.desc == told


def test_cut_words_say_that_they_were_cut() -> None:
    """What does not fit ends in three dots, and then fits; wide letters count as wide."""
    for text in ("relay contacts from the third lift", "Ω" * 50, "接点接点接点接点接点接点接点"):
        cut = cut_to(text, 90.0, 12.0)
        assert cut.endswith("…")
        assert text_width(cut, 12.0) <= 90.0
