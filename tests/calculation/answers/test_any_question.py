"""Whatever is asked, there is an answer or a reason, in words that can be printed."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.pages.answer_view import answer_view
from logbook.reading.question_forms import FORMS
from logbook.writing.answer_text import answer_lines
from tests.calculation.answers.asked import ask

OTHERS = [
    "0 g", "0 mm", "0 %", "100 %", "1e999 g", "-5 C", "[AG-7]", "aqua regia", "bleach", "ammonia",
    "20 vol", "12 M", "22 °Bé", "some", "2 kg", "sterling", "brass", "flour", "ice", "?", "(", ")",
]  # fmt: skip
WORDS = st.sampled_from([word for form in FORMS for word in form.example.split()] + OTHERS)


@st.composite
def questions(draw: st.DrawFn) -> str:
    """An example with some of its words changed, left out or added."""
    words = draw(st.sampled_from(FORMS)).example.split()
    for _ in range(draw(st.integers(0, 4))):
        place = draw(st.integers(0, len(words)))
        words[place : place + draw(st.integers(0, 1))] = draw(st.lists(WORDS, max_size=1))
    return " ".join(words)


@settings(max_examples=300, deadline=None)
@given(questions())
def test_every_question_has_an_answer_or_a_reason(text: str) -> None:
    """Nothing raises; what has no answer says what is missing, or what is true instead."""
    answer = ask(text)
    assert answer.answered or answer.missing or answer.wrong
    assert answer.answered or not answer.figures
    view = answer_view(answer)
    assert max(map(len, answer_lines(view, 60))) <= 60
    assert "None" not in view.sentence
