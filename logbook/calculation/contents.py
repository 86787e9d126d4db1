"""How much of each metal a thing holds, as far as it was measured on the thing itself.

A content is measured as weight × assay, volume × concentration, or because it was stated. It
is never taken from what a thing is called; where nothing was measured it is not known, between
nothing and the thing's own weight. What follows from other things is worked out in the metal
network, and not here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from logbook.calculation.figure import Figure
from logbook.calculation.holdings import Holding, Statement
from logbook.calculation.products import is_metal, is_salt_or_scrap, metals_named
from logbook.calculation.results import Role, StageKey
from logbook.calculation.sampling import sampling_of
from logbook.calculation.sums import product
from logbook.calculation.weights import Weights, leaf
from logbook.model.amount import Dimension, Uncertain

PER: Mapping[Dimension, Dimension] = {
    Dimension.FRACTION: Dimension.MASS,
    Dimension.CONCENTRATION: Dimension.VOLUME,
}


@dataclass(slots=True)
class Contents:
    """Contents of things, worked out one after another; `metals` are what each run is after."""

    weights: Weights
    metals: Mapping[str, frozenset[str]]
    got: Mapping[StageKey, list[Holding]]
    found: dict[tuple[int, str], Figure] = field(default_factory=dict)

    def metals_of(self, held: Holding) -> list[str]:
        """The metals of which anything is said of a thing itself."""
        return _metals_stated(held)

    def of(self, held: Holding, metal: str) -> Figure:
        """How much of a metal a thing holds, in grams."""
        key = id(held), metal
        if key not in self.found:
            self.found[key] = self._work_out(held, metal)
        return self.found[key]

    def readings(self, held: Holding, metal: str) -> tuple[Uncertain, ...]:
        """Every measured content of a thing [g], the one to go by last; none where unmeasured.

        A thing that was weighed twice in one state has two, which have to agree; so has one
        that was assayed twice by a method. What was only written again is no second reading.
        """
        best = self.of(held, metal).value
        if best is None:
            return ()
        again = [*self._weighed_again(held, metal), *self._assayed_again(held, metal)]
        return (*again, best)

    def _weighed_again(self, held: Holding, metal: str) -> Iterator[Uncertain]:
        """Contents by the earlier weighings, with the error of the assay as in the last.

        So two weighings are compared as weighings: the assay says nothing of the difference.
        """
        statement = next(statements_of(held, metal), None)
        if statement is None or held.wet:
            return
        amount = statement.composition.amount
        per = PER.get(amount.dimension)
        last = held.look(per) if per is not None else None
        if last is None or last.amount.base_value is None or amount.base_value is None:
            return
        assay, weighed = amount.base_value, last.amount.base_value * last.part
        doubt = (amount.base_u or 0.0) * weighed
        for look in held.looks:
            weight = Uncertain.reading(look.amount)
            other = look.amount.dimension is not last.amount.dimension
            if look is last or other or look.wet or weight is None:
                continue
            if weight.value * look.part == weighed:
                continue
            errors = {s: e * assay * look.part for s, e in weight.errors.items()}
            yield Uncertain(weight.value * assay * look.part, {**errors, amount: doubt})

    def _assayed_again(self, held: Holding, metal: str) -> Iterator[Uncertain]:
        """Contents by the earlier assays, where they and the last were made by a method."""
        made = [one for one in statements_of(held, metal) if one.by_method and _relative(one)]
        first = next(statements_of(held, metal), None)
        if len(made) < 2 or made[0] is not first:
            return
        name = f"{metal} in {held.title}"
        for statement in made[1:]:
            if statement.composition.amount.base_value == made[0].composition.amount.base_value:
                continue
            value = self._as_stated(held, statement, name).value
            if value is not None:
                yield value

    def _work_out(self, held: Holding, metal: str) -> Figure:
        name = f"{metal} in {held.title}"
        if held.missing:
            return Figure(name, "g", why=held.missing)
        best: Figure | None = None
        for figure in self._ways(held, metal, name):
            if figure.known:
                return figure
            if best is None or best.high is None:
                best = figure
        return best or self._unmeasured(held, metal, name)

    def _ways(self, held: Holding, metal: str, name: str) -> Iterator[Figure]:
        """The ways in which a content can be measured, the best first."""
        for statement in statements_of(held, metal):
            yield self._as_stated(held, statement, name)
            if statement.composition.amount.high is not None:
                return  # a limit that was measured here beats what a lot should hold
        if held.role is Role.LOSS:
            yield from self._as_lost(held, metal, name)
        lot = held.parent
        if lot is not None and sampling_of(held) is not None and not self.of(lot, metal).known:
            for statement in _of_the_lot(lot, metal):
                yield self._as_stated(held, statement, name)

    def _as_stated(self, held: Holding, statement: Statement, name: str) -> Figure:
        """Content from one statement.

        Equation: m = M w (weight [g] × assay [g/g]), m = V c (volume [L] × concentration
        [g/L]), or m as stated [g]. Source: the definitions of mass fraction and mass
        concentration; propagation JCGM 100:2008, 5.1.2 (from memory).
        """
        amount = statement.composition.amount
        if amount.dimension is Dimension.MASS:
            return leaf(name, amount, f"{name} is not written as a figure")
        assay = assay_figure(held, statement)
        per = PER.get(amount.dimension)
        if per is None:
            why = f"{amount.span.text} says nothing of a weight"
            return Figure(name, "g", rests_on=(amount.span,), why=why)
        content = product(name, "g", self.weights.of(held, per), assay)
        return _at_most(content, held) if per is Dimension.MASS and held.wet else content

    def _as_lost(self, held: Holding, metal: str, name: str) -> Iterator[Figure]:
        """A known loss of metal: as fine as what the stage got, or metal as such."""
        weight = self.weights.of(held, Dimension.MASS)
        stage = held.made_by
        others = self.got.get(stage, []) if stage is not None else []
        aims = self.metals.get(stage.run, frozenset()) if stage is not None else frozenset()
        if is_salt_or_scrap(held.what):
            return
        metallic = bool(others) and all(is_metal(one.what, aims) for one in others)
        named = metals_named(held.what)
        if len(others) == 1 and metallic and not named:
            for statement in statements_of(others[0], metal):
                if statement.composition.amount.dimension is Dimension.FRACTION:
                    yield product(name, "g", weight, assay_figure(others[0], statement))
        if (named or (aims if metallic else frozenset())) == {metal}:
            note = f"{held.title}: taken as {metal} through and through, not assayed"
            words = f"{weight.name}, taken as {metal}"
            yield replace(
                weight, name=name, formula=words, terms=(weight,), notes=(*weight.notes, note)
            )

    def _unmeasured(self, held: Holding, metal: str, name: str) -> Figure:
        """A content that nobody measured: no more than the weight that is left for it.

        Equation: m ≤ M + 2u(M) − Σ (m_i − 2u(m_i)), with M the weight and m_i the contents
        stated of other metals [g]; the doubts widen the limit. Source: conservation of mass.
        """
        weight = self.weights.of(held, Dimension.MASS)
        high = weight.high
        if weight.value is not None:
            high = weight.value.value + 2.0 * weight.value.u
        why = f"the {metal} in {held.title} was never measured"
        if high is None:
            return Figure(name, "g", why=why, low=0.0)
        others = [self.of(held, one) for one in _metals_stated(held) if one != metal]
        high = max(0.0, high - sum(map(_surely, others)))
        return Figure(name, "g", why=why, terms=(weight, *others), low=0.0, high=high)


def _at_most(content: Figure, held: Holding) -> Figure:
    """A content by a weighing with water in it: an upper limit, widened by its doubt."""
    if content.value is None:
        return content
    high = content.value.value + 2.0 * content.value.u
    why = f"{held.title} was weighed damp: dry it and weigh it again"
    return replace(content, value=None, why=why, low=0.0, high=high)


def _metals_stated(held: Holding) -> list[str]:
    """The metals of which anything is said of a thing itself, each once."""
    said = [*held.said, *(one for sample in held.samples for one in sample.said if _relative(one))]
    return list(dict.fromkeys(statement.composition.metal for statement in said))


def _surely(content: Figure) -> float:
    """The least that a content may well be, in grams."""
    if content.value is None:
        return content.low or 0.0
    return max(0.0, content.value.value - 2.0 * content.value.u)


def assay_figure(held: Holding, statement: Statement) -> Figure:
    """The assay or concentration that a statement gives, with the evidence for it."""
    composition = statement.composition
    name = f"{composition.metal} of {held.title}"
    why = f"the {composition.metal} of {held.title} is written only as a limit"
    return leaf(name, composition.amount, why)


def statements_of(held: Holding, metal: str) -> Iterator[Statement]:
    """What was said of a metal in a thing, the latest first, then what its samples showed."""
    for statement in reversed(held.said):
        if statement.composition.metal == metal:
            yield statement
    for sample in reversed(held.samples):
        for statement in reversed(sample.said):
            if statement.composition.metal == metal and _relative(statement):
                yield statement


def _relative(statement: Statement) -> bool:
    return statement.composition.amount.dimension in PER


def _of_the_lot(lot: Holding, metal: str) -> Iterator[Statement]:
    """The assays of the lot that a thing was drawn from, or of what that was drawn from."""
    above: Holding | None = lot
    while above is not None:
        found = [one for one in statements_of(above, metal) if _relative(one)]
        if found:
            yield from found
            return
        above = above.parent
