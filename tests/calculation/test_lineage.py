"""Which thing goes where: labels and their states, draws, pools, and the charge that goes on."""

from __future__ import annotations

import pytest
from build import book, entry, g, litres, page, part, pieces, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, Fate, Role, StageKey, Thing
from logbook.findings import Weight
from logbook.model.run import Run


def thing(figures: BookFigures, key: str) -> Thing:
    """The one thing of that key."""
    (found,) = [one for one in figures.things if one.key == key]
    return found


def codes(figures: BookFigures) -> list[str]:
    """The codes of what there is to say, in order."""
    return [finding.code for finding in figures.findings]


def kept(name: str, *labels: str, day: str = "2026-01-10", mass: float = 10.0) -> Run:
    """A run that took scrap and kept one thing for each label."""
    sides = [entry("kept", g(mass, 0.1), "filters", label) for label in labels]
    took = entry("took", g(100.0, 0.1), "contacts")
    return run(f"{day}-{name}", stage("Dissolve", took, *sides))


# The charge


def test_what_a_stage_got_enters_the_next_stage() -> None:
    """A thing that was got is made by its stage and used by the next one."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Dissolve", entry("took", g(100.0), "scrap"), entry("got", litres(1.0), "sol")
                ),
                stage("Cement", entry("got", g(60.0), "cement silver")),
            )
        )
    )
    charge = thing(figures, "2026-01-10-a: sol")
    assert charge.made_by == StageKey("2026-01-10-a", 0)
    assert charge.used_by == StageKey("2026-01-10-a", 1)
    assert charge.fate is Fate.USED
    assert codes(figures) == []


def test_where_nothing_was_got_what_the_stage_held_goes_on() -> None:
    """A stage with additions and no `got` hands on a charge that nobody measured."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage("Dissolve", entry("took", g(100.0), "scrap")),
                stage("Cement", entry("got", g(60.0), "cement silver")),
            )
        )
    )
    charge = thing(figures, "2026-01-10-a: charge of Dissolve")
    assert charge.used_by == StageKey("2026-01-10-a", 1)
    assert not charge.gross.known


def test_a_stage_that_only_waits_leaves_the_charge_as_it_is() -> None:
    """The charge goes round a stage in which nothing moves, and can be weighed there."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Cement", entry("took", g(100.0), "scrap"), entry("got", None, "cement silver")
                ),
                stage("Dry", entry("weighed", g(61.2, 0.1), moisture="dry")),
                stage("Melt", entry("got", g(60.0), "silver bar")),
            )
        )
    )
    charge = thing(figures, "2026-01-10-a: cement silver")
    assert charge.gross.value is not None
    assert charge.gross.value.value == 61.2
    assert charge.used_by == StageKey("2026-01-10-a", 2)


def test_a_charge_that_a_took_leaves_behind_stands_on_the_shelf_and_is_named() -> None:
    """A stage with its own `took` starts from that; the charge is left, with a doubt."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Dissolve", entry("took", g(100.0), "scrap"), entry("got", litres(1.0), "sol")
                ),
                stage(
                    "Melt", entry("took", g(50.0), "sweeps"), entry("got", g(40.0), "silver bar")
                ),
            )
        )
    )
    assert thing(figures, "2026-01-10-a: sol").fate is Fate.SHELF
    (finding,) = figures.findings
    assert (finding.code, finding.weight) == ("charge-left", Weight.DOUBT)


def test_a_labelled_charge_is_left_on_purpose() -> None:
    """What was got with a label may wait for a later stage, with nothing to say about it."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Dissolve",
                    entry("took", g(9.0), "scrap"),
                    entry("got", litres(1.0), "sol", "S"),
                ),
                stage("Sort", entry("took", g(5.0), "sweeps"), entry("got", g(4.0), "sweeps", "T")),
                stage(
                    "Cement", entry("took", None, "", "S"), entry("got", g(3.0), "silver powder")
                ),
            )
        )
    )
    assert thing(figures, "S").used_by == StageKey("2026-01-10-a", 2)
    assert thing(figures, "T").fate is Fate.SHELF
    assert codes(figures) == []


def test_the_charge_taken_by_its_own_words_is_not_new_feed() -> None:
    """`took 61 g cement silver` after `got cement silver` takes the charge, with a doubt."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Cement",
                    entry("took", g(100.0), "scrap"),
                    entry("got", g(61.0), "cement silver"),
                ),
                stage(
                    "Melt", entry("took", g(61.0), "cement silver"), entry("got", g(60.0), "bar")
                ),
            )
        )
    )
    feeds = [one.key for one in figures.things if one.role is Role.FEED]
    assert feeds == ["2026-01-10-a: scrap"]
    assert codes(figures) == ["charge-taken"]


