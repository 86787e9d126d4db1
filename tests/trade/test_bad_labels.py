"""Labels that were written wrongly: each is said with its place, and the rest of the book stands.

The books are logs as somebody would write them, read and worked out as `proof` does. The figures
of the good run are worked out by hand: 100.0 g x 0.70 = 70.0 g of silver went in, and
68.0 g x 0.995 = 67.66 g stand in its bar.
"""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures
from logbook.findings import Finding, Weight
from logbook.reading.read_book import read_book

GOOD = """\
# A good run

Date: 2026-01-10
Metal: silver

## Dissolve

- took 100.0 g relay contacts [RC-1], silver 70 ± 1 %
- kept 2 filters [F-1]
- got 1 L silver nitrate solution

## Melt

- got 68.0 g silver bar [AG-1], silver 99.5 ± 0.3 %
"""
HEAD, PRODUCT = 70.0, 67.66


def log(day: str, *entries: str) -> str:
    """A log of one stage, of a day."""
    lines = "\n".join(f"- {entry}" for entry in entries)
    return f"# Another run\n\nDate: {day}\nMetal: silver\n\n## Melt\n\n{lines}\n"


def worked_out(**logs: str) -> BookFigures:
    """The figures of the good run and of other logs, by the last part of their names."""
    texts = {"runs/2026-01-10-good.md": GOOD}
    texts |= {f"runs/{text.split('Date: ')[1][:10]}-{name}.md": text for name, text in logs.items()}
    return work_out(read_book(texts))


def found(figures: BookFigures) -> list[tuple[str, Weight, int, str]]:
    """Code, weight, line and words of every finding of a book."""
    findings: list[Finding] = sorted(
        [*figures.book.findings, *figures.findings], key=lambda one: one.sort_key
    )
    return [(one.code, one.weight, one.span.line, one.span.text) for one in findings]


def holds(figures: BookFigures, key: str) -> float:
    """Grams of silver in a thing."""
    value = next(one for one in figures.things if one.key == key).contents["silver"].value
    assert value is not None
    return value.value


def good_run_stands(figures: BookFigures) -> None:
    """The good run has the figures that it would have alone."""
    assert holds(figures, "RC-1") == pytest.approx(HEAD, rel=1e-3)
    assert holds(figures, "AG-1") == pytest.approx(PRODUCT, rel=1e-3)


ERROR, DOUBT = Weight.ERROR, Weight.DOUBT
FIRST = 8  # the line of the first entry of `log`


def test_a_label_that_never_was() -> None:
    """It is an error at the label, and nothing is known of what was taken."""
    figures = worked_out(other=log("2026-02-01", "took [F-9]", "got 3.0 g silver bar [AG-2]"))
    assert found(figures) == [("label-unknown", ERROR, FIRST, "[F-9]")]
    good_run_stands(figures)


@pytest.mark.parametrize("entry", ["took [F-1]", "weighed [F-1] 3.0 g", "sold [AG-1] for 12 EUR"])
def test_a_label_used_before_it_exists(entry: str) -> None:
    """On that day nothing of the name was there; what is made later is not touched."""
    figures = worked_out(other=log("2026-01-05", entry, "got 3.0 g silver bar [AG-2]"))
    words = entry[entry.index("[") : entry.index("]") + 1]
    assert found(figures) == [("label-unknown", ERROR, FIRST, words)]
    good_run_stands(figures)


def test_a_label_made_twice() -> None:
    """Given again while it holds something it is read as adding: 67.66 + 10.0 x 0.99 g."""
    figures = worked_out(
        other=log("2026-02-01", "took 11.0 g contacts [RC-2], silver 91 ± 3 %")
        + "- got 10.0 g silver bar [AG-1], silver 99.0 ± 0.3 %\n"
    )
    assert found(figures) == [("label-again", DOUBT, FIRST + 1, "[AG-1]")]
    assert holds(figures, "AG-1") == pytest.approx(PRODUCT + 9.90, rel=1e-3)
    assert holds(figures, "AG-1, before adding") == pytest.approx(PRODUCT, rel=1e-3)


