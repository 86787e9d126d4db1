"""1,000 random networks, each solved a second way with dense matrices and general solvers.

No expected number comes from the engine: values, doubts, tests and limits are those of
`dense_reference` (formulas of the textbooks), of scipy's solvers, and of a Monte Carlo.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from random import Random

import numpy as np
import pytest
from dense_reference import Dense, chi_square_limit, test_limit
from random_networks import Made, random_network, reconciled
from scipy.optimize import linprog, minimize
from scipy.sparse.csgraph import connected_components

from logbook.calculation.network.arcs import OUTSIDE, Block, Known, Reconciliation
from logbook.calculation.network.reconcile import reconcile
from logbook.calculation.results import Standing

HUNDREDS = range(10)
SAMPLES = 3000
SIGMAS = 5.5  # of a sampled standard deviation: once in 10⁷, and about 20,000 are compared


@dataclass(frozen=True)
class Solved:
    """One network, solved both ways."""

    made: Made
    dense: Dense
    found: Reconciliation

    @property
    def scale(self) -> float:
        """The largest content."""
        return max(self.made.true.values())

    @property
    def closes(self) -> bool:
        """Whether every balance closes with nothing held at nothing: then least squares holds."""
        held = any(known.note == "at zero" for known in self.found.known.values())
        return not held and not self.found.open_zones

    def each(self) -> Iterator[tuple[str, int, Known]]:
        """The arcs with their place in the matrices."""
        for place, key in enumerate(self.dense.keys):
            yield key, place, self.found.known[key]


@cache
def solved(seed: int) -> Solved:
    """A network with exact shares, solved both ways, once for all tests."""
    made, found = reconciled(seed)
    return Solved(made, Dense(made.arcs, made.ratios), found)


def hundred_of(number: int) -> list[Solved]:
    """A hundred networks."""
    return [solved(seed) for seed in range(100 * number, 100 * number + 100)]


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_values_are_those_of_dense_least_squares(hundred: int) -> None:
    """Where all blocks close, each content that is given is that of least squares, to 1e-8."""
    for one in hundred_of(hundred):
        if not one.closes:
            continue
        for key, place, known in one.each():
            if one.dense.determined[place] and known.note != "full":
                assert known.value is not None, (one.made.seed, key, known)
                off = abs(known.value.value - one.dense.x[place])
                assert off <= 1e-8 * one.scale, (one.made.seed, key)


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_contents_are_given_where_the_rank_says_so(hundred: int) -> None:
    """Adjusted, measured, deduced or only bounded: as the rank of the matrices has it."""
    for one in hundred_of(hundred):
        if not one.closes:
            continue
        shares = {ratio.part for ratio in one.made.ratios}
        moves = one.dense.moves
        for key, place, known in one.each():
            if known.note == "full":
                continue
            if key in one.dense.read:
                moved = any(moves[n] for n, read in enumerate(one.dense.read) if read == key)
                wanted = {Standing.ADJUSTED if moved else Standing.MEASURED}
            elif one.dense.determined[place]:
                wanted = {Standing.DEDUCED}
                if key in shares:  # a share of a measured thing is as good as a reading
                    wanted |= {Standing.ADJUSTED, Standing.MEASURED}
            else:
                wanted = {Standing.BOUNDED, Standing.UNKNOWN}
                assert known.value is None, (one.made.seed, key)
            assert known.standing in wanted, (one.made.seed, key, wanted, known)


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_doubts_are_those_of_the_covariance(hundred: int) -> None:
    """Each standard uncertainty is the root of the diagonal of G V Gᵀ."""
    for one in hundred_of(hundred):
        if not one.closes:
            continue
        u = np.sqrt(np.diag(one.dense.C))
        for key, place, known in one.each():
            if one.dense.determined[place] and known.value is not None:
                assert known.value.u == pytest.approx(u[place], rel=1e-5, abs=1e-9 * one.scale), (
                    one.made.seed,
                    key,
                )


@cache
def normal_numbers() -> np.ndarray:
    """One pool of normal deviates for all networks; each takes the columns it needs."""
    return np.random.default_rng(20260314).standard_normal((SAMPLES, 160))


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_doubts_are_those_of_a_monte_carlo(hundred: int) -> None:
    """Readings that err at random, estimated anew each time, scatter as the doubts say."""
    for one in hundred_of(hundred):
        if not one.closes or not one.dense.sources:
            continue
        sources = normal_numbers()[:, : len(one.dense.sources)]
        spread = (sources @ (one.dense.G @ one.dense.E).T).std(axis=0)
        for key, place, known in one.each():
            if one.dense.determined[place] and known.value is not None:
                off = abs(known.value.u - spread[place])
                sampling = spread[place] / (2.0 * SAMPLES) ** 0.5
                assert off <= SIGMAS * sampling + 1e-9 * one.scale, (one.made.seed, key)


def sources_of(block: Block) -> set[object]:
    """The sources of error in a block."""
    return {source for suspect in block.suspects for source in suspect.sources}


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_blocks_are_tested_as_the_textbooks_do(hundred: int) -> None:
    """X², its degrees of freedom and its limit, the tests and their limit, and the verdict."""
    for one in hundred_of(hundred):
        dense, blocks = one.dense, one.found.blocks
        seed = one.made.seed
        assert sum(block.freedom for block in blocks) == dense.freedom, seed
        whole = sum(block.chi_square for block in blocks)
        assert whole == pytest.approx(dense.chi_square, rel=1e-6, abs=1e-7), seed
        for block in blocks:
            signatures = [dense.source(source) for source in sources_of(block)]
            signatures += [dense.loss(node) for node in block.nodes]
            x2, freedom = dense.block(signatures)
            assert block.freedom == freedom, seed
            assert block.chi_square == pytest.approx(x2, rel=1e-6, abs=1e-7), seed
            limit = chi_square_limit(freedom)
            assert block.limit == pytest.approx(limit, rel=1e-9), seed
            z_limit = test_limit(dense.different(signatures))
            assert block.z_limit == pytest.approx(z_limit, rel=1e-9), seed
            zs = [z for z in map(dense.test, signatures) if z is not None]
            largest = max(map(abs, zs), default=0.0)
            assert block.passes == (x2 <= limit and largest <= z_limit), seed


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_suspects_have_the_tests_of_the_textbooks(hundred: int) -> None:
    """Every reading and loss that an equation sees is tested, with its sign, size and X² left."""
    for one in hundred_of(hundred):
        dense = one.dense
        seed = one.made.seed
        if dense.says_twice:  # then a loss there is no error that least squares knows
            continue
        tested: set[object] = set()
        for block in one.found.blocks:
            for suspect in block.suspects:
                tested.update(suspect.sources or suspect.nodes)
                if suspect.is_loss:
                    signature = dense.loss(suspect.nodes[0])
                    size = signature @ dense.t / dense.power(signature)
                    assert suspect.size == pytest.approx(size, rel=1e-6, abs=1e-7), seed
                    z = dense.test(signature)
                else:
                    z = dense.test(dense.source(suspect.sources[0]))
                assert z is not None
                assert suspect.z == pytest.approx(z, rel=1e-6, abs=1e-6), (seed, suspect)
                left = max(block.chi_square - z * z, 0.0)
                assert suspect.left == pytest.approx(left, rel=1e-5, abs=1e-5), (seed, suspect)
            left_over = [suspect.left for suspect in block.suspects]
            assert left_over == sorted(left_over), seed
        seen: set[object] = {s for s in dense.sources if dense.power(dense.source(s))}
        seen |= {node for node in dense.nodes if dense.power(dense.loss(node))}
        assert tested == seen, seed


def program(one: Solved, place: int) -> tuple[float, float] | None:
    """The least and most of one content, by linear programs; None where they are not feasible."""
    dense = one.dense
    matrix = np.vstack([dense.constraints, dense.H])
    right = np.concatenate([np.zeros(len(dense.constraints)), dense.H @ dense.x])
    bounds = [(0.0, high) for high in dense.highs]
    for read, value in zip(dense.read, dense.H @ dense.x, strict=True):
        at = dense.at[read]  # what is measured stands where it is, limit or not
        bounds[at] = (min(0.0, value), max(value, bounds[at][1] or value))
    ends = []
    for sign in (1.0, -1.0):
        aim = np.zeros(len(dense.keys))
        aim[place] = sign
        done = linprog(aim, A_eq=matrix, b_eq=right, bounds=bounds, method="highs")
        if done.status == 3:
            ends.append(np.inf)
        elif done.status == 0:
            ends.append(sign * done.fun)
        else:
            return None
    return ends[0], ends[1]


@pytest.mark.parametrize("hundred", HUNDREDS)
def test_limits_are_those_of_a_linear_program(hundred: int) -> None:
    """The limits of what is not given are the least and most that conservation allows.

    One thing of each network, and all of them in every fifth.
    """
    compared = 0
    for one in hundred_of(hundred):
        if not one.closes:
            continue
        free = [(k, p, known) for k, p, known in one.each() if not one.dense.determined[p]]
        start = one.made.seed % len(free) if free else 0
        for key, place, known in free if one.made.seed % 5 == 0 else free[start : start + 1]:
            ends = program(one, place)
            if ends is None:  # the readings leave less than nothing somewhere
                continue
            low, high = ends
            compared += 1
            note = (one.made.seed, key, ends, known)
            assert known.low == pytest.approx(max(low, 0.0), rel=1e-6, abs=1e-6 * one.scale), note
            if high == np.inf:
                assert known.high is None and known.standing is Standing.UNKNOWN, note
            else:
                assert known.high == pytest.approx(high, rel=1e-6, abs=1e-6 * one.scale), note
                assert known.standing is Standing.BOUNDED, note
    assert compared > 50


@pytest.mark.parametrize("seed", range(0, 1000, 50))
def test_the_reference_is_what_a_general_solver_finds(seed: int) -> None:
    """The dense formulas agree with scipy's constrained minimiser, which knows none of them."""
    one = solved(seed)
    dense = one.dense
    if not len(dense.y):
        return
    scale = one.scale
    white = np.linalg.inv(np.linalg.cholesky(dense.V))

    def squares(x: np.ndarray) -> float:
        off = white @ (dense.y - scale * (dense.H @ x))
        return float(off @ off)

    def slope(x: np.ndarray) -> np.ndarray:
        off = white @ (dense.y - scale * (dense.H @ x))
        return np.asarray(-2.0 * scale * (white @ dense.H).T @ off)

    _, sizes, right = np.linalg.svd(dense.constraints)
    rows = right[: int((sizes > 1e-9).sum())]
    start = np.array([one.made.true[key] for key in dense.keys]) / scale
    done = minimize(
        squares,
        start,
        jac=slope,
        method="SLSQP",
        constraints={"type": "eq", "fun": lambda x: rows @ x, "jac": lambda x: rows},
        options={"ftol": 1e-15, "maxiter": 500},
    )
    assert squares(done.x) == pytest.approx(dense.chi_square, rel=1e-6, abs=1e-6)
    given = dense.determined
    assert scale * done.x[given] == pytest.approx(dense.x[given], abs=1e-5 * scale)


