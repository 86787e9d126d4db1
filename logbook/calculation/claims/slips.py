"""What a writer probably did, where doing just that gives the figure that was reckoned.

Each slip is a name in words and what it makes of the right figure. None is a guess: it is named
only where it gives the claimed figure within its last digit.
"""

from __future__ import annotations

from collections.abc import Iterator

from logbook.calculation.claims.given import Claimed
from logbook.model.amount import Uncertain

TROY_OUNCE, COMMON_OUNCE = 31.1034768, 28.349523125  # g; NIST Handbook 44, Appendix C
KITCHEN = "a common ounce of 28.35 g was taken for a troy ounce of 31.10 g"
POINT = "the decimal point slipped"
TROY = "a troy ounce of 31.10 g was taken for a common ounce of 28.35 g"


def slip(claimed: Claimed, kind: str, right: Uncertain, said: float, half: float) -> str:
    """The first slip that gives the claimed figure, or two where two do; empty where none does.

    A point that slipped takes the doubt of the right figure with it.
    """
    slips = _slips(claimed, kind, right.value)
    found = [words for words, value in slips if abs(value - said) <= half * 1.001]
    slipped = (10.0, 0.1, 100.0, 0.01)
    if any(abs(right.value * by - said) <= half + 2.0 * right.u * by for by in slipped):
        found.append(POINT)
    named = list(dict.fromkeys(found))[:2]
    return named[0] if len(named) == 1 else f"either {named[0]}, or {named[1]}" if named else ""


def _slips(claimed: Claimed, kind: str, right: float) -> Iterator[tuple[str, float]]:
    if claimed.claim.amount.unit in ("ozt", "oz") or kind == "fine weight":
        yield KITCHEN, right * TROY_OUNCE / COMMON_OUNCE
        yield TROY, right * COMMON_OUNCE / TROY_OUNCE
    if kind == "hours":
        whole = int(right)
        yield "minutes were read as decimals of an hour", whole + (right - whole) * 60.0 / 100.0
        for time, stage in zip(claimed.run.stage_times, claimed.run.run.stages, strict=False):
            if time.hands_on.value is not None:
                yield (
                    f'the hours of "{stage.title}" were left out',
                    right - time.hands_on.value.value,
                )
    if kind == "fine weight":
        for thing in (*claimed.things, *claimed.run.things_out):
            if thing.gross.value is not None:
                yield "the whole weight was taken for the fine weight", thing.gross.value.value
    if kind == "cost":
        yield from _of_costs(claimed, right)
    if kind == "recovery" and right:
        yield from _of_recovery(claimed, right)
    yield from _of_digits(right)


def _of_costs(claimed: Claimed, right: float) -> Iterator[tuple[str, float]]:
    for account in claimed.book.supplies.accounts:
        if account.supply in claimed.words:
            for move in account.moves:
                if move.kind == "bought" and move.cost.value is not None:
                    words = "all that was bought was charged, though only a part of it was used"
                    yield words, move.cost.value.value
    for line in claimed.run.costs:
        if line.amount.value is not None:
            value = line.amount.value.value
            yield f"{line.kind} was left out", right - value
            yield (
                f"{line.kind} was counted twice, or taken in where it does not belong",
                right + value,
            )
    yield "it was counted twice", 2.0 * right


def _of_recovery(claimed: Claimed, right: float) -> Iterator[tuple[str, float]]:
    balance = claimed.balance
    if balance is None or balance.product.value is None:
        return
    made = balance.product.value.value
    for head, words in (
        (balance.assayed_head, "over the assayed head"),
        (balance.built_up_head, "over what came out, not over what went in"),
    ):
        if head is not None and head.value is not None and head.value.value:
            yield f"it was taken {words}", made / head.value.value
    yield "it is what went in over what came out, the wrong way round", 1.0 / right


def _of_digits(right: float) -> Iterator[tuple[str, float]]:
    text = f"{abs(right):.4g}"
    for at in range(len(text) - 1):
        if text[at].isdigit() and text[at + 1].isdigit() and text[at] != text[at + 1]:
            swapped = text[:at] + text[at + 1] + text[at] + text[at + 2 :]
            yield "two digits were swapped", float(swapped)
