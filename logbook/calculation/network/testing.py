"""Blocks of equations tested, and freed where they fail until the rest passes.

A block that fails is not adjusted as it stands: the stage whose loss explains most is given
one of any size, and so on, until what is left agrees. Nothing here knows what is adjusted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logbook.calculation.network.arcs import Block, OpenZone, Suspect
from logbook.calculation.network.parity import (
    Equations,
    Loss,
    chi_square_limit,
    z_limit,
)
from logbook.calculation.network.zones import Equation, as_equations


@dataclass(frozen=True, slots=True)
class Tested:
    """A block: all of its equations, those that were kept, and the losses that were freed."""

    whole: Equations
    kept: Equations
    freed: tuple[Loss, ...]
    arcs: tuple[str, ...]
    named: tuple[Suspect, ...]

    @property
    def nodes(self) -> tuple[str, ...]:
        """The nodes that the equations hold for."""
        return tuple(dict.fromkeys(node for loss in self.whole.losses for node in loss.nodes))

    def block(self) -> Block:
        """How it was tested, to be shown."""
        whole = self.whole
        return Block(
            nodes=self.nodes,
            arcs=self.arcs,
            chi_square=whole.chi_square,
            freedom=whole.freedom,
            limit=chi_square_limit(whole.freedom),
            z_limit=z_limit(whole.different_tests),
            passes=not self.freed,
            suspects=whole.suspects,
            named=self.named,
        )

    def open_zones(self, at: int) -> list[OpenZone]:
        """What is missing where a loss was freed, all that were freed estimated together."""
        if not self.freed:
            return []
        losses = [self._of_the_whole(loss) for loss in self.freed]
        estimates = self.whole.estimates(losses)
        return [
            OpenZone(
                nodes=loss.nodes,
                arcs=(loss.arc,) if loss.arc else self.arcs,
                missing=missing,
                kind="gap" if loss.nodes else "readings",
                named=self.named,
                block=at,
            )
            for loss, missing in zip(losses, estimates, strict=True)
        ]

    def _of_the_whole(self, freed: Loss) -> Loss:
        """The same loss as it shows in all of the equations."""
        return next(
            one for one in self.whole.losses if (one.nodes, one.arc) == (freed.nodes, freed.arc)
        )


def tested(block: Sequence[Equation]) -> Tested:
    """Test a block and free what has to be freed."""
    whole = as_equations(block)
    kept, freed = whole, []
    while not kept.passes:
        loss, _, _ = max(kept.loss_tests, key=lambda test: abs(test[1]))
        freed.append(loss)
        kept = kept.free(loss.effect)
    arcs = tuple(dict.fromkeys(key for one in block for key in one.arcs))
    return Tested(whole, kept, tuple(freed), arcs, whole.named() if freed else ())