def test_shares_with_doubts_agree_with_least_squares() -> None:
    """A share's doubt is taken of what the whole holds: 600 networks, a third with shares."""
    compared = 0
    for seed in range(5000, 5600):
        made = random_network(seed, doubtful_shares=True)
        if not made.ratios:
            continue
        found = reconcile(made.arcs, made.ratios)
        if found.open_zones or any(known.note for known in found.known.values()):
            continue
        wholes = {}
        for ratio in made.ratios:
            value = found.known[ratio.whole].value
            wholes[ratio.whole] = value.value if value is not None else made.true[ratio.whole]
        dense = Dense(made.arcs, made.ratios, wholes)
        for place, key in enumerate(dense.keys):
            known = found.known[key]
            if not dense.determined[place]:
                assert known.value is None, (seed, key)
                continue
            assert known.value is not None, (seed, key)
            u = float(np.sqrt(dense.C[place, place]))
            # The doubt may be taken of the whole as read or as adjusted: of the second order.
            off = abs(known.value.value - dense.x[place])
            assert off <= 0.1 * u + 1e-9, (seed, key, off / u)
            assert known.value.u == pytest.approx(u, rel=0.05, abs=1e-9), (seed, key)
            compared += 1
    assert compared > 500


def in_one_part(dense: Dense) -> bool:
    """Whether every node is connected with every other."""
    beside = np.abs(dense.A) @ np.abs(dense.A).T
    return bool(connected_components(beside, directed=False)[0] == 1)


