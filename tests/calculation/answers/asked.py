"""Questions and their answers in tests: what is asked in words, and the figures by name."""

from __future__ import annotations

from logbook.calculation.answers.answering import answer_to
from logbook.calculation.answers.known import Known
from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results.answers import Answer
from logbook.model.book import Customs
from logbook.reading.questions import question_in
from logbook.reading.read_book import read_book

NO_BOOK = Known()


def ask(text: str, known: Known = NO_BOOK) -> Answer:
    """The answer to a question."""
    return answer_to(question_in(text, Customs())[0], known)


def limits(figure: Figure) -> tuple[float, float]:
    """The limits of a figure; both the value where it has one."""
    if figure.value is not None:
        return figure.value.value, figure.value.value
    assert figure.high is not None
    return figure.low or 0.0, figure.high


def between(text: str, place: int = 0) -> tuple[float, float]:
    """The limits of one figure of the answer to a question."""
    answer = ask(text)
    assert answer.answered, answer.missing
    return limits(answer.figures[place])


def words(answer: Answer) -> str:
    """The sentence of an answer, with dots in place of its figures."""
    return "".join(part if isinstance(part, str) else "..." for part in answer.sentence)


def known(logs: dict[str, str], run: str = "") -> Known:
    """A book of some logs, by name in `runs`, and the run in which something is asked."""
    return Known(work_out(read_book({f"runs/{name}": text for name, text in logs.items()})), run)