def test_a_trial_with_its_own_feed_lets_the_charge_pass() -> None:
    """A trial between two stages does not stop the charge."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Dissolve", entry("took", g(100.0), "scrap"), entry("got", litres(1.0), "sol")
                ),
                stage(
                    "Trial",
                    entry("took", g(5.0), "sweeps"),
                    entry("found", words="slow"),
                    trial=True,
                ),
                stage("Cement", entry("got", g(60.0), "silver powder")),
            )
        )
    )
    assert thing(figures, "2026-01-10-a: sol").used_by == StageKey("2026-01-10-a", 2)
    assert codes(figures) == []


@pytest.mark.parametrize(("kind", "stands"), [("dissolve", True), ("melt", False), ("none", False)])
def test_what_stays_where_nothing_was_got(kind: str, stands: bool) -> None:
    """A wet stage leaves its charge standing; another that kept something is finished."""
    last = stage("Last", entry("took", g(100.0), "scrap"), entry("kept", g(3.0), "slag"), kind=kind)
    figures = work_out(book(run("2026-01-10-a", last)))
    standing = [one.key for one in figures.shelf if one.role is Role.CHARGE]
    assert standing == (["2026-01-10-a: charge of Last"] if stands else [])


def test_a_run_continues_with_the_last_charge_of_another() -> None:
    """`Continues` takes up what stood last, beside what the stage takes itself."""
    figures = work_out(
        book(
            run("2026-01-10-a", stage("Dissolve", entry("took", g(100.0), "scrap"))),
            run(
                "2026-01-12-b",
                stage("Cement", entry("took", g(5.0), "powder"), entry("got", g(60.0), "bar")),
                continues="2026-01-10-a",
            ),
        )
    )
    charge = thing(figures, "2026-01-10-a: charge of Dissolve")
    assert charge.used_by == StageKey("2026-01-12-b", 0)
    assert codes(figures) == []


def test_a_run_that_continues_nothing_says_so() -> None:
    """An unknown run to continue is an error with the nearest name; the run still counts."""
    figures = work_out(
        book(
            run("2026-01-10-a", stage("Melt", entry("got", g(1.0), "silver bar"))),
            run(
                "2026-01-12-b",
                stage("Melt", entry("got", g(2.0), "silver bar")),
                continues="2026-01-1O-a",
            ),
        )
    )
    (finding,) = figures.findings
    assert (finding.code, finding.weight) == ("run-unknown", Weight.ERROR)
    assert "2026-01-10-a" in finding.hint
    assert len(figures.runs) == 2


# Labels


def test_a_label_given_again_after_all_was_taken_is_its_next_state() -> None:
    """The same jar filled again is "X (2)", and the first one stays used."""
    use = run(
        "2026-02-01-use", stage("Melt", entry("took", None, "", "J"), entry("got", g(9.0), "bar"))
    )
    figures = work_out(book(kept("a", "J"), use, kept("b", "J", day="2026-03-01")))
    assert thing(figures, "J").used_by == StageKey("2026-02-01-use", 0)
    assert thing(figures, "J (2)").fate is Fate.SHELF
    assert codes(figures) == []


def test_a_label_given_again_while_it_holds_something_is_added_to() -> None:
    """Giving a label that still holds something pools both and raises a doubt."""
    figures = work_out(book(kept("a", "J"), kept("b", "J", day="2026-03-01", mass=4.0)))
    jar = thing(figures, "J")
    assert jar.gross.value is not None
    assert jar.gross.value.value == pytest.approx(14.0)
    assert len(jar.pooled_from) == 2
    assert [(one.code, one.weight) for one in figures.findings] == [("label-again", Weight.DOUBT)]


def test_into_adds_to_a_label_without_a_doubt() -> None:
    """A bag of filters from three runs holds the sum of them, and is on the shelf once."""
    runs = [
        run(
            f"2026-0{k}-01-r",
            stage(
                "Dissolve",
                entry("took", g(100.0), "contacts"),
                entry("kept", g(float(k), 0.1), "filters", into="BAG"),
            ),
        )
        for k in (1, 2, 3)
    ]
    figures = work_out(book(*runs))
    bag = thing(figures, "BAG")
    assert bag.gross.value is not None
    assert bag.gross.value.value == pytest.approx(6.0)
    assert len(bag.pooled_from) == 3
    assert [one.key for one in figures.shelf if one.label == "BAG"] == ["BAG"]
    assert codes(figures) == []


def test_a_labelled_thing_poured_into_another_keeps_its_name() -> None:
    """`kept filters [F-1] into [BAG]` names the filters and pours them into the bag."""
    only = entry("kept", g(3.0), "filters", "F-1", into="BAG")
    figures = work_out(book(run("2026-01-10-a", stage("Filter", only))))
    assert thing(figures, "F-1").fate is Fate.USED
    assert thing(figures, "BAG").pooled_from == ("F-1",)


def test_a_label_used_before_it_is_there_is_an_error_with_the_nearest_name() -> None:
    """An unknown label costs its entry only, and what went in is not known."""
    wrong = run(
        "2026-02-01-b", stage("Melt", entry("took", None, "", "F-2l"), entry("got", g(1.0), "bar"))
    )
    figures = work_out(book(kept("a", "F-21"), wrong))
    (finding,) = figures.findings
    assert (finding.code, finding.weight) == ("label-unknown", Weight.ERROR)
    assert "F-21" in finding.hint
    (balance,) = figures.runs["2026-02-01-b"].balances
    assert not balance.head.known
    assert not balance.recovery.known


def test_a_label_of_which_all_was_taken_is_an_error() -> None:
    """Taking a jar twice is an error the second time."""
    first = run(
        "2026-02-01-b", stage("Melt", entry("took", None, "", "J"), entry("got", g(1.0), "bar"))
    )
    second = run(
        "2026-02-02-c", stage("Melt", entry("took", None, "", "J"), entry("got", g(1.0), "bar"))
    )
    figures = work_out(book(kept("a", "J"), first, second))
    assert [(one.code, one.weight) for one in figures.findings] == [("label-empty", Weight.ERROR)]


def test_a_plan_takes_nothing_from_the_shelf() -> None:
    """A planned run is not part of the lineage and has no figures."""
    from logbook.model.run import Status

    plan = run("2026-02-01-p", stage("Melt", entry("took", None, "", "J")), status=Status.PLANNED)
    figures = work_out(book(kept("a", "J"), plan))
    assert thing(figures, "J").fate is Fate.SHELF
    assert figures.runs["2026-02-01-p"].cost.why == "planned, nothing done yet"
    assert codes(figures) == []


def test_a_thing_is_made_before_it_is_used_whatever_the_files_are_called() -> None:
    """Of two runs of one day the one that makes a thing is read before the one that uses it."""
    use = run(
        "2026-01-10-a", stage("Melt", entry("took", None, "", "J"), entry("got", g(9.0), "bar"))
    )
    figures = work_out(book(use, kept("b", "J")))
    assert thing(figures, "J").used_by == StageKey("2026-01-10-a", 0)
    assert codes(figures) == []


def test_an_undated_stage_may_use_what_another_run_made_later() -> None:
    """Only a date that was written forbids the use of what came to be after it."""
    first = stage("Sort", entry("took", g(50.0), "scrap"), entry("got", g(40.0), "scrap"))
    undated = stage("Melt", entry("added", None, "", "J"), entry("got", g(9.0), "bar"))
    dated = stage(
        "Melt", entry("added", None, "", "J"), entry("got", g(9.0), "bar"), on="2026-01-06"
    )
    made = kept("z", "J")
    assert codes(work_out(book(run("2026-01-05-a", first, undated), made))) == []
    assert codes(work_out(book(run("2026-01-05-a", first, dated), made))) == ["label-unknown"]


def test_runs_that_wait_for_one_another_are_read_all_the_same() -> None:
    """Two undated stages that each use what the other makes end in an error, not in a hang."""

    def mutual(name: str, uses: str, makes: str) -> Run:
        return run(
            name,
            stage("Sort", entry("took", g(1.0), "scrap"), entry("got", g(1.0), "scrap")),
            stage("Melt", entry("added", None, "", uses), entry("kept", g(1.0), "slag", makes)),
        )

    figures = work_out(book(mutual("2026-01-01-a", "Y", "X"), mutual("2026-01-01-b", "X", "Y")))
    assert codes(figures) == ["label-unknown"]


def test_what_a_step_poured_into_a_jar_is_what_the_stage_got_there() -> None:
    """`filtered into [B]` and `got 1.4 L solution [B]` are one filling of one jar."""
    figures = work_out(
        book(
            run(
                "2026-01-10-a",
                stage(
                    "Filter",
                    entry("took", g(100.0), "scrap"),
                    entry("filtered", into="B"),
                    entry("got", litres(1.4), "solution", "B"),
                ),
                stage("Cement", entry("got", g(60.0), "silver powder")),
            )
        )
    )
    jar = thing(figures, "B")
    assert jar.pooled_from == ()
    assert jar.volume.value is not None
    assert jar.volume.value.value == 1.4
    assert jar.used_by == StageKey("2026-01-10-a", 1)
    assert codes(figures) == []


# Waste and losses


def test_a_label_into_which_anything_was_discarded_is_waste_everywhere() -> None:
    """What is kept in a waste container counts as waste too, before and after."""
    first = run("2026-01-01-a", stage("Rinse", entry("kept", litres(1.0), "rinse", into="W")))
    second = run("2026-01-02-b", stage("Cement", entry("discarded", litres(2.0), "blue", into="W")))
    figures = work_out(book(first, second))
    assert thing(figures, "W").fate is Fate.WASTE
    assert [one.key for one in figures.shelf] == []
    (balance,) = figures.runs["2026-01-01-a"].balances
    assert not balance.waste.known


def test_a_lost_or_discarded_thing_is_gone_from_the_shelf() -> None:
    """A labelled thing thrown away by a later run is waste of the run that made it."""
    away = run(
        "2026-02-01-b",
        stage("Store", entry("discarded", None, "", "J"), entry("lost", None, "", "K")),
    )
    figures = work_out(book(kept("a", "J", "K"), away))
    assert thing(figures, "J").fate is Fate.WASTE
    assert thing(figures, "K").fate is Fate.LOST
    (balance,) = figures.runs["2026-01-10-a"].balances
    assert balance.waste.terms[0].name == "silver in [J]"
    assert balance.lost.terms[0].name == "silver in [K]"


# Draws


LOT = page(
    "supplies",
    entry(
        "bought",
        g(500.0, 0.3),
        "sweeps",
        "LOT",
        holds={"silver": part(0.40, 0.01)},
        on="2026-01-01",
        sampling=part(0.0),  # as if it were alike throughout
    ),
)


def draw(name: str, mass: float, **more: object) -> Run:
    """A run that draws from the lot."""
    took = entry("took", g(mass, 0.1), "", source="LOT")
    return run(name, stage("Dissolve", took, entry("got", g(1.0), "silver bar")))


def test_draws_are_things_with_a_share_of_their_lot() -> None:
    """100 g of 500 g is a fifth, holds 40 g of silver, and leaves 400 g on the shelf."""
    figures = work_out(book(draw("2026-02-01-a", 100.0), supplies=LOT))
    piece = thing(figures, "LOT, part 1")
    assert piece.part_of == "LOT"
    assert piece.share is not None and piece.share.value is not None
    assert piece.share.value.value == pytest.approx(0.2)
    silver = piece.contents["silver"].value
    assert silver is not None
    assert silver.value == pytest.approx(40.0)
    assert thing(figures, "LOT").fate is Fate.USED
    (rest,) = [one for one in figures.shelf if one.label == "LOT"]
    assert rest.part_of == "LOT"
    assert rest.gross.value is not None
    assert rest.gross.value.value == pytest.approx(400.0)


def test_draws_share_the_error_of_their_lots_assay() -> None:
    """Two draws with one assay are correlated: cov = m1 m2 u²(a) = 100 × 50 × 0.0001 = 0.5."""
    figures = work_out(book(draw("2026-02-01-a", 100.0), draw("2026-02-02-b", 50.0), supplies=LOT))
    first = thing(figures, "LOT, part 1").contents["silver"].value
    second = thing(figures, "LOT, part 2").contents["silver"].value
    assert first is not None and second is not None
    assert first.covariance(second) == pytest.approx(0.5)


def test_half_of_what_is_left_twice_leaves_a_quarter() -> None:
    """Half of 500 g is 250 g, half of the rest 125 g, and 125 g stay."""
    halves = [
        run(f"2026-02-0{k}-a", stage("Melt", entry("took", None, "", "LOT", share=0.5)))
        for k in (1, 2)
    ]
    figures = work_out(book(*halves, supplies=LOT))
    masses = [thing(figures, f"LOT, part {k}").gross.value for k in (1, 2)]
    assert [one.value for one in masses if one] == [pytest.approx(250.0), pytest.approx(125.0)]
    (rest,) = [one for one in figures.shelf if one.label == "LOT"]
    assert rest.gross.value is not None
    assert rest.gross.value.value == pytest.approx(125.0)


def test_taking_more_than_a_lot_holds_is_an_error() -> None:
    """600 g from 500 g cannot be, and what went in is not known."""
    figures = work_out(book(draw("2026-02-01-a", 600.0), supplies=LOT))
    (finding,) = figures.findings
    assert (finding.code, finding.weight) == ("label-overdrawn", Weight.ERROR)
    (balance,) = figures.runs["2026-02-01-a"].balances
    assert not balance.head.known


def test_five_draws_leave_the_rest() -> None:
    """Five draws of 80 g from 500 g leave 100 g with 40 g of silver."""
    runs = [draw(f"2026-02-0{k}-a", 80.0) for k in range(1, 6)]
    figures = work_out(book(*runs, supplies=LOT))
    (rest,) = [one for one in figures.shelf if one.label == "LOT"]
    silver = rest.contents["silver"].value
    assert silver is not None
    assert silver.value == pytest.approx(40.0)
    assert codes(figures) == []


def test_a_weighing_after_draws_is_of_the_rest() -> None:
    """The rest that was weighed counts as weighed, at the lot's assay: 390 g × 0.40 = 156 g."""
    look = run("2026-03-01-b", stage("Store", entry("weighed", g(390.0, 0.1), "", "LOT")))
    figures = work_out(book(draw("2026-02-01-a", 100.0), look, supplies=LOT))
    (rest,) = [one for one in figures.shelf if one.label == "LOT"]
    silver = rest.contents["silver"].value
    assert silver is not None
    assert silver.value == pytest.approx(156.0)


