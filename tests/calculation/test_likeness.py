"""What runs used and gave per gram of scrap, against hand calculation.

Lot A took 100 g, added 200 mL of acid and gave a bar of 60 g; lot B took 300 g, added 540 mL and
gave 189 g; lot C took 200 g, added 440 mL and gave 118 g. Per gram by hand: 2.0, 1.8 and 2.2 mL
of acid, mean 2.0; 0.60, 0.63 and 0.59 g of bar, mean 1.82 / 3.
"""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.book_figures import whole_book_findings, work_out
from logbook.calculation.figure import Figure
from logbook.calculation.plans.likeness import scaled, spread
from logbook.calculation.results import BookFigures
from logbook.calculation.results.plans import LikeFigures, Part, PlanFigures, Ratio
from logbook.model.amount import Uncertain
from logbook.reading.read_book import read_book

PLAN = "2026-06-01-next"


def lot(day: str, took: str, acid: str, bar: str, more: str = "") -> tuple[str, str]:
    """The log of a lot, by its path."""
    text = f"""\
# Lot {day}

Date: 2026-01-{day}
Metal: silver

## Dissolve

- took {took} relay contacts
- added {acid} nitric acid 68 %
- worked 30 min
{more}
## Melt

- got {bar} silver bar, silver 99 ± 0.5 %
"""
    return f"runs/2026-01-{day}-lot.md", text


LOTS = dict(
    [
        lot("10", "100.0 g", "200 mL", "60 g"),
        lot("11", "300.0 g", "540 mL", "189 g"),
        lot("12", "200.0 g", "440 mL", "118 g"),
    ]
)
NAMES = tuple(path.removeprefix("runs/").removesuffix(".md") for path in LOTS)


def figures(
    like: str, takes: str = "- take 1 kg relay contacts", logs: dict[str, str] = LOTS
) -> BookFigures:
    """A book of lots, and a plan that is like some of them."""
    plan = f"# Next\n\nStatus: planned\nMetal: silver\nLike: {like}\n\n## Dissolve\n\n{takes}\n"
    return work_out(read_book({**logs, f"runs/{PLAN}.md": plan}))


def planned(like: str, takes: str = "- take 1 kg relay contacts") -> PlanFigures:
    """What is worked out for that plan."""
    return figures(like, takes).plans[PLAN]


def like_of(like: str, takes: str = "- take 1 kg relay contacts") -> LikeFigures:
    """The ratios of that plan."""
    found = planned(like, takes).like
    assert found is not None
    return found


def ratio_of(found: LikeFigures, part: Part, what: str) -> Ratio:
    """The ratio of one thing."""
    return next(one for one in found.ratios if one.part is part and one.what == what)


