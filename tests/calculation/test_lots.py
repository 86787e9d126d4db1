"""What came of a lot over all the runs that took of it, by hand."""

from __future__ import annotations

import pytest
from build import book, entry, g, page, part, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import LotTotal
from logbook.model.entry import Entry
from logbook.model.run import Run


def value(figure: Figure) -> float:
    """The value of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def lots(*runs: Run, bought: tuple[Entry, ...] = ()) -> dict[str, LotTotal]:
    """The lots of a book by their labels."""
    supplies = page("supplies", *bought) if bought else None
    return {one.label: one for one in work_out(book(*runs, supplies=supplies)).lots}


def bar(grams: float, label: str = "") -> Entry:
    """Pure silver."""
    names = (label,) if label else ()
    return entry("got", g(grams, 0.01), "silver bar", *names, holds={"silver": part(1.0, 0.001)})


LOT = entry(
    "bought",
    g(100.0, 0.01),
    "silver shot",
    "LOT",
    holds={"silver": part(0.5, 0.01)},
    on="2026-01-01",
)


def draw(name: str, grams: float, made: float, *more: Entry) -> Run:
    """A run that takes some of the lot and makes a bar; it keeps dross that nobody measured."""
    took = entry("took", g(grams, 0.01), "", "LOT")
    return run(name, stage("Melt", took, *more, entry("kept", None, "dross"), bar(made)))


def test_a_lot_drawn_from_twice_is_one_lot() -> None:
    """100 g hold 50 g; 40 g and 20 g of them gave 19.0 and 9.5 g of silver, 20 g are left."""
    found = lots(draw("2026-02-01-a", 40.0, 19.0), draw("2026-03-01-b", 20.0, 9.5), bought=(LOT,))
    lot = found["LOT"]
    assert lot.runs == ("2026-02-01-a", "2026-03-01-b")
    assert value(lot.head) == pytest.approx(50.0, rel=0.01)
    assert value(lot.product) == pytest.approx(28.5, rel=0.01)
    assert value(lot.shelf) == pytest.approx(20.0, rel=0.02)
    assert value(lot.recovery) == pytest.approx(28.5 / 50.0, rel=0.01)
    assert "a part of the lot is still on the shelf" in lot.recovery.notes


def test_two_lots_in_one_run_share_by_content() -> None:
    """40 g of a lot, 20 g of silver, and 30 g of another give 48 g: 19.2 g and 28.8 g."""
    other = entry("took", g(60.0, 0.01), "wire", "WIRE", holds={"silver": part(0.5, 0.01)})
    found = lots(draw("2026-02-01-a", 40.0, 48.0, other), bought=(LOT,))
    assert value(found["LOT"].product) == pytest.approx(19.2, rel=0.02)
    assert value(found["WIRE"].product) == pytest.approx(28.8, rel=0.02)
    assert value(found["WIRE"].shelf) == 0.0
    assert value(found["WIRE"].recovery) == pytest.approx(0.96, rel=0.02)


def test_what_was_made_later_of_its_filters_counts() -> None:
    """19.0 g of 20.0 g at once, and 0.6 g of the filters in autumn: 19.6 g."""
    took = entry("took", g(40.0, 0.01), "wire", "WIRE", holds={"silver": part(0.5, 0.01)})
    kept = entry("kept", None, "filters", "F")
    first = run("2026-02-01-a", stage("Melt", took, kept, bar(19.0)))
    burn = run("2026-09-01-b", stage("Incinerate", entry("took", None, "", "F"), bar(0.6)))
    lot = lots(first, burn)["WIRE"]
    assert value(lot.product) == pytest.approx(19.6, rel=1e-3)
    assert lot.runs == ("2026-02-01-a",)


def test_a_part_in_a_jar_with_others_is_still_on_the_shelf() -> None:
    """30 g of the lot, 15 g of silver, stand in a jar with other scrap; 20 g were worked."""
    first = draw("2026-02-01-a", 40.0, 19.0)
    dust = entry("took", g(3.0), "dust", holds={"silver": part(0.5)})
    store = run(
        "2026-03-01-b",
        stage(
            "Store",
            dust,
            entry("kept", g(10.0), "chips", into="JAR", holds={"silver": part(0.3)}),
            entry("kept", g(30.0, 0.01), "", "LOT", into="JAR"),
        ),
    )
    lot = lots(first, store, bought=(LOT,))["LOT"]
    assert value(lot.shelf) == pytest.approx(30.0, rel=0.02)  # 15 g in the jar, 15 g the rest


def test_a_lot_that_nobody_measured_stays_unknown() -> None:
    """Beside a lot that is known, nobody can say what was made of it."""
    unknown = entry("took", g(60.0), "sweeps", "SW")
    found = lots(draw("2026-02-01-a", 40.0, 48.0, unknown), bought=(LOT,))
    lot = found["SW"]
    assert not lot.head.known
    assert not lot.product.known
    assert "how much silver [SW] brought into 2026-02-01-a is not known" in lot.product.why
    assert not lot.recovery.known
    assert value(found["LOT"].product) <= 20.0 * 1.01  # no more than it held


def test_an_unmeasured_lot_alone_in_its_runs_has_a_product() -> None:
    """All that the run made came of it; what it held is not known, so the recovery is not."""
    took = entry("took", g(60.0), "sweeps", "SW")
    dross = entry("kept", None, "dross")
    lot = lots(run("2026-02-01-a", stage("Melt", took, dross, bar(7.0))))["SW"]
    assert value(lot.product) == pytest.approx(7.0)
    assert not lot.recovery.known


def test_what_no_run_took_and_what_never_was_are_no_lots() -> None:
    """A lot on the shelf has nothing to tell yet, and a label that is not there names none."""
    absent = run("2026-02-01-a", stage("Melt", entry("took", None, "", "NO"), bar(7.0)))
    assert lots(absent, bought=(LOT,)) == {}
