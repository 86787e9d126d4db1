"""What is known of each arc, once readings are adjusted and contents deduced.

A content never comes out below nothing: where the fit puts it there by no more than its doubt
it is held at nothing and the others follow; by more, that is a gap of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import inf

from logbook.calculation.network.arcs import Arc, Known, OpenZone, Suspect
from logbook.calculation.network.flow import Given
from logbook.calculation.network.limits import Interval
from logbook.calculation.network.parity import ALIKE, EXACT
from logbook.calculation.results import Standing
from logbook.model.amount import Uncertain
from logbook.model.errors import flat

COVERAGE = 2.0
STEPS = 50
AT_ZERO = "at zero"
FULL = "full"


def below_nothing(given: Given) -> bool:
    """Whether a content came out below nothing by more than its doubt."""
    return given.value.value < -COVERAGE * given.u - EXACT


def overfull(given: Given, arc: Arc) -> bool:
    """Whether more came out of a thing than it can hold."""
    if arc.high is None or given.side == "making":
        return False
    return given.value.value - COVERAGE * given.u > arc.high * (1.0 + EXACT)


def impossible(given: Given, arc: Arc) -> OpenZone | None:
    """The gap that a deduced content shows by itself, if it does.

    Nothing is left over to tell which reading is wrong: those come first that would have to
    be wrong by the fewest of their own standard uncertainties.
    """
    if below_nothing(given):
        missing, kind = given.value, "below nothing"
    elif overfull(given, arc):
        missing, kind = (
            Uncertain((arc.high or 0.0) - given.value.value, given.value.errors),
            ("overfull"),
        )
    else:
        return None
    z = missing.value / (missing.u or 1.0)
    sizes = {
        source: missing.value / error for source, error in flat(missing.errors).items() if error
    }
    least = min((abs(size) for size in sizes.values()), default=0.0)
    named = [
        Suspect((source,), (), size, z, 0.0)
        for source, size in sorted(sizes.items(), key=lambda one: abs(one[1]))
        if abs(size) <= ALIKE * least
    ]
    return OpenZone(given.nodes, (arc.key,), missing, kind, tuple(named))


def held_at_nothing(values: Mapping[str, Uncertain], fixed: Iterable[str] = ()) -> dict[str, float]:
    """The values once those a little below nothing are held at nothing.

    Equation: with N the contents held, x′ = x − C_xN C_NN⁻¹ x_N, the constrained least squares
    solution; a content is let go again where it would rather be above nothing. The active-set
    method for quadratic programs. `fixed` ones stay as they are.
    """
    import numpy as np

    found = {key: value.value for key, value in values.items()}
    movable = dict(values)
    for key in fixed:
        movable.pop(key, None)
    held = [key for key in movable if _below(found[key], movable[key])]
    for _ in range(STEPS):
        if not held:
            break
        block = np.array([[movable[a].covariance(movable[b]) for b in held] for a in held])
        pull = np.linalg.pinv(block) @ np.array([movable[key].value for key in held])
        if (pull > EXACT).any():
            held = [key for key, one in zip(held, pull, strict=True) if one <= EXACT]
            continue
        for key, one in movable.items():
            shift = sum(
                one.covariance(movable[other]) * float(by)
                for other, by in zip(held, pull, strict=True)
            )
            found[key] = one.value - shift
        for key in held:
            found[key] = 0.0
        more = [key for key, one in movable.items() if _below(found[key], one) and key not in held]
        if not more:
            break
        held += more
    return found


def _below(value: float, one: Uncertain) -> bool:
    if value >= 0.0:
        return False
    u = one.u
    return value < -EXACT * u and one.value >= -COVERAGE * u


def of_reading(raw: Uncertain, best: Uncertain, number: float, *, checked: bool) -> Known:
    """A measured content: as read, or adjusted."""
    if not checked:
        return Known(Standing.MEASURED, raw, raw.value, raw.value)
    value = Uncertain(number, best.errors)
    moved = (number - raw.value) / raw.u if raw.u else 0.0
    note = AT_ZERO if number <= 0.0 and raw.value > 0.0 else ""
    return Known(Standing.ADJUSTED, value, number, number, moved, note=note)


def of_given(given: Given, number: float, arc: Arc) -> Known:
    """A deduced content, with the limits that its side leaves."""
    value, u = Uncertain(number, given.value.errors), given.u
    most: float | None = number + COVERAGE * u
    least = max(0.0, number - COVERAGE * u)
    if given.side == "making":
        least = 0.0
    if given.side == "use":
        most = None
    if arc.high is not None:
        most = arc.high if most is None else min(most, arc.high)
    note = AT_ZERO if given.value.value < 0.0 and number == 0.0 else ""
    if arc.high is not None and number > arc.high + COVERAGE * u:
        # No more than it weighs can be in it: the rest of what is missing is elsewhere.
        return Known(Standing.BOUNDED, None, 0.0, arc.high, side=given.side, note=FULL)
    side, nodes = given.side, given.nodes
    return Known(Standing.DEDUCED, value, least, most, side=side, note=note, nodes=nodes)


def of_limits(interval: Interval, why: str) -> Known:
    """A content of which only limits are known."""
    low, high = interval
    standing = Standing.UNKNOWN if high == inf else Standing.BOUNDED
    return Known(standing, None, low, None if high == inf else high, why=why)


def moved(readings: Sequence[Uncertain], best: Uncertain) -> bool:
    """Whether a reading was changed by the fit, in value or in doubt."""
    raw = readings[-1]
    scale = abs(raw.value) + raw.u
    return abs(best.value - raw.value) > EXACT * scale or abs(best.u - raw.u) > EXACT * scale