def test_a_count_can_be_drawn_from() -> None:
    """Two of three filters are two thirds of them."""
    made = run("2026-01-01-a", stage("Filter", entry("kept", pieces(3), "filters", "F")))
    use = run("2026-01-02-b", stage("Incinerate", entry("took", pieces(2), "filters", "F")))
    figures = work_out(book(made, use))
    share = thing(figures, "F, part 1").share
    assert share is not None and share.value is not None
    assert share.value.value == pytest.approx(2.0 / 3.0)


def test_a_thing_never_weighed_is_weighed_when_it_is_taken() -> None:
    """`took 12 g filters [F]`, where F was only counted, takes all of it."""
    made = run("2026-01-01-a", stage("Filter", entry("kept", pieces(3), "filters", "F")))
    use = run("2026-01-02-b", stage("Incinerate", entry("took", g(12.0), "filters", "F")))
    figures = work_out(book(made, use))
    filters = thing(figures, "F")
    assert filters.used_by == StageKey("2026-01-02-b", 0)
    assert filters.gross.value is not None
    assert filters.gross.value.value == 12.0


def test_several_labels_weighed_together_go_in_as_one() -> None:
    """Two kept filters weighed and assayed together when taken: 20 g × 0.10 = 2 g in."""
    use = run(
        "2026-02-01-b",
        stage(
            "Incinerate",
            entry("took", g(20.0), "filters", "F-1", "F-2", holds={"silver": part(0.1)}),
            entry("got", g(1.9), "silver bar", holds={"silver": part(1.0)}),
        ),
    )
    figures = work_out(book(kept("a", "F-1", "F-2"), use))
    (balance,) = figures.runs["2026-02-01-b"].balances
    assert balance.head.value is not None
    assert balance.head.value.value == pytest.approx(2.0)
    assert thing(figures, "F-1").fate is Fate.USED


def test_two_logs_of_one_name_are_told_apart() -> None:
    """Of two files that are called alike only the first is counted, with an error."""
    one, other = kept("a", "J"), kept("a", "K")
    figures = work_out(book(one, other))
    assert codes(figures) == ["run-name-twice"]
    assert len(figures.runs) == 1
