"""Every reckoned figure of a book beside what the book gives for it."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.claims.doubt import DOUBTS, allowance
from logbook.calculation.claims.index import Known, known_of
from logbook.calculation.claims.kinds import found_for, other_unit
from logbook.calculation.claims.known import Claimed, Found, Reading, listed
from logbook.calculation.claims.own_words import OWN
from logbook.calculation.claims.slips import slip
from logbook.calculation.claims.spoken import compared, said
from logbook.calculation.claims.twice import contradictions
from logbook.calculation.claims.written import Written, written
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, ClaimCheck, RunFigures
from logbook.calculation.sums import difference
from logbook.model.amount import Amount, Dimension, Uncertain

NOT_NAMED = (
    "nothing in the book goes by these words: write recovery, fine silver, fineness of [X], worth, "
    "cost, net, hours, or an amount of money per hour"
)


def with_claims(figures: BookFigures) -> BookFigures:
    """The figures of a book with every reckoned figure of its runs worked out again."""
    with_any = {
        name: one
        for name, one in figures.runs.items()
        if not one.run.planned and any(entry.claim for entry in one.run.entries)
    }
    if not with_any:
        return figures
    known = known_of(figures)
    checked = {
        name: replace(one, claims=contradictions(_of_run(one, known)))
        for name, one in with_any.items()
    }
    return replace(figures, runs={**figures.runs, **checked})


def _of_run(run: RunFigures, known: Known) -> list[ClaimCheck]:
    return [
        _check(Claimed(entry, entry.claim, run, known))
        for entry in run.run.entries
        if entry.claim is not None
    ]


def _check(claimed: Claimed) -> ClaimCheck:
    """One claim.

    It agrees where it is no further from what the book gives than half of its last digit and
    twice the standard uncertainty that it does not share. Where the book has limits only, it
    disagrees outside them and is not known inside. Where a claim can be meant in several ways,
    the first that agrees counts.
    """
    claim, run = claimed.claim, claimed.run.run.name
    found = _labels_known(claimed) or found_for(claimed)
    what = _what(claimed, found)
    reckoned = _reckoned(claimed, found)
    if found is None or reckoned is None:
        unsaid = _figure(claim.amount, None, claim.amount.base_unit)
        why = _not_named(claimed) if reckoned is not None else "the figure is not written as one"
        shown = unsaid if reckoned is None else _figure(claim.amount, reckoned, unsaid.unit)
        return ClaimCheck(run, claimed.entry, what, shown, None, None, "unknown", why)
    verdicts = [(verdict(reckoned, one.figure), one) for one in found.readings]
    agrees, reading = _best(verdicts)
    figure = reading.figure
    shown = _figure(claim.amount, reckoned, figure.unit)
    off = None
    if figure.value is not None:
        off = difference("reckoned − by the book", figure.unit, shown, figure)
    done = slip(claimed, found, reading, reckoned) if agrees == "no" else ""
    why = _why(agrees, reckoned, reading)
    return ClaimCheck(
        run, claimed.entry, what, shown, figure, off, agrees, why, done, _premises(claimed, found)
    )


def _what(claimed: Claimed, found: Found | None) -> str:
    """What was reckoned, in the writer's words; an equation in full."""
    claim = claimed.claim
    if found is not None and found.kind == OWN and found.said is not None:
        return " ".join(claimed.entry.span.text.split()).removeprefix("reckoned ")
    return claim.what or claim.of or "what was reckoned"


def _not_named(claimed: Claimed) -> str:
    """Why nothing can be compared: the words, or the unit, are none that the book knows."""
    units = other_unit(claimed)
    if not units:
        return NOT_NAMED
    what = claimed.claim.what or claimed.claim.of
    return f'"{what}" can be checked as {units}: write the figure in such a unit'


def _labels_known(claimed: Claimed) -> Found | None:
    """A claim about something that nothing in the book goes by cannot be checked."""
    unknown = claimed.unknown_labels
    if not unknown:
        return None
    names = listed(f"[{name}]" for name in unknown)
    why = f"nothing in the book goes by {names}: correct the label"
    figure = Figure("what was reckoned", claimed.claim.amount.base_unit, why=why)
    return Found("unknown", (Reading(figure, "what the book gives"),))


