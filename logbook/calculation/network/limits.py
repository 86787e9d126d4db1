"""The tightest limits of contents that nothing gives: conserved, and never below nothing.

Where the unmeasured things form a tree, intervals are handed along it; where they form
rings, linear programs are solved. Where more of them hang together than that can be done for,
intervals are handed round until they settle: such limits are right, but may not be the
tightest. Nothing here widens or narrows a limit for any other reason than conservation.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from math import inf
from typing import Any

from logbook.calculation.network.arcs import OUTSIDE, Arc
from logbook.calculation.network.zones import Joined

Interval = tuple[float, float]
SLACK = 1e-9  # relative; an interval that is emptier than this cannot be fulfilled
LARGEST = 150  # things in rings, up to which linear programs are solved
ROUNDS = 30


def limits(free: Sequence[Arc], supply: Mapping[str, float]) -> dict[str, Interval]:
    """The least and the most that each unmeasured thing can hold [g].

    Equations: Σ x_out − Σ x_in = supply at every node, 0 ≤ x ≤ high. Source: conservation of
    mass; the limits are the extreme points of a linear program.

    Of 3 g that were left, a filter that weighs 1 g and a waste share all: at least 2 g are in
    the waste.

    >>> two = [Arc("filter", "dissolve", OUTSIDE, (), 1.0), Arc("waste", "dissolve", OUTSIDE)]
    >>> limits(two, {"dissolve": 3.0})
    {'filter': (0.0, 1.0), 'waste': (2.0, 3.0)}
    """
    found: dict[str, Interval] = {}
    for part in _parts(free):
        handed = _Intervals(part, supply)
        if handed.is_tree and (within := handed.along_tree()) is not None:
            found.update(within)
        elif len(part) > LARGEST:
            found.update(handed.until_settled())
        else:
            found.update(_program(part, supply))
    return found


def _parts(free: Iterable[Arc]) -> list[list[Arc]]:
    """Arcs that meet at a node other than the outside, together."""
    joined = Joined()
    arcs = list(free)
    for arc in arcs:
        if OUTSIDE not in (arc.tail, arc.head):
            joined.join(arc.tail, arc.head)
    parts: dict[Hashable, list[Arc]] = {}
    for arc in arcs:
        inner = arc.head if arc.tail == OUTSIDE else arc.tail
        name = joined.find(inner) if inner != OUTSIDE else ("outside", arc.key)
        parts.setdefault(name, []).append(arc)
    return list(parts.values())


def _own(arc: Arc) -> Interval:
    return 0.0, inf if arc.high is None else arc.high


class _Intervals:
    """What each node allows its arcs, handed on from node to node."""

    def __init__(self, arcs: Sequence[Arc], supply: Mapping[str, float]) -> None:
        self._arcs = {arc.key: arc for arc in arcs}
        self._supply = supply
        self._beside: dict[str, list[Arc]] = {}
        for arc in arcs:
            for node in {arc.tail, arc.head} - {OUTSIDE}:
                self._beside.setdefault(node, []).append(arc)
        inner = sum(OUTSIDE not in (arc.tail, arc.head) for arc in arcs)
        self.is_tree = inner == max(len(self._beside) - 1, 0)
        self._scale = max((abs(supply.get(node, 0.0)) for node in self._beside), default=0.0)
        # What the side of each end of an arc allows it to hold; a free end allows anything.
        self._says: dict[tuple[str, str], Interval] = {}

    def along_tree(self) -> dict[str, Interval] | None:
        """The limits of every arc of a tree; None where they cannot all be fulfilled."""
        order = self._order()
        for node, by in reversed(order):
            if by:
                self._says[by, node] = self._allowed(node, by)
        for node, by in order:
            for key, interval in self._from(node).items():
                if key != by:
                    self._says[key, node] = interval
        found = {}
        for key, arc in self._arcs.items():
            low, high = self._both(arc)
            if low > high + SLACK * max(self._scale, 1.0):
                return None
            found[key] = max(low, 0.0), max(low, high)
        return found

    def until_settled(self) -> dict[str, Interval]:
        """Limits that each balance by itself gives, again and again until none is narrowed."""
        before: dict[str, Interval] = {}
        for _ in range(ROUNDS):
            for node in self._beside:
                for key, interval in self._from(node).items():
                    self._says[key, node] = interval
            now = {key: self._both(arc) for key, arc in self._arcs.items()}
            if now == before:
                break
            before = now
        return {key: (max(low, 0.0), max(low, high, 0.0)) for key, (low, high) in before.items()}

    def _order(self) -> list[tuple[str, str]]:
        """The nodes from the root down, each with the arc it was reached by."""
        if not self._beside:
            return []
        root = next(iter(self._beside))
        order, stack, seen = [], [(root, "")], {root}
        while stack:
            node, by = stack.pop()
            order.append((node, by))
            for arc in self._beside[node]:
                other = arc.head if arc.tail == node else arc.tail
                if other != OUTSIDE and other not in seen:
                    seen.add(other)
                    stack.append((other, arc.key))
        return order

    def _both(self, arc: Arc, without: str = "") -> Interval:
        """What an arc may hold, by itself and by what its ends say; one end may be left out."""
        low, high = _own(arc)
        for node in (arc.tail, arc.head):
            if node != without:
                said = self._says.get((arc.key, node), (0.0, inf))
                low, high = max(low, said[0]), min(high, said[1])
        return low, high

    def _allowed(self, node: str, key: str) -> Interval:
        return self._from(node, only=key)[key]

    def _from(self, node: str, only: str = "") -> dict[str, Interval]:
        """What the balance of a node allows each of its arcs, given the others.

        The sums are made once, so that a node with many arcs costs no more than its arcs.
        """
        terms = []
        for arc in self._beside[node]:
            sign = 1.0 if arc.tail == node else -1.0
            low, high = self._both(arc, without=node)
            terms.append((arc, sign, *((low, high) if sign > 0 else (-high, -low))))
        lows, highs = _sum([term[2] for term in terms]), _sum([term[3] for term in terms])
        supply = self._supply.get(node, 0.0)
        found = {}
        for arc, sign, low, high in terms:
            if only and arc.key != only:
                continue
            least = -inf if _endless(highs, high) else supply - (highs[0] - _finite(high))
            most = inf if _endless(lows, low) else supply - (lows[0] - _finite(low))
            found[arc.key] = (least, most) if sign > 0 else (-most, -least)
        return found


def _sum(values: Sequence[float]) -> tuple[float, int]:
    """The sum of the finite values, and how many are not finite."""
    return sum(v for v in values if abs(v) != inf), sum(abs(v) == inf for v in values)


def _endless(total: tuple[float, int], own: float) -> bool:
    """Whether another value than one's own has no limit."""
    return total[1] > (abs(own) == inf)


