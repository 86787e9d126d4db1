"""Questions in plain words: many ways to put one question give one record, and none raises."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.book import Customs
from logbook.model.entry import Entry
from logbook.model.question import Kind, Material, Question, Refusal
from logbook.reading.question_forms import FORMS
from logbook.reading.questions import question_in
from logbook.reading.read_book import read_book


def read(text: str, customs: Customs | None = None) -> Question | Refusal:
    """A question that stands alone."""
    return question_in(text, customs or Customs())[0]


def understood(text: str) -> Question:
    """A question that is understood."""
    found = read(text)
    assert isinstance(found, Question), (text, found)
    return found


def refused(text: str) -> Refusal:
    """A question that is not answered as it stands."""
    found = read(text)
    assert isinstance(found, Refusal), (text, found)
    return found


def supplies(question: Question) -> list[str]:
    """The supplies of a question with their strengths, in short."""
    return [
        " ".join(filter(None, (one.reagent or one.what, one.strength and one.strength.span.text)))
        for one in question.asked
    ]


def material(one: Material) -> str:
    """A material in short: base amount, what, strength, and what it holds."""
    amount = one.portion.amount
    weight = f"{amount.base_value:g} {amount.base_unit}" if amount is not None else ""
    labels = " ".join(f"[{label.name}]" for label in one.portion.labels)
    strength = one.portion.strength.span.text if one.portion.strength is not None else ""
    what = one.portion.reagent or one.portion.what
    holds = [f"{said.metal} {said.amount.base_value:.4g}" for said in one.holds]
    words = " ".join(word for word in (weight, what, labels, strength) if word)
    return ", ".join([words, *holds])


DISSOLVE = (
    "nitric acid 68 % to dissolve 100 g silver",
    "how much nitric acid 68 % to dissolve 100 g silver?",
    "How much nitric acid 68 % do I need to dissolve 100 g of silver?",
    "how many mL of nitric acid 68 % are needed to dissolve 100 g silver",
    "acid to dissolve 100 g silver in nitric acid 68 %",
    "what would it take to dissolve 100 g silver with nitric acid 68 %?",
    "to dissolve 100 g silver in nitric acid 68 %",
    "how much 68 % nitric acid for dissolving 100 g silver",
    "nitric acid 68 % for 100 g silver",
    "how much HNO3 68 % will dissolve 100 g silver?",
    "please: nitric acid 68 % to dissolve 0.1 kg silver",
)


@pytest.mark.parametrize("text", DISSOLVE)
def test_one_question_in_many_words(text: str) -> None:
    """Small words, the order of the parts and the question mark make no difference."""
    question = understood(text)
    assert question.kind is Kind.DISSOLVE
    assert supplies(question) == ["nitric acid 68 %"]
    assert [material(one).replace(" of", "") for one in question.of] == ["100 g silver"]
    assert question.unread == ()


WORK = (
    (
        "how much hydrochloric acid 32 % and nitric acid 68 % to dissolve 10 g gold?",
        Kind.DISSOLVE,
        ["hydrochloric acid 32 %", "nitric acid 68 %"],
        ["10 g gold"],
    ),
    ("nitric acid to dissolve 250 g sterling", Kind.DISSOLVE, ["nitric acid"], ["250 g sterling"]),
    (
        "nitric acid 53 % to dissolve 100 g relay contacts, silver 71 %",
        Kind.DISSOLVE,
        ["nitric acid 53 %"],
        ["100 g relay contacts, silver 0.71"],
    ),
    (
        "what will it take to dissolve 30 g of 14 kt gold in aqua regia",
        Kind.DISSOLVE,
        ["aqua regia"],
        ["30 g gold, gold 0.5833"],
    ),
    ("nitric acid 68 % to dissolve [RC-8]", Kind.DISSOLVE, ["nitric acid 68 %"], ["[RC-8]"]),
    ("sodium metabisulfite to drop 12 g gold", Kind.DROP, ["sodium metabisulfite"], ["12 g gold"]),
    (
        "how many grams of SMB do I need to drop 12 g of gold?",
        Kind.DROP,
        ["sodium metabisulfite"],
        ["12 g gold"],
    ),
    ("salt to drop 80 g silver", Kind.DROP, ["sodium chloride"], ["80 g silver"]),
    (
        "how much copperas is needed for precipitating 5 g gold",
        Kind.DROP,
        ["ferrous sulfate"],
        ["5 g gold"],
    ),
    ("copper to cement 100 g silver", Kind.CEMENT, ["copper"], ["100 g silver"]),
    (
        "how much copper bar will cement out 100 g silver from the solution?",
        Kind.CEMENT,
        ["copper bar"],
        ["100 g silver"],
    ),
    ("zinc to cement 5 g gold", Kind.CEMENT, ["zinc"], ["5 g gold"]),
    (
        "sodium carbonate to neutralise 100 mL nitric acid 70 %",
        Kind.NEUTRALISE,
        ["sodium carbonate"],
        ["0.1 L nitric acid 70 %"],
    ),
    (
        "how much baking soda to neutralize 2 L of hydrochloric acid 10 %?",
        Kind.NEUTRALISE,
        ["sodium bicarbonate"],
        ["2 L hydrochloric acid 10 %"],
    ),
    (
        "sulfamic acid to get rid of 1 mL nitric acid 70 %",
        Kind.DESTROY,
        ["sulfamic acid"],
        ["0.001 L nitric acid 70 %"],
    ),
    (
        "urea to destroy 100 mL nitric acid 68 %",
        Kind.DESTROY,
        ["urea"],
        ["0.1 L nitric acid 68 %"],
    ),
    (
        "what gas does 50 g sodium metabisulfite give off?",
        Kind.GAS,
        [],
        ["50 g sodium metabisulfite"],
    ),
    (
        "how much gas does 100 g of copper give in nitric acid 68 %",
        Kind.GAS,
        ["nitric acid 68 %"],
        ["100 g copper"],
    ),
    ("worth of 12.3 g of silver 99 %", Kind.WORTH, [], ["12.3 g silver, silver 0.99"]),
    ("what is [AG-7] worth?", Kind.WORTH, [], ["[AG-7]"]),
    (
        "silver to inquart 10 g of 14 kt gold (holding 1 g silver)",
        Kind.INQUART,
        ["silver"],
        ["10 g gold, gold 0.5833, silver 1"],
    ),
    (
        "mix 200 mL nitric acid 68 % with 300 mL nitric acid 30 %",
        Kind.MIX,
        [],
        ["0.2 L nitric acid 68 %", "0.3 L nitric acid 30 %"],
    ),
    ("dilute 500 mL nitric acid 68 % to 35 %", Kind.DILUTE, [], ["0.5 L nitric acid 68 %"]),
    (
        "how much water to make 1 L hydrochloric acid 10 % from 32 %",
        Kind.DILUTE,
        ["water"],
        ["1 L hydrochloric acid 10 %"],
    ),
    ("is there enough nitric acid for this?", Kind.ENOUGH, ["nitric acid"], []),
)


@pytest.mark.parametrize(("text", "kind", "asked", "of"), WORK, ids=lambda value: str(value)[:40])
def test_what_is_asked_and_of_what(text: str, kind: Kind, asked: list[str], of: list[str]) -> None:
    """Supplies, amounts, strengths, labels and contents are told apart."""
    question = understood(text)
    assert question.kind is kind
    assert supplies(question) == asked
    assert [material(one) for one in question.of] == of


AMOUNTS = (
    (
        "fineness of gold and copper from 12.34 g in air and 11.52 g in water at 22 C",
        Kind.WEIGHINGS,
        ("gold", "copper"),
        {"in air": 12.34, "in water": 11.52, "temperature": 22.0},
    ),
    (
        "what is the fineness: weighed in air 12.34 g, weighed in water 11.52 g, gold",
        Kind.WEIGHINGS,
        ("gold",),
        {"in air": 12.34, "in water": 11.52},
    ),
    (
        "gold in a density of 15.5 g/cm3 with silver",
        Kind.DENSITY,
        ("gold", "silver"),
        {"density": 15500.0},
    ),
    (
        "gold in 12 cm2 plated 2.5 micron",
        Kind.PLATING,
        ("gold",),
        {"thickness": 2.5e-6, "area": 0.0012},
    ),
    (
        "how much gold is in 100 g of 1/20 12 kt gold filled?",
        Kind.FILLED,
        ("gold",),
        {"one part in": 20.0, "fineness": 0.5, "weight": 100.0},
    ),
    (
        "how much silver can a cell deposit at 5 A in 3 h?",
        Kind.CELL,
        ("silver",),
        {"current": 5.0, "time": 3.0},
    ),
    ("dilute 500 mL nitric acid 68 % to 35 %", Kind.DILUTE, (), {"to": 0.35}),
    ("water to make 1 L hydrochloric acid 10 % from 32 %", Kind.DILUTE, (), {"from": 0.32}),
    ("gas from 100 g copper in nitric acid 68 %, in a room of 30 m3", Kind.GAS, (), {"room": 3e4}),
    ("gas from 100 g zinc in hydrochloric acid 32 % in my 30 m3 room", Kind.GAS, (), {"room": 3e4}),
    ("silver to inquart 10 g of 14 kt gold 2.5:1", Kind.INQUART, ("silver",), {"ratio": 2.5}),
    ("how many grams are in 2 troy ounces?", Kind.OUNCES, (), {"weight": 62.2069536}),
    ("how much silver is in [RF-1]?", Kind.CONTENT, ("silver",), {}),
    ("what is left in [R-3]?", Kind.CONTENT, (), {}),
)


@pytest.mark.parametrize(("text", "kind", "metals", "amounts"), AMOUNTS, ids=lambda v: str(v)[:40])
def test_amounts_by_the_part_they_play(
    text: str, kind: Kind, metals: tuple[str, ...], amounts: dict[str, float]
) -> None:
    """What stands in air, in water, in a room or on the way is known for what it is."""
    question = understood(text)
    assert question.kind is kind
    assert question.metals == metals
    found = {part: amount.base_value for part, amount in question.amounts}
    assert found == pytest.approx(amounts)


def test_a_plan_names_its_run() -> None:
    """The name of the run is taken whole, figures and all."""
    question = understood("plan for 1.2 kg relay contacts like 2025-03-22-relay-contacts-lot-3?")
    assert question.run == "2025-03-22-relay-contacts-lot-3"
    assert [material(one) for one in question.of] == ["1200 g relay contacts"]


LACKING = (
    ("how do I dissolve gold", "which acid"),
    ("nitric acid 68 % to dissolve silver", "how much of which metal"),
    ("nitric acid to dissolve relay contacts", "how much of which metal"),
    ("how much do I need to drop 12 g gold?", "what is to drop it"),
    ("copper to cement silver", "how much of which metal"),
    ("dilute nitric acid 68 % to 35 %", "how much of which solution"),
    ("dilute 500 mL nitric acid to 35 %", "how strong it is before"),
    ("dilute 500 mL nitric acid 68 %", "the strength that is wanted"),
    ("fineness of gold from 12.34 g in air", "the weight in water"),
    ("gold in 12 cm2 plated", "how thick"),
    ("plan for 2 kg contacts", "like which run"),
    ("plan like 2025-03-22-relay-contacts-lot-3", "for how much of what"),
    ("silver from a cell at 5 A", "for how long"),
    ("is there enough for this", "enough of what"),
    ("gas from nitric acid", "how much of what gives it off"),
    ("what is it worth", "of how much of what"),
    ("sodium metabisulfite to drop 12 gramm gold", 'did you mean "gram"?'),
    ("what is the weather", "what is asked for"),
    ("", "what is asked for"),
)


@pytest.mark.parametrize(("text", "lack"), LACKING)
def test_a_question_that_lacks_something_says_what(text: str, lack: str) -> None:
    """What is missing is named in words, and a nearest form shown where there is one."""
    refusal = refused(text)
    assert any(lack in one for one in refusal.missing), refusal.missing


def test_the_nearest_form_is_shown() -> None:
    """A question of no known kind shows the example that is most like it, or none."""
    assert refused("tell me about nitric acid 68 %").form.startswith("nitric acid 68 %")
    assert refused("what is the weather").form == ""


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.example[:40])
def test_every_example_is_read_as_its_own_kind(form) -> None:  # type: ignore[no-untyped-def]
    """What help and guide show as a question is one, all of it read, and without a doubt."""
    question, reading = question_in(form.example, Customs())
    assert isinstance(question, Question)
    assert question.kind is form.kind
    assert question.unread == ()
    assert reading.findings == []


def test_what_became_nothing_is_told() -> None:
    """Words of a question that were not used are kept, so that the answer can say so."""
    question = understood("nitric acid 68 % to dissolve 100 g silver, old spoons")
    assert question.unread == ("old spoons",)


def test_numbers_are_read_as_the_bench_writes_them() -> None:
    """With decimal commas 12,5 g is twelve and a half."""
    found = read("salt to drop 12,5 g silver", Customs(decimal_comma=True))
    assert isinstance(found, Question)
    amount = found.of[0].portion.amount
    assert amount is not None
    assert amount.base_value == 12.5


def test_an_ounce_of_gold_is_asked_about() -> None:
    """The two readings of an ounce are reported, and the troy one used, as in a log."""
    question, reading = question_in("worth of 2 oz gold", Customs())
    assert isinstance(question, Question)
    assert question.of[0].portion.amount is not None
    # By hand: 2 x 31.1034768 g.
    assert question.of[0].portion.amount.base_value == pytest.approx(62.2069536)
    assert "two readings" in reading.findings[0].headline


def asked(line: str) -> Entry:
    """The entry of a log that asks."""
    log = f"# A case\n\nDate: 2026-03-14\n\n## Work\n\n- took 10 g silver wire\n{line}\n"
    book = read_book({"runs/2026-03-14-case.md": log})
    assert book.findings == ()
    return book.runs[0].entries[-1]


def test_an_entry_carries_its_question() -> None:
    """`ask` in a log is read as on the terminal, with its place in the log."""
    entry = asked("- ask how much salt to drop 80 g silver (as chloride)?")
    assert isinstance(entry.question, Question)
    assert entry.question.kind is Kind.DROP
    assert entry.question.span.text == "how much salt to drop 80 g silver (as chloride)?"
    assert entry.question.of[0].portion.amount is not None
    assert entry.question.of[0].portion.amount.span.text == "80 g"


def test_an_entry_that_asks_something_else_is_an_entry_all_the_same() -> None:
    """A question that is not understood costs nobody anything."""
    entry = asked("- asked the neighbour about the smell of 40 gramm of it")
    assert isinstance(entry.question, Refusal)
    assert entry.words == "the neighbour about the smell of 40 gramm of it"


WORDS = st.sampled_from(
    [word for form in FORMS for word in form.example.split()]
    + ["how much", "?", "(", ")", ",", "and", "-5 g", "80-60 C", "1/0", "[", "]", "± 3 %", "\n"]
)


@settings(max_examples=300, deadline=None)
@given(st.one_of(st.lists(WORDS, max_size=14).map(" ".join), st.text(max_size=120)))
def test_no_question_raises(text: str) -> None:
    """Any words at all are a question or a refusal."""
    found = read(text)
    assert isinstance(found, Question | Refusal)
    if isinstance(found, Refusal):
        assert found.missing
