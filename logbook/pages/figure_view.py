"""A figure as a page shows it: its text, its working, and links to the lines it rests on.

The working of a large sum can be deep, and figures share terms. A page unfolds a few levels
and then names the lines, so that no page grows with the whole book.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import islice

from logbook.calculation.figure import Figure
from logbook.pages.addresses import Here, LineLink
from logbook.pages.rounding import NO_BREAK, between, plural, rounded

LEVELS = 2
TERMS_SHOWN = 40
LINES_SHOWN = 24
LINES_OF_A_TERM = 4
NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class FigureView:
    """A figure in words. `value`, `doubt` and `unit` are empty where it is not known.

    `why` finishes "not known, because"; `limits` is what is known of it all the same.
    `text` is the whole of it without the reason. `more` says what the working leaves out.
    `number` is the value in its base unit, for a script to sort by; no page shows it.
    """

    name: str
    text: str
    known: bool
    value: str = ""
    doubt: str = ""
    unit: str = ""
    why: str = ""
    limits: str = ""
    formula: str = ""
    terms: tuple[FigureView, ...] = ()
    lines: tuple[LineLink, ...] = ()
    notes: tuple[str, ...] = ()
    more: str = ""
    number: str = ""

    @property
    def has_working(self) -> bool:
        """Whether there is anything to unfold."""
        return bool(self.formula or self.terms or self.lines or self.notes)


def figure_view(
    figure: Figure,
    here: Here,
    *,
    levels: int = LEVELS,
    name: str = "",
    most_lines: int = LINES_SHOWN,
) -> FigureView:
    """A figure with as many levels of its working as asked for."""
    terms, lines, more = _working(figure, here, levels, most_lines)
    bare = bare_figure(figure, name=name)
    return replace(
        bare, formula=figure.formula, terms=terms, lines=lines, notes=figure.notes, more=more
    )


def bare_figure(figure: Figure, *, name: str = "") -> FigureView:
    """A figure without its working, for tables that lead to a page which shows it."""
    text, value, doubt, unit, number = NOT_KNOWN, "", "", "", ""
    if figure.value is not None:
        shown = rounded(figure.value.value, figure.value.u, figure.unit)
        text, value, doubt, unit = shown.text, shown.value, shown.doubt, shown.unit
        number = f"{figure.value.value:.9g}"
    return FigureView(
        name=name or figure.name,
        text=text,
        known=figure.known,
        value=value,
        doubt=doubt,
        unit=unit,
        why="" if figure.known else figure.why or "nothing in the logs gives it",
        limits="" if figure.known else between(figure.low, figure.high, figure.unit),
        number=number,
    )


def _working(
    figure: Figure, here: Here, levels: int, most_lines: int
) -> tuple[tuple[FigureView, ...], tuple[LineLink, ...], str]:
    """The terms and lines to unfold, and what is left out of them."""
    if levels > 0 and figure.terms:
        terms = tuple(
            figure_view(term, here, levels=levels - 1, most_lines=LINES_OF_A_TERM)
            for term in figure.terms[:TERMS_SHOWN]
        )
        left_out = len(figure.terms) - len(terms)
        lines = tuple(here.line(span) for span in figure.rests_on[:most_lines])
        return terms, lines, f"and {plural(left_out, 'term')} more" if left_out else ""
    spans = list(islice(figure.leaves(), most_lines + 1))
    lines = tuple(here.line(span) for span in spans[:most_lines])
    return (), lines, "and more lines" if len(spans) > most_lines else ""


def known_text(figure: Figure) -> str:
    """A figure in the middle of a sentence: its text, held together, or that it is not known.

    >>> known_text(Figure("product", "g", why="it was not weighed"))
    'not known'
    """
    if figure.value is None:
        return NOT_KNOWN
    text = rounded(figure.value.value, figure.value.u, figure.unit).text
    return text.replace(" ", NO_BREAK)
