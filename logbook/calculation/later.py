"""What later runs made of the side streams of a run: a filter of March, burnt in September.

The metal a later run won is shared between all that it took, by what each held. Such a share
follows the metal and is no measurement: it changes no balance.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from logbook.calculation.figure import Figure
from logbook.calculation.origins import Origins, origins_of
from logbook.calculation.results import MetalBalance, Role, RunFigures, Thing
from logbook.calculation.sums import add_up, ratio
from logbook.model.amount import Uncertain, total

FORMULA = "what later runs made of its side streams, shared by what each of their inputs held"


def with_later(runs: Mapping[str, RunFigures], things: Iterable[Thing]) -> dict[str, RunFigures]:
    """The figures of every run, with what came later of what it left.

    Equations: W_s = P_s + L_s [g] is what run s and those after it won; L_r = Σ W_s c_x / H_s
    over the things x that run s took from run r, with c_x what x held and H_s what all that s
    took held. Recovery so far is (P + L) / H. Source: sharing by content is common practice,
    no source.
    """
    work = _Later(runs, origins_of(things))
    return {
        name: replace(
            figures, balances=tuple(work.completed(balance) for balance in figures.balances)
        )
        for name, figures in runs.items()
    }


@dataclass(slots=True)
class _Later:
    """Later products by run and metal, each worked out once."""

    runs: Mapping[str, RunFigures]
    origins: Origins
    found: dict[tuple[str, str], Figure | None] = field(default_factory=dict)

    def completed(self, balance: MetalBalance) -> MetalBalance:
        """A balance with what was made later, where anything was."""
        later = self.later(balance.run, balance.metal)
        if later is None or later.value is None or later.value.value <= 0.0:
            return balance
        won = add_up("product so far", "g", [balance.product, later])
        so_far = ratio("recovery so far", "g/g", won, balance.head)
        return replace(balance, later=later, so_far=so_far if so_far.known else None)

    def later(self, run: str, metal: str) -> Figure | None:
        """What later runs made of what a run left; None where they made nothing of it."""
        key = run, metal
        if key in self.found:
            return self.found[key]
        self.found[key] = None  # a run that comes back to itself adds nothing
        parts = [
            part
            for thing in self.runs[run].things_out
            if thing.role is not Role.PRODUCT and metal in thing.held
            if (part := self._part(thing, run, metal)) is not None
        ]
        if parts:
            self.found[key] = add_up("made of it later", "g", parts, FORMULA)
        return self.found[key]

    def _part(self, thing: Thing, run: str, metal: str) -> Figure | None:
        """The share of a later run's metal that one thing brought."""
        user = self.origins.user(thing)
        if user in ("", run) or user not in self.runs:
            return None
        held, whole = _content(thing, metal), self._taken(user, metal)
        won = self._won(user, metal)
        if held is None or whole is None or won is None or won.value is None:
            return None
        if held.value <= 0.0 or whole.value <= 0.0:
            return None
        title = f"[{thing.label}]" if thing.label else f"the {thing.what}"
        return Figure(
            f"made later of {title}",
            "g",
            won.value * (held / whole),
            f"{won.name} × what {title} held of all that was taken",
            (won, thing.held[metal].allocated or thing.held[metal].best),
        )

    def _won(self, run: str, metal: str) -> Figure | None:
        """What a run won of a metal, with what was made later of what it left."""
        balance = next((one for one in self.runs[run].balances if one.metal == metal), None)
        if balance is None or not balance.product.known:
            return None
        later = self.later(run, metal)
        if later is None:
            return balance.product
        return add_up("product so far", "g", [balance.product, later])

    def _taken(self, run: str, metal: str) -> Uncertain | None:
        """What all that a run took held, by content or by share; None where one has neither."""
        contents = [
            _content(thing, metal) for thing in self.runs[run].things_in if metal in thing.held
        ]
        known = [one for one in contents if one is not None]
        return total(known) if len(known) == len(contents) else None


def _content(thing: Thing, metal: str) -> Uncertain | None:
    """What a thing held [g]: its content, or the share it was given of a sum."""
    content = thing.held[metal]
    for figure in (content.best, content.allocated):
        if figure is not None and figure.value is not None:
            return figure.value
    return None