def test_unaccounted_is_what_is_missing_with_its_own_balances_dropped() -> None:
    """In less out over the stages of a run, from all balances but its own, with its doubt.

    Runs that have one gap between them share the figure; where something that nobody measured
    leaves one of them, there is none.
    """
    told = shared_by_more = 0
    for seed in range(7000, 7300):
        made = random_network(seed, measured=0.85)
        arcs = made.arcs
        dense = Dense(arcs)
        random = Random(seed)
        regions: dict[str, list[str]] = {}
        for node in dense.nodes:
            regions.setdefault(random.choice("abc"), []).append(node)
        found = reconcile(arcs, (), regions)
        if found.open_zones or not in_one_part(dense):
            continue
        for name, one in found.unaccounted.items():
            own = [node for other in one.regions for node in regions[other]]
            across = dense.A[[dense.nodes.index(node) for node in own]].sum(axis=0)
            if any(not arc.readings and across[dense.at[arc.key]] for arc in arcs):
                assert one.value is None, (seed, name)
                continue
            rest = Dense(arcs, without=own)
            scale = max(made.true.values())
            assert one.value is not None, (seed, name)
            assert one.value.value == pytest.approx(float(across @ rest.x), abs=1e-7 * scale), seed
            u = float(np.sqrt(across @ rest.C @ across))
            assert one.value.u == pytest.approx(u, rel=1e-5, abs=1e-9 * scale), seed
            told += 1
            shared_by_more += len(one.regions) > 1
    assert told > 150
    assert shared_by_more > 30