@pytest.mark.parametrize(
    "entries",
    [
        ("took 90.0 g of [AG-1]", "got 89.0 g silver bar [AG-2]"),
        ("took 40.0 g of [AG-1]", "took 40.0 g of [AG-1]", "got 78.0 g silver bar [AG-2]"),
    ],
    ids=["at once", "in two draws"],
)
def test_a_label_overdrawn(entries: tuple[str, ...]) -> None:
    """68.0 g cannot give 90.0 g, nor twice 40.0 g: the draw that goes too far is pointed at."""
    figures = worked_out(other=log("2026-02-01", *entries))
    line = FIRST + len(entries) - 2
    amount = entries[-2].split(" of ")[0].removeprefix("took ")
    assert found(figures) == [("label-overdrawn", ERROR, line, amount)]
    good_run_stands(figures)


def test_a_draw_that_the_doubt_of_two_weighings_allows() -> None:
    """A bar of 68.0 g that weighs 68.0 g when it is taken: nothing is overdrawn."""
    figures = worked_out(
        other=log("2026-02-01", "took 68.0 g of [AG-1]", "got 67.9 g silver bar [AG-2]")
    )
    assert found(figures) == []
    good_run_stands(figures)


def test_a_label_taken_twice() -> None:
    """The first taking counts; the second found nothing left."""
    figures = worked_out(
        one=log("2026-02-01", "took [AG-1]", "got 67.9 g silver bar [AG-2]"),
        two=log("2026-03-01", "took [AG-1]", "got 67.9 g silver bar [AG-3]"),
    )
    assert found(figures) == [("label-empty", ERROR, FIRST, "[AG-1]")]
    good_run_stands(figures)


@pytest.mark.parametrize("other_day", ["2026-02-02", "2026-02-01"], ids=["later", "same day"])
def test_two_runs_that_each_take_what_the_other_makes(other_day: str) -> None:
    """One of the two must have begun without the other's thing: its label is not known."""
    figures = worked_out(
        one=log("2026-02-01", "took [Y-1]", "got 67.0 g silver bar [X-1], silver 99.0 %"),
        two=log(other_day, "took [X-1]", "got 67.0 g silver bar [Y-1], silver 99.0 %"),
    )
    assert found(figures) == [("label-unknown", ERROR, FIRST, "[Y-1]")]
    (said,) = figures.findings
    assert said.understood.endswith(f"[Y-1] is made later, in {other_day}-two on {other_day}")
    assert "did you mean" not in said.hint
    assert holds(figures, "X-1") == pytest.approx(66.33, rel=1e-3)  # 67.0 x 0.990
    assert holds(figures, "Y-1") == pytest.approx(66.33, rel=1e-3)
    good_run_stands(figures)


@pytest.mark.parametrize("what", ["[AG-1]", "half of [AG-1]"])
def test_a_jar_poured_into_itself_holds_what_it_held(what: str) -> None:
    """Nothing comes or goes, and the writer is asked what was meant."""
    figures = worked_out(other=log("2026-02-01", f"kept {what} into [AG-1]"))
    assert found(figures) == [("label-into-itself", DOUBT, FIRST, "[AG-1]")]
    assert holds(figures, "AG-1") == pytest.approx(PRODUCT, rel=1e-3)


def test_a_part_drawn_from_a_jar_into_the_same_jar() -> None:
    """`from [X] into [X]` is the same slip in other words."""
    figures = worked_out(other=log("2026-02-01", "kept 10.0 g powder from [AG-1] into [AG-1]"))
    assert found(figures) == [("label-into-itself", DOUBT, FIRST, "[AG-1]")]
    assert holds(figures, "AG-1") == pytest.approx(PRODUCT, rel=1e-3)


def test_jars_poured_together_into_one_of_them_are_no_slip() -> None:
    """`kept [A] and [B] into [A]` says where both are afterwards: 7.0 g and 12.0 g, 19.0 g."""
    text = log("2026-02-01", "took 31.0 g contacts [RC-2], silver 61 ± 1 %")
    text += "- kept 10.0 g fines [A-1], silver 70 ± 1 %\n- kept 20.0 g fines [B-1], silver 60 %\n"
    text += "\n## Store\n\n- kept [A-1] and [B-1] into [A-1]\n"
    figures = worked_out(other=text)
    assert found(figures) == []
    assert holds(figures, "A-1") == pytest.approx(19.0, rel=2e-2)


