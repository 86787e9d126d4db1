"""Random networks of contents that are possible, with readings that err as they say.

Every network is made from a number, so that a failure can be made again from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from random import Random

from logbook.calculation.network.arcs import OUTSIDE, Arc, Ratio, Reconciliation
from logbook.calculation.network.reconcile import reconcile
from logbook.model.amount import Uncertain


@dataclass(frozen=True)
class Made:
    """A network, and the contents it was made from."""

    seed: int
    arcs: tuple[Arc, ...]
    ratios: tuple[Ratio, ...]
    true: dict[str, float]


def random_network(seed: int, measured: float = 0.6, doubtful_shares: bool = False) -> Made:
    """A network of 3 to 12 nodes without loops: stages that split and join what goes through."""
    random = Random(seed)
    nodes = [f"node {n}" for n in range(random.randint(3, 12))]
    arcs: list[tuple[str, str]] = []
    true: dict[str, float] = {}

    def add(tail: str, head: str, content: float) -> None:
        true[f"arc {len(arcs)}"] = content
        arcs.append((tail, head))

    held = dict.fromkeys(nodes, 0.0)
    for place, node in enumerate(nodes):
        if not held[node] or random.random() < 0.4:
            fed = random.uniform(5.0, 100.0)
            add(OUTSIDE, node, fed)
            held[node] += fed
        ways = random.choice((1, 2, 2, 3))
        weights = [random.uniform(0.15, 1.0) for _ in range(ways)]
        for weight in weights:
            later = nodes[place + 1 : place + 4]
            head = random.choice(later) if later and random.random() < 0.7 else OUTSIDE
            content = held[node] * weight / sum(weights)
            add(node, head, content)
            if head != OUTSIDE:
                held[head] += content
    ratios = _ratios(random, list(true), true, doubtful_shares)
    return Made(seed, _read(random, arcs, true, measured), ratios, true)


@cache
def reconciled(seed: int) -> tuple[Made, Reconciliation]:
    """A network with exact shares and what the engine makes of it, once for all tests."""
    made = random_network(seed)
    return made, reconcile(made.arcs, made.ratios)


def _read(
    random: Random, arcs: list[tuple[str, str]], true: dict[str, float], measured: float
) -> tuple[Arc, ...]:
    """Readings with errors of their own and, some of them, of a balance they share."""
    shared = random.random() < 0.4
    balance = random.gauss(0.0, 1.0)
    made = []
    for (tail, head), (key, content) in zip(arcs, true.items(), strict=True):
        readings = []
        if random.random() < measured:
            on_balance = shared and random.random() < 0.5
            for again in range(2 if random.random() < 0.1 else 1):
                own = content * random.uniform(0.005, 0.03)
                errors = {f"{key} reading {again}": own}
                value = content + own * random.gauss(0.0, 1.0)
                if on_balance:
                    errors["balance"] = 0.01 * content
                    value += errors["balance"] * balance
                readings.append(Uncertain(value, errors))
        high = content * random.uniform(1.1, 3.0) if random.random() < 0.15 else None
        made.append(Arc(key, tail, head, tuple(readings), high))
    return tuple(made)


def _ratios(
    random: Random, keys: list[str], true: dict[str, float], doubtful: bool
) -> tuple[Ratio, ...]:
    """Every third network has one or two shares."""
    if random.random() < 2.0 / 3.0:
        return ()
    found = []
    for number in range(random.choice((1, 1, 2))):
        part, whole = random.sample(keys, 2)
        share = true[part] / true[whole]
        u = share * random.uniform(0.005, 0.02) if doubtful else 0.0
        value = share + u * random.gauss(0.0, 1.0)
        found.append(Ratio(part, whole, Uncertain.of(value, u, f"share {number}")))
    return tuple(found)