def with_something_lost(seed: int) -> tuple[Made, str]:
    """A network of which one stage loses a good part of what goes through it, unseen."""
    made = random_network(seed, measured=0.85)
    random = Random(seed)
    node = random.choice([arc.head for arc in made.arcs if arc.head])
    lost = random.uniform(0.15, 0.4)
    # All that is fed into this stage is read a little too high: as if the rest were lost.
    arcs = tuple(
        replace(arc, readings=tuple(one.times(1.0 + lost) for one in arc.readings))
        if arc.head == node and arc.tail == OUTSIDE
        else arc
        for arc in made.arcs
    )
    return replace(made, arcs=arcs, ratios=()), node


def test_beside_a_gap_readings_stay_and_the_rest_is_least_squares_without_it() -> None:
    """A zone that does not close gives no equation; what bounds it is as it was read.

    Its gap is what goes in less what comes out, from the least squares of all other balances.
    """
    gaps = 0
    for seed in range(8000, 8400):
        made, _ = with_something_lost(seed)
        found = reconcile(made.arcs)
        kinds = [zone.kind for zone in found.open_zones]
        if kinds != ["gap"] or any(known.note for known in found.known.values()):
            continue
        (zone,) = found.open_zones
        gaps += 1
        rest = Dense(made.arcs, without=zone.nodes)
        scale = max(made.true.values())
        across = np.zeros(len(made.arcs))
        for place, arc in enumerate(made.arcs):
            known = found.known[arc.key]
            across[place] = (arc.head in zone.nodes) - (arc.tail in zone.nodes)
            beside = bool({arc.head, arc.tail} & set(zone.nodes))
            if beside and arc.readings:
                assert known.standing is Standing.MEASURED, (seed, arc.key)
                assert known.value is not None
                assert known.value.value == arc.readings[-1].value, (seed, arc.key)
            elif arc.readings:
                assert known.value is not None
                off = abs(known.value.value - rest.x[place])
                assert off <= 1e-8 * scale, (seed, arc.key)
        assert zone.missing.value == pytest.approx(float(across @ rest.x), rel=1e-7), seed
        u = float(np.sqrt(across @ rest.C @ across))
        assert zone.missing.u == pytest.approx(u, rel=1e-5), seed
    assert gaps > 100


def test_most_networks_close() -> None:
    """The readings err as they say, so that few balances are open and much is compared."""
    closing = sum(one.closes for number in HUNDREDS for one in hundred_of(number))
    assert 850 <= closing < 1000


def test_limits_handed_round_are_never_too_narrow(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no linear program is solved the limits hold those that one would give."""
    from logbook.calculation.network import limits

    tight, wide = {}, {}
    networks = [random_network(seed) for seed in range(150)]
    for seed, made in enumerate(networks):
        tight[seed] = reconcile(made.arcs).known
    monkeypatch.setattr(limits, "LARGEST", 0)
    for seed, made in enumerate(networks):
        wide[seed] = reconcile(made.arcs).known
    compared = 0
    for seed, known in tight.items():
        for key, one in known.items():
            other = wide[seed][key]
            assert other.low <= one.low + 1e-7, (seed, key)
            if one.high is None:
                assert other.high is None, (seed, key)
            elif other.high is not None:
                assert other.high >= one.high - 1e-7, (seed, key)
            compared += 1
    assert compared > 1000
