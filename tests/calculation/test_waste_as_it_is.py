"""What must not be treated: no step that treats it, whichever way it came into the container.

That acid sets free hydrogen cyanide, hydrogen sulfide, chlorine, chlorine dioxide, hydrazoic
and hydrofluoric acid, and that ammonia makes explosives with silver and gold, stands in the
sources that cautions.toml names for its rules (NIOSH, IARC and the lists of incompatibles).
"""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import WasteContainer
from logbook.reading.read_book import read_book
from logbook.reference import load
from tests.calculation.test_acids import HEAD, book

TREATING = {
    *("precious-first", "copper-on-iron", "dilute-first", "neutralise-slowly", "hydroxides"),
    *("settle", "test", "keep-the-sludge", "base-is-no-acid-job", "dry-salts"),
}
KEPT = ["ask-first", "one-kind", "never-meet", "vent", "as-it-is"]
KEPT += ["hand-over", "nothing-down-the-drain"]
POUR = "- discarded 0.5 L liquor into [W-1]\n"


def container(*logs: str) -> WasteContainer:
    """The container W-1 as it stands after some logs."""
    (found,) = [one for one in book(*logs).waste if one.label == "W-1" and one.stands]
    return found


def names(one: WasteContainer) -> list[str]:
    """The steps that concern a container."""
    return [step.name for step in one.steps]


def stage(lines: str, title: str = "Treat waste", day: str = "14 March") -> str:
    """A log with one stage."""
    return HEAD.replace("14 March", day) + f"## {title}\n\n{lines}"


@pytest.mark.parametrize(
    ("added", "told"),
    [
        ("- added 2 g potassium cyanide\n", "cyanide"),
        ("- added 2 g potassium ferrocyanide\n", "ferrocyanide"),
        ("- added 5 g sodium sulfide\n", "sulfide"),
        ("- added 50 mL bleach\n", "hypochlorite"),
        ("- added 5 g sodium chlorate\n", "chlorate"),
        ("- added 5 g sodium azide\n", "azide"),
        ("- added 5 g ammonium bifluoride\n", "fluoride"),
        ("- added 20 mL sulfuric acid 98 %\n- added 20 mL hydrogen peroxide 30 %\n", "peroxide"),
        ("- took 5 g silver wire, silver 92 %\n- added 30 mL ammonia 25 %\n", "silver with"),
        ("- took 5 g gold foil, gold 92 %\n- added 3 g ammonium chloride\n", "gold with"),
        ("- added 5 mL drain cleaner\n", "hypochlorite"),
        ("- poured 0.1 L of the old cyanide bath to it\n", "cyanide"),
    ],
)
def test_nothing_that_treats_is_shown(added: str, told: str) -> None:
    """Beside acid, which would else have all the steps: those that are no treatment alone."""
    one = container(stage("- added 50 g nitric acid 68 %\n" + added + POUR))
    assert names(one) == KEPT
    assert not one.base
    assert any(note.startswith(told) for note in one.notes)


@pytest.mark.parametrize(
    "words",
    ["old bleach", "spent cyanide solution", "liver of sulfur", "airbag powder in water"],
)
def test_the_words_of_the_container_are_enough(words: str) -> None:
    """Nothing was added by name, and its own line says what it is."""
    one = container(stage(f"- added 50 g nitric acid 68 %\n- discarded 0.5 L {words} into [W-1]\n"))
    assert names(one) == KEPT


def test_a_second_pour_counts_for_the_first() -> None:
    """Acid of March, bleach of April in the same container: nothing treats it any more."""
    first = stage("- added 50 g nitric acid 68 %\n" + POUR)
    assert "neutralise-slowly" in names(container(first))
    second = stage("- added 20 mL bleach\n" + POUR, day="2 April")
    assert names(container(first, second)) == KEPT


def test_it_comes_along_with_the_liquid() -> None:
    """Cyanide of one run, poured out by the next."""
    first = stage("- added 2 g sodium cyanide\n- kept 0.4 L liquor [F-1]\n")
    second = stage("- took [F-1]\n- added 50 g nitric acid 68 %\n" + POUR, day="2 April")
    assert names(container(first, second)) == KEPT


def test_prose_that_pours_counts() -> None:
    """A paragraph says that bleach went in; no entry does."""
    text = "The rest of the bleach went into [W-1].\n"
    log = stage("- added 50 g nitric acid 68 %\n" + POUR + "\n" + text)
    assert names(container(log)) == KEPT