@pytest.mark.parametrize(
    ("jar", "taken", "words", "headline"),
    [
        ("2.0 g fines", "some of [F-2]", "some", "how much was taken was not written"),
        ("fines", "some of [F-2]", "[F-2]", "neither how much [F-2] held nor how much was taken"),
        ("20 mL fines", "1.0 g of [F-2]", "[F-2]", "how much [F-2] held was not written as a mass"),
    ],
    ids=["amount", "neither", "another kind"],
)
def test_a_draw_says_which_of_the_two_is_not_known(
    jar: str, taken: str, words: str, headline: str
) -> None:
    """The jar is not blamed for an amount that nobody wrote."""
    figures = worked_out(
        one=log("2026-02-01", "took 3.0 g contacts [RC-2], silver 61 ± 1 %", f"kept {jar} [F-2]"),
        two=log("2026-03-01", f"took {taken}", "got 0.5 g silver bar [AG-2]"),
    )
    assert found(figures) == [("draw-unknown", DOUBT, FIRST, words)]
    assert figures.findings[0].headline.startswith(headline)
    good_run_stands(figures)


def test_a_sample_of_a_thing_that_is_not_there() -> None:
    """It is an error at the label, and no thing of that name comes to be."""
    figures = worked_out(other=log("2026-02-01", "took [AG-1]", "sampled 1.0 g of [Q-1]"))
    assert found(figures) == [("label-unknown", ERROR, FIRST + 1, "[Q-1]")]
    assert "Q-1" not in {one.label for one in figures.things}
    good_run_stands(figures)


def test_a_sample_of_what_was_used_up() -> None:
    """The jar was there once: it is said to be empty."""
    figures = worked_out(
        one=log("2026-02-01", "took [AG-1]", "got 67.9 g silver bar [AG-2]"),
        two=log("2026-03-01", "sampled 1.0 g of [AG-1]"),
    )
    assert found(figures) == [("label-empty", ERROR, FIRST, "[AG-1]")]
    good_run_stands(figures)


def test_a_sample_may_have_a_name_of_its_own() -> None:
    """`sampled 1.0 g powder [S-1]` names the sample, and asks for no thing of that name."""
    figures = worked_out(other=log("2026-02-01", "took [AG-1]", "sampled 1.0 g powder [S-1]"))
    assert found(figures) == []
    assert "S-1" in {one.label for one in figures.things}


def test_two_jars_poured_into_one_another_hold_what_both_held() -> None:
    """First one into the other, then both back: 10.0 g x 0.70 and 20.0 g x 0.60 are 19.0 g."""
    text = log("2026-02-01", "took 31.0 g contacts [RC-2], silver 61 ± 1 %")
    text += "- kept 10.0 g fines [A-1], silver 70 ± 1 %\n- kept 20.0 g fines [B-1], silver 60 %\n"
    text += "\n## Store\n\n- kept [A-1] into [B-1]\n- kept [B-1] into [A-1]\n"
    figures = worked_out(other=text)
    assert found(figures) == []
    assert holds(figures, "A-1 (2)") == pytest.approx(19.0, rel=2e-2)
    good_run_stands(figures)


def test_the_next_state_of_a_jar_is_no_loop() -> None:
    """A label that is given again after all of it was taken is the same jar's next state."""
    figures = worked_out(
        other=log("2026-02-01", "took [AG-1]", "got 67.9 g silver bar [AG-1], silver 99.6 ± 0.3 %")
    )
    assert found(figures) == []
    assert holds(figures, "AG-1") == pytest.approx(PRODUCT, rel=1e-3)
    assert holds(figures, "AG-1 (2)") == pytest.approx(67.63, rel=1e-3)  # 67.9 x 0.996


def test_a_thing_made_of_itself_before_it_was_there() -> None:
    """Taken before it was first made, a label is not known, however it goes on."""
    figures = worked_out(
        other=log("2026-02-01", "took [X-1]", "got 67.0 g silver bar [X-1], silver 99.0 %")
    )
    assert found(figures) == [("label-unknown", ERROR, FIRST, "[X-1]")]
    assert holds(figures, "X-1") == pytest.approx(66.33, rel=1e-3)


def test_the_nearest_label_is_offered() -> None:
    """A slip of one sign is named."""
    figures = worked_out(other=log("2026-02-01", "took [AG1]", "got 3.0 g silver bar [AG-2]"))
    assert [one.hint for one in figures.findings] == ["did you mean [AG-1]?"]