def _reckoned(claimed: Claimed, found: Found | None) -> Written | None:
    """The claimed figure in the unit of what it is held against."""
    if found is not None and found.said is not None:
        return found.said
    amount = claimed.claim.amount
    comma = claimed.known.figures.book.customs.decimal_comma
    figure = written(amount, comma=comma)
    if figure is None or found is None:
        return figure
    unit = found.readings[0].figure.unit
    if amount.dimension is Dimension.COUNT and unit == "g/g":
        figure = figure.times(_share(figure.value, found.kind))
    if found.kind == "net" and figure.value > 0 and claimed.says(r"\bloss\b"):
        figure = figure.times(-1.0)
    if amount.dimension in (Dimension.MONEY, Dimension.PRICE):
        return _exchanged(claimed, amount, figure)
    return figure


def _share(value: float, kind: str) -> float:
    """What a bare number is a share of: recovery 0.95, recovery 95, fineness 990."""
    if value <= 1.0:
        return 1.0
    return 0.001 if kind == "fineness" and value > 100.0 else 0.01


def _exchanged(claimed: Claimed, amount: Amount, figure: Written) -> Written | None:
    """Money in the book's currency, by the writer's rate of the day; None without one."""
    known = claimed.known
    if amount.currency in ("", known.currency):
        return figure
    one = replace(amount, value=1.0, base_value=1.0, dimension=Dimension.MONEY)
    rate = known.exchange.money("rate", one, claimed.day)
    return None if rate.value is None else figure.times(rate.value.value)


def _figure(amount: Amount, figure: Written | None, unit: str) -> Figure:
    """What was claimed, as a figure."""
    if figure is None:
        why = amount.note or "the figure is not written as one"
        return Figure("reckoned", unit, why=why, rests_on=(amount.span,))
    value = Uncertain.of(figure.value, figure.u, amount)
    return Figure("reckoned", unit, value, "as written", rests_on=(amount.span,))


# Verdict


def verdict(reckoned: Written, figure: Figure) -> str:
    """Whether a claim agrees with a figure: yes, no or unknown."""
    if figure.value is not None:
        off = abs(reckoned.value - figure.value.value)
        return "yes" if off <= allowance(reckoned, figure.value) else "no"
    half = reckoned.half + DOUBTS * reckoned.u
    below = figure.low is not None and reckoned.value < figure.low - half
    above = figure.high is not None and reckoned.value > figure.high + half
    return "no" if below or above else "unknown"


def _best(verdicts: list[tuple[str, Reading]]) -> tuple[str, Reading]:
    """The first reading that agrees, else the first: it is what the words mean before all.

    Where that is not known, no other one tells that the claim is wrong.
    """
    return next((one for one in verdicts if one[0] == "yes"), verdicts[0])


def _why(agrees: str, reckoned: Written, reading: Reading) -> str:
    """What was compared, in words."""
    figure, basis = reading.figure, reading.basis
    if figure.value is None:
        return _why_limits(agrees, reckoned, figure, basis)
    computed = figure.value.value
    if agrees == "no":
        return f"it is {compared(reckoned.value, computed, figure.unit)} {basis}"
    if reckoned.is_near(computed):
        return f"{basis} come{'s' if _one(basis) else ''} to that"
    return f"it is within the doubt of {basis}, {said(computed, figure.unit)} as it stands"


def _one(basis: str) -> bool:
    """Whether what was compared is one thing and not several, such as hours."""
    return not basis.startswith(("the hours", "the supplies", "its own words"))


def _why_limits(agrees: str, reckoned: Written, figure: Figure, basis: str) -> str:
    low, high = figure.low, figure.high
    if agrees == "no":
        end = "less than" if low is not None and reckoned.value < low else "more than"
        most = "for certain" if end == "less than" else "at most"
        return f"it is {end} {basis} gives {most}"
    if low is not None and high is not None:
        between = f"{said(low, figure.unit)} and {said(high, figure.unit)}"
        return f"it cannot be told: {basis} lies between {between}; {figure.why}"
    if low:
        return f"it cannot be told: {basis} is at least {said(low, figure.unit)}; {figure.why}"
    return f"it cannot be told: {figure.why}"


def _premises(claimed: Claimed, found: Found) -> tuple[str, ...]:
    """What it rests on without evidence, each once, with the rate of another currency."""
    premises = list(found.premises)
    amount, known = claimed.claim.amount, claimed.known
    if amount.currency not in ("", known.currency):
        premises.append(f"{amount.currency} by the writer's own rate of that day")
    return tuple(dict.fromkeys(premises))