@pytest.mark.parametrize("line", ["- bought 1 L bleach [B-3]", "- had 1 L bleach [B-3]"])
def test_a_bottle_is_known_by_its_label(line: str) -> None:
    """The log has the label alone; the page of supplies tells what it is."""
    log = stage("- added 50 g nitric acid 68 %\n- added 20 mL [B-3]\n" + POUR)
    texts = {"runs/supplies.md": f"# Supplies\n\n{line}\n", "runs/run-0.md": log}
    (one,) = work_out(read_book(texts)).waste
    assert names(one) == KEPT


def test_dried_salts_of_it_count() -> None:
    """What was cyanide liquor is cyanide when it is dry, without the step for a liquid."""
    log = stage("- added 2 g sodium cyanide\n- got 0.4 L liquor\n", "Leach")
    log += (
        "\n## Evaporate\n\n- heated at 95 C for 3 h\n- discarded 8.0 g grey salts into [W-1], dry\n"
    )
    assert names(container(log)) == [one for one in KEPT if one != "vent"]


@pytest.mark.parametrize(
    "added",
    [
        "- added 50 g sodium chloride\n",
        "- added 30 mL hydrogen peroxide 3 %\n",
        "- took 5 g silver wire, silver 92 %\n",
        "- took 5 g silver wire, silver 92 %\n- tested the liquor with ammonia: blue\n",
        "- added 5 g ammonium chloride\n",
    ],
)
def test_harmless_neighbours_keep_the_steps(added: str) -> None:
    """Salt, peroxide without sulfuric acid, silver without ammonia, a drop that was tested."""
    lines = added if "silver" in added else "- took 5 g copper wire, copper 99 %\n" + added
    log = stage("- added 50 g nitric acid 68 %\n" + lines + POUR).replace("silver\n", "copper\n", 1)
    one = container(log)
    assert "neutralise-slowly" in names(one) and "as-it-is" not in names(one)


@pytest.mark.parametrize(
    "lines",
    [
        "- added 50 g nitric acid 68 %\n- added 20 g mystery powder\n",
        "- took 0.5 L old liquor of a friend\n- added 50 g nitric acid 68 %\n",
        "- added 20 mL [B-9]\n- added 50 g nitric acid 68 %\n",
    ],
)
def test_no_acid_comes_to_what_is_not_known(lines: str) -> None:
    """An unknown supply, a liquid from outside: the step to pH 1.5 is not offered."""
    one = container(stage(lines + POUR))
    assert "copper-on-iron" not in names(one)
    assert any("no acid may come to it" in note for note in one.notes)
    assert "copper-on-iron" in names(container(stage("- added 50 g nitric acid 68 %\n" + POUR)))


def test_steps_that_stay_are_no_treatment() -> None:
    """The data agree with the list of this test."""
    rows = load("waste.toml")["step"]
    assert [row["id"] for row in rows if row.get("kept")] == KEPT
    assert {row["id"] for row in rows if not row.get("kept")} == TREATING


def test_strong_acid_is_thinned_before_it_is_neutralised() -> None:
    """Acid into water first, then base; brown gas is told of where copper meets the acid."""
    one = container(
        stage("- took 5 g silver wire, silver 92 %\n- added 50 g nitric acid 68 %\n" + POUR)
    )
    order = names(one)
    assert order.index("dilute-first") == order.index("neutralise-slowly") - 1
    texts = {step.name: step.text for step in one.steps}
    assert "never water into acid" in texts["dilute-first"]
    assert "brown gas" in texts["precious-first"] and "Nitric acid" in texts["precious-first"]


def test_every_caution_on_the_way_is_shown() -> None:
    """Of the stage before too, and not only of the line that discards; dangers first, each once."""
    log = stage(
        "- added 50 g nitric acid 68 %\n- added 50 mL hydrochloric acid 36 %\n"
        "- heated at 80 C\n- got 0.4 L liquor\n",
        "Leach",
    )
    log += "\n## Settle\n\n- waited for 2 d\n- discarded 0.4 L liquor into [W-1]\n"
    figures = book(log)
    (one,) = figures.waste
    raised = {caution.rule for caution in figures.runs["run-0"].cautions}
    shown = [caution.rule for caution in one.cautions]
    assert set(shown) == raised and len(shown) == len(raised)
    assert {"aqua-regia", "hot-acid", "waste"} <= raised
    signals = [caution.signal for caution in one.cautions]
    assert signals == sorted(signals)  # danger, warning


def test_meetings_in_the_vessel_are_shown() -> None:
    """Bleach that met acid in the container itself, by a paragraph or an entry of another day."""
    first = stage("- added 50 g nitric acid 68 %\n" + POUR)
    second = stage("- waited for 1 d\n\nThe rest of the bleach went into [W-1].\n", day="2 April")
    poured = stage("- added 20 mL bleach\n" + POUR, day="2 April")
    for later in (second, poured):
        rules = {caution.rule for caution in container(first, later).cautions}
        assert "hypochlorite-with-acid" in rules