def value(figure: Figure) -> float:
    """The value of a figure that is known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def test_one_run_gives_its_own_ratio() -> None:
    """200 mL for 100 g are 2.0 mL/g, and 2 L for 1 kg."""
    acid = ratio_of(like_of(NAMES[0]), Part.USED, "nitric acid")
    assert acid.per_gram is not None and acid.expected is not None and acid.per_hundred is not None
    assert value(acid.per_gram.mean) == pytest.approx(0.002)
    assert value(acid.per_hundred.mean) == pytest.approx(0.2)
    assert value(acid.expected.mean) == pytest.approx(2.0)
    assert value(acid.per_run.mean) == pytest.approx(0.2)
    assert (acid.per_gram.runs, acid.per_gram.of, acid.per_gram.deviation) == (1, 1, None)


def test_several_runs_give_a_mean_with_its_spread() -> None:
    """2.0, 1.8 and 2.2 mL/g: mean 2.0, s = √((0 + 0.04 + 0.04) / 2) = 0.2 mL/g."""
    acid = ratio_of(like_of(" and ".join(NAMES)), Part.USED, "nitric acid")
    assert acid.per_gram is not None and acid.expected is not None
    assert value(acid.per_gram.mean) == pytest.approx(0.002)
    assert (acid.per_gram.least, acid.per_gram.most) == pytest.approx((0.0018, 0.0022))
    assert acid.per_gram.deviation == pytest.approx(0.0002)
    assert acid.per_gram.mean.value is not None
    assert acid.per_gram.mean.value.u == pytest.approx(0.0002 * sqrt(4 / 3))
    assert (acid.expected.least, acid.expected.most) == pytest.approx((1.8, 2.2))
    assert acid.expected.deviation == pytest.approx(0.2)


def test_two_runs_have_no_standard_deviation() -> None:
    """Two runs give limits; what a next one may show is still wider than the readings."""
    acid = ratio_of(like_of(f"{NAMES[0]}, {NAMES[1]}"), Part.USED, "nitric acid")
    assert acid.per_gram is not None and acid.per_gram.mean.value is not None
    assert acid.per_gram.deviation is None
    assert (acid.per_gram.least, acid.per_gram.most) == pytest.approx((0.0018, 0.002))
    # |2.0 - 1.8| / √2 × √1.5 mL/g, above what the volumes alone leave in doubt
    assert acid.per_gram.mean.value.u == pytest.approx(0.0002 / sqrt(2) * sqrt(1.5))


def test_the_product_its_fine_metal_and_the_hours_have_ratios() -> None:
    """By hand: (0.60 + 0.63 + 0.59) / 3 g/g of bar, 99 % of it fine; half an hour each."""
    found = like_of(", ".join(NAMES))
    bar = ratio_of(found, Part.PRODUCT, "silver bar")
    fine = ratio_of(found, Part.PRODUCT, "fine silver in the product")
    hours = ratio_of(found, Part.HANDS_ON, "in all")
    assert bar.expected is not None and fine.expected is not None
    assert hours.per_gram is not None
    assert value(bar.expected.mean) == pytest.approx(1000 * 1.82 / 3)
    assert value(fine.expected.mean) == pytest.approx(990 * 1.82 / 3)
    assert value(hours.per_run.mean) == pytest.approx(0.5)
    assert value(hours.per_gram.mean) == pytest.approx((0.5 / 100 + 0.5 / 300 + 0.5 / 200) / 3)


def test_a_recovery_does_not_grow() -> None:
    """60 g × 0.99 of 100 g × 0.70 is 84.857 %; it is never multiplied by a feed."""
    logs = {
        path: text.replace("relay contacts", "wire, silver 70 %") for path, text in LOTS.items()
    }
    found = figures(NAMES[0], logs=logs).plans[PLAN].like
    assert found is not None
    recovery = ratio_of(found, Part.RECOVERY, "silver")
    assert recovery.expected is None and recovery.per_gram is None
    assert value(recovery.per_run.mean) == pytest.approx(0.6 * 0.99 / 0.70)


def test_a_run_that_is_far_from_the_plan_is_marked() -> None:
    """350 g is 3.5 times lot A, 1.17 times lot B and 1.75 times lot C."""
    found = like_of(", ".join(NAMES), "- take 350 g relay contacts")
    assert [value(one.times) for one in found.runs] == pytest.approx([3.5, 350 / 300, 1.75])
    assert [one.far for one in found.runs] == [True, False, False]
    assert [one.far for one in like_of(NAMES[1], "- take 140 g relay contacts").runs] == [True]


def test_trials_are_left_out_with_their_scrap() -> None:
    """A trial on 50 g before the 100 g changes no ratio."""
    trial = "## Trial\n\n- took 50 g relay contacts\n- added 400 mL nitric acid 68 %\n\n"
    path, log = lot("10", "100.0 g", "200 mL", "60 g")
    with_trial = log.replace("## Dissolve", trial + "## Dissolve")
    acid = figures(NAMES[0], logs={path: with_trial}).plans[PLAN].like
    assert acid is not None
    assert acid.runs[0].left_out == ("Trial",)
    assert value(acid.runs[0].feed) == pytest.approx(100)
    found = ratio_of(acid, Part.USED, "nitric acid")
    assert found.expected is not None
    assert value(found.expected.mean) == pytest.approx(2.0)


def test_from_and_without_leave_stages_out() -> None:
    """From the melt on nothing of the acid counts, and without it nothing of the bar."""
    from_melt = like_of(f"{NAMES[0]} from melt on")
    assert [one.part for one in from_melt.ratios if one.part is Part.USED] == []
    assert ratio_of(from_melt, Part.PRODUCT, "silver bar").per_run.runs == 1
    no_melt = like_of(f"{NAMES[0]}, without melt")
    assert [one.part for one in no_melt.ratios if one.part is Part.PRODUCT] == []
    assert no_melt.runs[0].left_out == ("Melt",)


def test_a_supply_of_one_run_says_so() -> None:
    """What one of three runs used is a mean of one of three, and no nought for the others."""
    logs = dict(LOTS)
    logs |= [lot("12", "200.0 g", "440 mL", "118 g", "- added 10 g salt\n")]
    found = figures(", ".join(NAMES), logs=logs).plans[PLAN].like
    assert found is not None
    salt = ratio_of(found, Part.USED, "sodium chloride")
    assert salt.expected is not None
    assert (salt.per_run.runs, salt.per_run.of) == (1, 3)
    assert value(salt.expected.mean) == pytest.approx(50)


def test_what_is_not_written_is_no_ratio() -> None:
    """Some acid is a use of nobody knows how much: that run is left out of the mean, and said."""
    logs = dict(LOTS)
    logs |= [lot("12", "200.0 g", "some", "118 g")]
    found = figures(", ".join(NAMES), logs=logs).plans[PLAN].like
    assert found is not None
    acid = [one for one in found.ratios if one.what == "nitric acid"]
    known = next(one for one in acid if one.per_run.mean.known)
    assert known.per_run.runs == 2
    assert known.expected is not None
    assert value(known.expected.mean) == pytest.approx(1.9)


def test_without_a_weight_nothing_is_scaled() -> None:
    """A plan that says neither take nor For has ratios, and no amounts."""
    found = planned(NAMES[0], "- add some water")
    assert not found.feed.known
    assert "For: 1.2 kg" in found.feed.why
    assert found.like is not None
    acid = ratio_of(found.like, Part.USED, "nitric acid")
    assert acid.per_gram is not None and acid.expected is not None
    assert value(acid.per_gram.mean) == pytest.approx(0.002)
    assert not acid.expected.mean.known
    assert acid.expected.least is None


def test_a_title_with_a_comma_is_one_run() -> None:
    """A `Like:` line that is the title of a run names that run."""
    logs = {path: text.replace("# Lot 10", "# Contacts, lot 10") for path, text in LOTS.items()}
    book = figures("Contacts, lot 10", logs=logs)
    like = book.plans[PLAN].like
    assert like is not None
    assert [one.run for one in like.runs] == [NAMES[0]]
    assert book.findings == ()


def said(like: str, status: str = "planned") -> list[tuple[str, str, str, str]]:
    """What is said of a plan that is like something: code, weight, words and hint."""
    plan = f"# Next\n\nStatus: {status}\nLike: {like}\n\n## Dissolve\n\n- take 3 g wire\n"
    book = read_book({**LOTS, "runs/2026-06-01-next.md": plan})
    return [(f.code, f.weight.value, f.span.text, f.hint) for f in whole_book_findings(book)]


def test_a_run_that_is_not_known_is_said_with_the_nearest() -> None:
    """A slip in a name costs that run, and its neighbour is named."""
    assert said("2026-01-10-lott") == [
        ("like-unknown", "error", "2026-01-10-lott", 'did you mean "2026-01-10-lot"?')
    ]
    assert said("2026-01-10-lot") == []


def test_in_a_log_that_is_done_it_is_a_doubt() -> None:
    """There the line is only a link."""
    assert [one[1] for one in said("2026-01-10-lott", "finished")] == ["doubt"]


def test_a_stage_that_is_not_known_is_said_with_the_nearest() -> None:
    """The words of the stage are marked, not the whole line."""
    assert said("2026-01-10-lot from dissolv on, without cementing") == [
        ("like-stage-unknown", "error", "dissolv", 'did you mean "dissolve"?'),
        ("like-stage-unknown", "error", "cementing", "its stages are dissolve, melt"),
    ]


def test_a_plan_has_no_ratios_to_take() -> None:
    """A plan that is like itself is told so."""
    assert [one[0] for one in said("2026-06-01-next")] == ["like-unknown"]


FEEDS = st.floats(1.0, 1e5)
RATES = st.lists(st.floats(1e-4, 1e3), min_size=1, max_size=6)


def known(rate: float) -> Figure:
    """A ratio of one run."""
    return Figure("rate", "L/g", Uncertain.of(rate, 0.01 * rate, object()))


@settings(max_examples=60)
@given(RATES, FEEDS, st.floats(0.1, 10.0))
def test_scaling_is_linear(rates: list[float], feed: float, factor: float) -> None:
    """So many times the feed is so many times the mean, the least, the most and the deviation."""
    rate = spread("acid", "L/g", [known(one) for one in rates], len(rates))
    once = scaled("acid", rate, Figure("feed", "g", Uncertain(feed)))
    more = scaled("acid", rate, Figure("feed", "g", Uncertain(feed * factor)))
    assert value(more.mean) == pytest.approx(factor * value(once.mean))
    assert once.least is not None and once.most is not None
    assert (more.least, more.most) == pytest.approx((factor * once.least, factor * once.most))
    if once.deviation is not None:
        assert more.deviation == pytest.approx(factor * once.deviation, rel=1e-9, abs=1e-9)


@settings(max_examples=60)
@given(RATES, st.randoms(use_true_random=False))
def test_the_order_of_runs_does_not_matter(rates: list[float], random: object) -> None:
    """Whatever stands first, the mean and its spread are the same."""
    figures = [known(one) for one in rates]
    mixed = list(figures)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    one, other = (spread("acid", "L/g", some, len(some)) for some in (figures, mixed))
    assert value(one.mean) == value(other.mean)
    assert one.mean.value is not None and other.mean.value is not None
    assert one.mean.value.u == pytest.approx(other.mean.value.u)
    assert (one.least, one.most) == (other.least, other.most)
    assert (one.deviation or 0.0) == pytest.approx(other.deviation or 0.0, rel=1e-9, abs=1e-12)


def test_the_order_in_the_line_does_not_matter() -> None:
    """A plan like B, C and A takes what a plan like A, B and C takes."""

    def amounts(names: tuple[str, ...]) -> set[tuple[str, str, float]]:
        found = like_of(", ".join(names))
        return {
            (one.part.value, one.what, round(value(one.expected.mean), 9))
            for one in found.ratios
            if one.expected is not None and one.expected.mean.known
        }

    assert amounts(NAMES) == amounts((NAMES[1], NAMES[2], NAMES[0]))
