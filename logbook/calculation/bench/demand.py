"""How much of a substance the reactions of a stage ask for, as limits.

Which way nitric acid goes (monoxide, dioxide, both at once) nobody knows beforehand: each way
is a limit, and no value is put between them. What of the charge no line tells is taken as
anything between what the acid does not touch and the metal that asks for most.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageChemistry, Substance
from logbook.calculation.sums import add_up, notes_of, part_of, reasons
from logbook.chemistry.ranges import NOTHING, Range
from logbook.chemistry.reactions import Reaction

DISSOLVE = "dissolve"
NO_DEMAND = frozenset({"side", "step"})
ROUTES = "the reactions can go more than one way, so that there are only limits"


@dataclass(frozen=True, slots=True)
class Target:
    """What reactions work on: a metal or a substance [g], and how much of a reagent it asks.

    `per_gram` are the limits over all the ways the work can go [g/g].
    """

    figure: Figure
    per_gram: Range
    ways: tuple[Reaction, ...]

    @property
    def told(self) -> bool:
        """Whether anything is known of it: of a metal, more than that it is part of a charge."""
        if self.figure.known or self.figure.low:
            return True
        return self.figure.high is not None and not self.ways[0].metal


def demand(chemistry: StageChemistry, formula: str) -> Figure | None:
    """Grams of a substance that a stage asks for; None where nothing there asks for it.

    Equation: m = Σ m_i r_i [g], r_i between the least and the most that the reactions of
    target i ask for a gram of it. Source: the balanced equations of reactions.toml.
    """
    targets, rest = list(_targets(chemistry, formula)), _rest(chemistry, formula)
    if not targets and rest is None:
        return None
    if not any(target.told for target in targets) and not _partly_told(chemistry, rest):
        why = reasons(target.figure for target in targets) or "what the charge holds is not written"
        return not_known(f"{formula} asked for", "g", why, *(one.figure for one in targets))
    parts = [_part(target, formula, within_rest=rest is not None) for target in targets]
    parts += [rest] if rest is not None else []
    whole = add_up(f"{formula} asked for", "g", parts)
    ways = [way for target in targets for way in _ways(target)]
    notes = dict.fromkeys([*ways, *notes_of(parts)])
    return replace(whole, notes=tuple(notes))


def _partly_told(chemistry: StageChemistry, rest: Figure | None) -> bool:
    """Whether something is known of a charge, though it does not ask for the substance."""
    return rest is not None and any(one.known or one.low for one in chemistry.metals.values())


def _targets(chemistry: StageChemistry, formula: str) -> Iterable[Target]:
    """Each thing that is worked on with a substance, once."""
    by_basis: dict[str, list[Reaction]] = {}
    for reaction in chemistry.reactions:
        if reaction.work not in NO_DEMAND:
            by_basis.setdefault(reaction.basis, []).append(reaction)
    substances = {substance.formula: substance for substance in chemistry.substances}
    for basis, found in by_basis.items():
        figure = _worked_on(chemistry.metals, substances, found[0], basis)
        ways = _ways_with(found, formula)
        if figure is not None and ways:
            asked = [way.asked(formula) for way in ways]
            yield Target(figure, Range(min(asked), max(asked)), tuple(ways))


def _worked_on(
    metals: Mapping[str, Figure], substances: Mapping[str, Substance], one: Reaction, basis: str
) -> Figure | None:
    if one.metal:
        return metals.get(one.metal)
    substance = substances.get(basis)
    if substance is None:
        return None
    grams = substance.grams
    why = f"how much {basis} the earlier work left is not known"
    return Figure(f"{basis} there", "g", why=why, low=grams.low, high=grams.high)


def _ways_with(found: Sequence[Reaction], formula: str) -> list[Reaction]:
    """The ways of one work that a substance has a part in: to dissolve comes before to drop."""
    works = dict.fromkeys(sorted((one.work for one in found), key=lambda one: one != DISSOLVE))
    for work in works:
        ways = [one for one in found if one.work == work]
        if any(formula in one.asks for one in ways):
            return ways
    return []


def _part(target: Target, formula: str, *, within_rest: bool) -> Figure:
    """What one target asks for; what is not known of it is counted with the rest, if it can be."""
    name = f"{formula} for {target.figure.name}"
    per = target.per_gram
    words = f"{target.figure.name} × {ratio_words(per)}"
    if per.exact and target.figure.value is not None:
        return part_of(name, target.figure, per.low, words)
    amount = within(target.figure)
    if within_rest and not target.figure.known and target.ways[0].work == DISSOLVE:
        amount = Range.exactly(amount.low)
    grams = amount * per
    why = reasons([target.figure]) or ROUTES
    return Figure(
        name, "g", formula=words, terms=(target.figure,), why=why, low=grams.low, high=grams.high
    )


def ratio_words(per: Range) -> str:
    """A ratio of mass in words, with four figures: it is a limit of what a reaction asks.

    >>> ratio_words(Range(0.77886, 1.1683))
    '0.7789 to 1.168 g a gram'
    """
    if per.exact or per.high is None:
        return f"{per.low:.4g} g a gram"
    return f"{per.low:.4g} to {per.high:.4g} g a gram"


def _rest(chemistry: StageChemistry, formula: str) -> Figure | None:
    """What the part of a charge that no line tells may ask for: between nothing and the most."""
    rest = chemistry.rest
    ways = [one for one in chemistry.reactions if one.work == DISSOLVE and formula in one.asks]
    if not ways or (rest is not None and within(rest).high == 0):
        return None
    if rest is None:
        why = "neither the weight of the charge nor what else it is made of is written"
        return not_known(f"{formula} for the rest", "g", why)
    most = max(ways, key=lambda way: way.asked(formula))
    grams = within(rest) * Range(0.0, most.asked(formula))
    return Figure(
        f"{formula} for the rest",
        "g",
        formula=f"{rest.name} × 0 to {most.asked(formula):.4g} g a gram",
        terms=(rest,),
        why="what else the charge is made of is not written",
        low=0.0,
        high=grams.high,
        notes=(
            f"what no line tells of the charge is taken as anything from what is not touched "
            f"to {most.metal}, which asks for most",
        ),
    )


def _ways(target: Target) -> Iterable[str]:
    for way in target.ways:
        yield f"{way.equation.text} ({way.standing}: {way.source})"


def used_up(chemistry: StageChemistry, formula: str, dissolved: Mapping[str, float]) -> Range:
    """Grams of a substance that a stage uses up: at least for what was surely dissolved there.

    The upper limit is what the whole charge asks for; there is none where that is not known.
    """
    whole = demand(chemistry, formula)
    if whole is None:
        return NOTHING
    least = sum(
        target.per_gram.low * dissolved.get(target.ways[0].metal, 0.0)
        for target in _targets(chemistry, formula)
        if target.ways[0].work == DISSOLVE
    )
    return Range(least, within(whole).high)