def _finite(value: float) -> float:
    return 0.0 if abs(value) == inf else value


def _program(arcs: Sequence[Arc], supply: Mapping[str, float]) -> dict[str, Interval]:
    """The limits by linear programs: first what can be fulfilled at all, then each extreme."""
    import numpy as np

    nodes = list(dict.fromkeys(n for arc in arcs for n in (arc.tail, arc.head) if n != OUTSIDE))
    place = {node: at for at, node in enumerate(nodes)}
    matrix = np.zeros((len(nodes), len(arcs)))
    for column, arc in enumerate(arcs):
        if arc.tail != OUTSIDE:
            matrix[place[arc.tail], column] += 1.0
        if arc.head != OUTSIDE:
            matrix[place[arc.head], column] -= 1.0
    right = np.array([supply.get(node, 0.0) for node in nodes])
    highs = [arc.high for arc in arcs]
    extremes = program_limits(matrix, right, highs)
    return {arc.key: interval for arc, interval in zip(arcs, extremes, strict=True)}


def program_limits(matrix: Any, right: Any, highs: Sequence[float | None]) -> list[Interval]:
    """The least and most of each x with M x = r, 0 ≤ x ≤ high.

    Where that cannot be fulfilled, r is first moved as little as possible (sum of absolute
    values) to where it can.
    """
    import numpy as np

    rows, columns = matrix.shape
    eye = np.eye(rows)
    tops = np.array([inf if high is None else high for high in highs])
    slack = np.concatenate([np.zeros(columns), np.ones(2 * rows)])
    wide = np.concatenate([tops, np.full(2 * rows, inf)])
    first = _least(slack, np.hstack([matrix, eye, -eye]), right, wide)
    point = np.zeros(columns) if first is None else first[:columns]
    right = matrix @ point
    # What some solution reaches needs no program of its own: nothing goes beyond its bounds.
    least, most = point.copy(), point.copy()
    aim = np.zeros(columns)
    for column in range(columns):
        aim[column] = 1.0
        if least[column] > 0.0:
            found = _least(aim, matrix, right, tops)
            if found is not None:
                least, most = np.minimum(least, found), np.maximum(most, found)
        if most[column] < tops[column]:
            found = _least(-aim, matrix, right, tops)
            if found is None:
                most[column] = inf
            else:
                least, most = np.minimum(least, found), np.maximum(most, found)
        aim[column] = 0.0
    return [(max(float(low), 0.0), float(high)) for low, high in zip(least, most, strict=True)]


def _least(aim: Any, matrix: Any, right: Any, tops: Any) -> Any:
    """The x with M x = r, 0 ≤ x ≤ top at which the aim is least; None where there is none.

    A linear program is a mixed-integer one without integers, and is set up faster so.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    constraint = LinearConstraint(matrix, right, right)
    return milp(aim, constraints=constraint, bounds=Bounds(0.0, tops)).x
