"""The rules of cautions.toml: each is raised on its typical case and not on a neighbour.

What must be raised is judged by chemistry and practice as cautions.toml gives them with their
sources, never by what the program said before.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.cautions.raised import DEFERRAL, cautions_of_runs
from logbook.calculation.cautions.rules import rule_book
from logbook.calculation.results import Caution
from logbook.model.run import Run
from logbook.reading.read_book import read_book
from logbook.reference import actions, load, metals, reagents, stage_kinds

TABLES: dict[str, list[dict[str, Any]]] = tomllib.loads(
    (Path(__file__).parent / "caution_cases.toml").read_text(encoding="utf-8")
)
CASES, PAIRS = TABLES["case"], TABLES["pair"]
TITLE = "# A case\n\n"


def raised_cautions(run: Run) -> tuple[Caution, ...]:
    """The cautions of a run that stands alone in its book."""
    return cautions_of_runs([run])[run.name]


def read(*logs: str) -> tuple[Run, ...]:
    """Runs read from logs, in the order of their days."""
    texts = {
        f"runs/2026-03-{day:02}-case.md": log if log.startswith("# ") else TITLE + log
        for day, log in enumerate(logs, start=1)
    }
    return read_book(texts).runs


def rules_of(*logs: str) -> list[set[str]]:
    """The rules raised in each run of a small book."""
    found = cautions_of_runs(read(*logs))
    return [{caution.rule for caution in cautions} for cautions in found.values()]


@pytest.mark.parametrize("case", CASES, ids=lambda case: str(case["rule"]))
def test_a_rule_is_raised_on_its_case(case: dict[str, Any]) -> None:
    """The typical case of a danger raises its rule."""
    (run,) = read(case["raises"])
    assert case["rule"] in {caution.rule for caution in raised_cautions(run)}


@pytest.mark.parametrize("case", CASES, ids=lambda case: str(case["rule"]))
def test_a_rule_is_not_raised_on_its_neighbour(case: dict[str, Any]) -> None:
    """A neighbour that is harmless in this one respect does not raise the rule."""
    (run,) = read(case["silent"])
    assert case["rule"] not in {caution.rule for caution in raised_cautions(run)}


def named(pair: dict[str, Any]) -> str:
    """A pair in the name of its test."""
    return f"{pair['first']} with {pair['second']}"


@pytest.mark.parametrize("pair", PAIRS, ids=named)
@pytest.mark.parametrize("turned", [False, True], ids=["", "turned"])
def test_a_pair_of_a_published_list_is_told_wherever_it_meets(
    pair: dict[str, Any], turned: bool
) -> None:
    """In one stage, in stages without a rinse between, and in one container of two months."""
    one, two = (pair["second"], pair["first"]) if turned else (pair["first"], pair["second"])
    assert pair["source"]
    together, after, *container = rules_of(
        f"## Trial\n- added {one}\n- added {two}\n",
        f"## Trial\n- added {one}\n\n## Settle\n- waited 1 h\n\n## Convert\n- added {two}\n",
        f"## Treat waste\n- added {one} into [W-5]\n",
        f"## Treat waste\n- added {two} into [W-5]\n",
    )
    assert pair["rule"] in together
    assert pair["rule"] in after
    assert [pair["rule"] in raised for raised in container] == [False, True]


@pytest.mark.parametrize("pair", PAIRS, ids=named)
def test_half_a_pair_is_no_meeting(pair: dict[str, Any]) -> None:
    """Each half alone, in two runs and two vessels, raises nothing of the pair."""
    for found in rules_of(
        f"## Trial\n- added {pair['first']}\n", f"## Trial\n- added {pair['second']}\n"
    ):
        assert pair["rule"] not in found


def test_every_rule_has_a_case() -> None:
    """No rule is without its two logs."""
    assert {case["rule"] for case in CASES} == {rule.name for rule in rule_book().rules}


def known_names() -> dict[str, set[str] | None]:
    """For each kind of sign the names it may have; None where any word will do."""
    classes = set(load("reagents.toml")["classes"])
    return {
        "class": classes,
        "tested": classes,
        "reagent": set(reagents()),
        "metal": set(metals()),
        "stage": set(stage_kinds()),
        "action": set(actions()),
        "state": {
            *("heat", "damp", "liquid kept", "shut", "unwashed"),
            *load("cautions.toml")["states"],
        },
        "strong": set(load("cautions.toml")["strong"]),
        "word": None,
        "said": None,
    }


def test_every_sign_can_be_given() -> None:
    """A misspelt sign would be a caution that is never raised."""
    names = known_names()
    book = rule_book()
    signs = {s for rule in book.rules for group in rule.meets for s in group}
    signs |= {s for group in (*book.words.values(), *book.steps.values()) for s in group}
    for sign in signs:
        kind, _, name = sign.partition(" ")
        known = names[kind]
        assert known is None or name in known, sign
        assert name == name.lower().strip(), sign
    assert book.hot <= set(stage_kinds())
    assert set(book.steps) <= set(actions())


def test_rules_are_complete() -> None:
    """Signal words are those of the GHS; a rule says what happens, what to do and who says so."""
    names = [rule.name for rule in rule_book().rules]
    assert len(names) == len(set(names))
    for rule in rule_book().rules:
        assert rule.signal in ("danger", "warning")
        assert rule.meets and all(rule.meets)
        assert rule.text and rule.do and rule.source
        assert not rule.covered_by or rule.covered_by in names


@pytest.mark.parametrize(
    "rule", ["nickel-salts", "platinum-salts", "fuel-gas", "poisonous-dust", "strong-peroxide"]
)
def test_signal_words_follow_the_classification(rule: str) -> None:
    """Danger by CLP: cancer when breathed, H334, H220, H350 and H372, H318.

    Source: the safety data sheets and CLP Annex I that cautions.toml names at each rule.
    """
    assert {one.name: one.signal for one in rule_book().rules}[rule] == "danger"


def test_a_bottle_keeps_its_strength() -> None:
    """Peroxide of a labelled bottle is as strong as supplies.md says, and danger or warning."""
    for strength, rule in (("30 %", "strong-peroxide"), ("3 %", "peroxide-gives-gas")):
        supplies = f"# Supplies\n\n- 2026-01-01 had 1 L hydrogen peroxide {strength} [H-1]\n"
        run = "# A\n\n## Strip\n- added 10 mL of [H-1]\n"
        book = read_book({"runs/supplies.md": supplies, "runs/2026-03-01-a.md": run})
        (found,) = cautions_of_runs(book.runs, book.supplies).values()
        assert {"strong-peroxide", "peroxide-gives-gas"} & {one.rule for one in found} == {rule}


LITRES_PER_MOLE = 8.314462618 * 298.15 / 101325 * 1000
"""Ideal gas at 25 C and 101325 Pa (R: CODATA 2018)."""


@pytest.mark.parametrize(
    ("name", "moles_of_gas", "grams", "said"),
    [
        # H2O2 + 2 HCl -> Cl2 + 2 H2O; H2O2 = 2 x 1.008 + 2 x 15.999
        ("chlorine-from-peroxide", 1, 34.014, "0.72 L"),
        ("chlorine-from-salt-and-peroxide", 1, 34.014, "0.72 L"),
        # Na2S2O5 + 2 HCl -> 2 SO2 + 2 NaCl + H2O; 2 x 22.990 + 2 x 32.06 + 5 x 15.999
        ("sulfite-with-acid", 2, 190.095, "0.26 L"),
        # NaCN + HCl -> HCN + NaCl; 22.990 + 12.011 + 14.007
        ("cyanide-with-acid", 1, 49.008, "0.50 L"),
    ],
)
def test_gas_from_a_gram(name: str, moles_of_gas: int, grams: float, said: str) -> None:
    """The litres of gas in a text are those of the balanced equation (CIAAW atomic weights)."""
    litres = moles_of_gas / grams * LITRES_PER_MOLE
    assert said == f"{litres:.2f} L"
    (rule,) = [rule for rule in rule_book().rules if rule.name == name]
    assert said in rule.text


def test_no_rule_gives_leave() -> None:
    """Neither text nor advice ever calls a step safe, and the deferral says so for all."""
    for rule in rule_book().rules:
        words = f"{rule.text} {rule.do}".lower()
        assert "is safe" not in words and "harmless" not in words and "you can" not in words
    assert "absence of a caution says nothing about safety" in DEFERRAL
    for word in ("codes", "ventilation", "protective", "licensed"):
        assert word in DEFERRAL


def test_what_was_left_in_the_vessel_counts() -> None:
    """Nitric acid of one stage meets the ammonia of the third, with only a filter between."""
    (found,) = rules_of(
        "## Dissolve\n- took 20 g contacts, silver 71 %\n- added 40 mL nitric acid 68 %\n"
        "\n## Filter\n- waited 1 h\n\n## Trial\n- added 30 mL ammonia\n"
    )
    assert {"silver-with-ammonia", "ammonium-with-nitrate"} <= found


def test_a_rinsed_solid_is_not_taken_for_wet_with_acid() -> None:
    """After the washed powder was got, hydrochloric acid does not make aqua regia any more."""
    (found,) = rules_of(
        "## Part\n- took 20 g inquarted shot\n- added 80 mL nitric acid 68 %\n"
        "- rinsed 5 times with 100 mL distilled water\n- got 5.1 g brown powder\n"
        "\n## Dissolve\n- added 60 mL hydrochloric acid 32 %\n"
    )
    assert "aqua-regia" not in found


def test_a_rinsed_filter_does_not_clear_the_liquid() -> None:
    """What goes on is the acid liquid, though a filter was rinsed: the meeting is still told."""
    (found,) = rules_of(
        "## Dissolve\n- took 20 g contacts\n- added 80 mL nitric acid 68 %\n"
        "- rinsed with 100 mL distilled water\n- got 200 mL solution\n"
        "\n## Drop\n- added 60 mL hydrochloric acid 32 %\n"
    )
    assert "aqua-regia" in found


def test_a_jar_takes_along_what_it_held() -> None:
    """Spent liquid kept in one run meets bleach in a later one, by its label alone."""
    first, second = rules_of(
        "## Leach\n- added 200 mL hydrochloric acid 32 %\n- kept 180 mL green liquid [S-4]\n",
        "## Treat waste\n- took [S-4]\n- added 100 mL bleach\n",
    )
    assert "hypochlorite-with-acid" not in first
    assert "hypochlorite-with-acid" in second


def test_a_waste_container_is_one_mixture() -> None:
    """Two wastes that must not meet are told where they meet: in the container, by its label."""
    runs = read(
        "## Leach\n- added 200 mL hydrochloric acid 32 %\n"
        "- discarded 180 mL green liquid into [W-1]\n",
        "## Strip\n- added 100 mL bleach\n- discarded 90 mL yellow liquid into [W-1]\n",
    )
    first, second = cautions_of_runs(runs).values()
    assert "hypochlorite-with-acid" not in {caution.rule for caution in first}
    (met,) = [caution for caution in second if caution.rule == "hypochlorite-with-acid"]
    place = "In [W-1], with what went in on 1 March 2026 (2026-03-01-case, line 5): "
    assert met.text.startswith(place)
    assert met.other is not None and met.other.line == 5
    assert met.entry.action == "discarded"


def test_a_run_that_continues_starts_with_what_was_there() -> None:
    """`Continues` carries the vessel over, and with it what is in it."""
    _, second = rules_of(
        "## Dissolve\n- added 80 mL nitric acid 68 %\n",
        "# Second day\n\nContinues: 2026-03-01-case\n\n"
        "## Drop\n- added 60 mL hydrochloric acid 32 %\n",
    )
    assert "aqua-regia" in second


def test_the_entry_that_completed_the_meeting_is_named() -> None:
    """The caution points to the line after which both were together."""
    (run,) = read("## Treat waste\n- added 500 mL bleach\n- added 100 mL vinegar\n- waited 1 h\n")
    (met,) = [c for c in raised_cautions(run) if c.rule == "hypochlorite-with-acid"]
    assert "vinegar" in met.entry.span.text
    assert met.stage.index == 0 and met.stage.run == run.name


def test_what_is_not_in_the_source_is_said() -> None:
    """A part that no source was read for says so beside the source."""
    (run,) = read("## Dissolve\n- added 40 mL nitric acid 68 %\n")
    (met,) = [c for c in raised_cautions(run) if c.rule == "nitrogen-dioxide"]
    assert "NIOSH" in met.source and "from memory" in met.source


def test_a_caution_is_not_repeated_while_nothing_new_comes() -> None:
    """A stage that only waits does not raise again what the stage before raised."""
    (run,) = read(
        "## Treat waste\n- added 500 mL bleach\n- added 100 mL vinegar\n\n## Settle\n- waited 1 h\n"
    )
    assert [c.stage.index for c in raised_cautions(run) if c.rule == "hypochlorite-with-acid"] == [
        0
    ]


def test_a_stage_without_entries_still_warns() -> None:
    """A heading is enough: the melt is as hot when nothing was noted under it."""
    (found,) = rules_of("## Cement\n- got 20 g cement silver, damp\n\n## Melt\n\nLong and hot.\n")
    assert {"molten-metal-and-water", "wet-charge-melted"} <= found


def test_a_plan_is_warned_about_as_well() -> None:
    """The plain form and `Status: planned` raise the same rules, before anything is poured."""
    (found,) = rules_of(
        "# A plan\n\nStatus: planned\n\n"
        "## Dissolve\n- take 20 g watch cases\n- add 60 mL hydrochloric acid 32 %\n"
        "- add 20 mL nitric acid 68 %\n"
    )
    assert "aqua-regia" in found


def test_a_plan_leaves_the_jars_as_they_are() -> None:
    """What a plan means to pour into a waste container is not in it yet."""
    _, later = rules_of(
        "# A plan\n\nStatus: planned\n\n## Strip\n- add 100 mL bleach\n"
        "- discard 90 mL yellow liquid into [W-1]\n",
        "## Leach\n- added 200 mL hydrochloric acid 32 %\n"
        "- discarded 180 mL green liquid into [W-1]\n",
    )
    assert "hypochlorite-with-acid" not in later


PIECES = st.sampled_from(
    [
        *(
            "- ",
            "\n",
            "## ",
            "1. ",
            "added ",
            "took ",
            "into [W-1]",
            "[A]",
            "bleach",
            "acid ",
            "% ",
        ),
        *("HNO₃", "gold ", ", ", "with ", "(", ")", "private: ", "mixed ", "heated at 60 C", "\t"),
        *("é", "±", "\0"),
    ]
)


@given(st.lists(PIECES, max_size=60).map("".join))
@settings(max_examples=60, deadline=None)
def test_nothing_that_can_be_written_raises(text: str) -> None:
    """Whatever a log holds, cautions come or do not come; each names an entry of its run."""
    (run,) = read(text)
    for caution in raised_cautions(run):
        assert caution.entry in run.entries or caution.entry.action
        assert caution.stage.index < len(run.stages)


def test_private_notes_and_prose_raise_nothing() -> None:
    """A paragraph counts for nothing, and no caution gives a private note away."""
    (found,) = rules_of(
        "## Settle\n\nNever put bleach into vinegar.\n\n- private: bleach and vinegar, the drain\n"
        "- waited 1 h\n- bleach and vinegar: still to buy\n"
    )
    assert found == set()


@pytest.mark.parametrize(
    "item",
    [
        "- added 500 gramm vinegar",  # a unit that is not known: the entry counts nowhere
        "- mixed it with 500 mL vinegar",  # no action of the program
        "- 09:20 put in some vinegar",
        "- stirred in 500 mL vinegar",  # a step, which takes a supply only after "with"
        "- topped up\n  with vinegar",
        "- poured in 20 mL HNO₃",  # figures of a formula below the line
        "Added 500 mL vinegar.",  # a paragraph that begins as an entry would
    ],
)
def test_a_slip_does_not_hide_a_danger(item: str) -> None:
    """What may have been meant as an entry is looked at, though no figure rests on it."""
    (found,) = rules_of(f"## Treat waste\n\n- added 500 mL bleach\n\n{item}\n")
    assert "hypochlorite-with-acid" in found


def test_an_item_that_was_not_read_is_named_by_its_line() -> None:
    """The caution says which line it looked at, because no entry stands there."""
    (run,) = read("## Treat waste\n\n- added 500 mL bleach\n- mixed it with vinegar\n")
    (met,) = [c for c in raised_cautions(run) if c.rule == "hypochlorite-with-acid"]
    assert met.text.startswith("With line 6, not read as an entry: ")
    assert "bleach" in met.entry.span.text


def test_words_that_the_reagent_table_does_not_know() -> None:
    """Spent acid is no reagent of the table, and an acid all the same."""
    (found,) = rules_of("## Treat waste\n- added 2 L spent acid\n- added 100 mL bleach\n")
    assert "hypochlorite-with-acid" in found


def test_a_paragraph_raises_a_rule_once_and_names_its_line() -> None:
    """A pair told in two paragraphs of a stage is one caution, and the line is said."""
    (run,) = read(
        "## Clean\n\nThen I poured bleach into the vinegar.\n\nMore bleach, more vinegar.\n\n"
        "- waited 1 h\n"
    )
    (met,) = [c for c in raised_cautions(run) if c.rule == "hypochlorite-with-acid"]
    assert met.text.startswith("In the text of line 5: ")


def test_a_paragraph_does_not_repeat_what_entries_raised() -> None:
    """Prose about what the entries already tell adds nothing."""
    (run,) = read(
        "## Clean\n- added 500 mL bleach\n- added 100 mL vinegar\n\n"
        "Bleach into the vinegar, and it fizzed.\n"
    )
    assert [c.rule for c in raised_cautions(run)].count("hypochlorite-with-acid") == 1


def test_a_paragraph_above_the_first_stage_counts() -> None:
    """What the opening tells is looked at with the first stage."""
    (found,) = rules_of("I had put bleach in the muriatic acid.\n\n## Clean\n- waited 1 h\n")
    assert "hypochlorite-with-acid" in found


@pytest.mark.parametrize(
    "note",
    [
        "- private: poured bleach into the vinegar",
        "- private: a note\n\n  poured bleach into the vinegar",
        "- private: a note\n  poured bleach into the vinegar",
        "- Private: poured bleach into the vinegar",
        "private: poured bleach into the vinegar",
    ],
)
def test_a_private_paragraph_is_not_looked_at(note: str) -> None:
    """Nothing of a private note shows, not even that it names a pair."""
    (found,) = rules_of(f"## Clean\n\n{note}\n\n- waited 1 h\n")
    assert found == set()


def test_a_thing_that_may_be_one_or_the_other_never_meets_itself() -> None:
    """Toilet cleaner alone is acid or bleach, not both; with either it is the other."""
    alone, with_acid, with_bleach = rules_of(
        "## Clean\n- added 1 L toilet cleaner\n",
        "## Clean\n- added 1 L toilet cleaner\n- added 100 mL vinegar\n",
        "## Clean\n- added 1 L toilet cleaner\n- added 100 mL bleach\n",
    )
    assert "hypochlorite-with-acid" not in alone
    assert "hypochlorite-with-acid" in with_acid & with_bleach


def test_rules_that_a_paragraph_raises_exist() -> None:
    """A misspelt rule name would be a paragraph that never warns."""
    assert rule_book().poured < rule_book().told <= {rule.name for rule in rule_book().rules}


def test_a_paragraph_meets_what_the_stage_holds() -> None:
    """Vinegar told of after bleach was added is one meeting; told of above the stage it is none."""
    told, above = rules_of(
        "## Clean\n- added 500 mL bleach\n\nThen some vinegar went in as well.\n",
        "The vinegar stayed in the kitchen.\n\n## Clean\n- added 500 mL bleach\n",
    )
    assert "hypochlorite-with-acid" in told
    assert "hypochlorite-with-acid" not in above
