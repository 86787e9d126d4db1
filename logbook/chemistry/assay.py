"""Gold and silver in a sample from the bead of a cupellation and from the gold that acid left.

Losses are never corrected in silence: either a proof assay gives the correction, with its
doubt, or the losses that books give make limits.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.chemistry.density import ONE
from logbook.chemistry.ranges import MissingError, Range
from logbook.model.amount import ZERO, Uncertain
from logbook.reference import load


@dataclass(frozen=True, slots=True)
class Assayed:
    """One metal in a sample [g/g].

    `read` is as weighed, nothing corrected. `corrected` is by a proof assay, None without one.
    `limits` allow for the losses in the data, and for two standard uncertainties of weighing.
    """

    metal: str
    read: Uncertain
    corrected: Uncertain | None
    limits: Range
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Proof:
    """A proof assay run beside the sample: what was put in and what was found, of one metal [g]."""

    put_in: Uncertain
    found: Uncertain

    @property
    def factor(self) -> Uncertain:
        """What a weight found is to be multiplied with."""
        if self.put_in.value <= 0.0 or self.found.value <= 0.0:
            raise MissingError("the proof assay found nothing")
        return self.put_in / self.found


def loss(name: str) -> Range:
    """A loss from the data, as a fraction of the metal.

    Rose's silver without copper lost 8.90 to 9.52 in a thousand:

    >>> loss("silver in the cupel, without copper")
    Range(low=0.0089, high=0.00952)
    """
    row = next(row for row in load("fineness.toml")["loss"] if row["name"] == name)
    return Range(float(row["low"]), float(row["high"]))


def gold_by_parting(
    sample: Uncertain, parted: Uncertain, proof: Proof | None = None, *, once: bool = False
) -> Assayed:
    """Gold in a sample, by cupelling it with silver and parting the bead.

    Equation: w = m_p / M [g/g], m_p the parted gold [g], M the sample [g]; corrected m_p c / M,
    c the factor of a proof. Limits: m_p (1 − r) / M, r silver that the gold still holds, to
    m_p / (M (1 − l)), l gold lost in the cupel. `once` tells that it was boiled only once.
    Source: surcharge in assaying (r and l in fineness.toml).

    Raises:
        MissingError: where the weights make no assay.

    0.2500 g of an alloy leaves 0.1463 g: 585.2 thousandths as weighed.

    >>> found = gold_by_parting(Uncertain(0.25), Uncertain(0.1463))
    >>> round(found.read.value, 4), round(found.limits.low, 4), round(found.limits.high, 4)
    (0.5852, 0.5846, 0.5881)
    """
    _checked(sample, parted, "the parted gold")
    read = parted / sample
    kept = loss("silver kept by gold parted once" if once else "silver kept by parted gold")
    lost = loss("gold in the cupel")
    low = (read.value - 2.0 * read.u) * (1.0 - _most(kept))
    high = (read.value + 2.0 * read.u) / (1.0 - _most(lost))
    notes = ("the limits allow for silver left in the gold and for gold lost in the cupel",)
    return _assayed("gold", read, proof, Range(max(0.0, low), min(1.0, high)), notes)


def silver_by_bead(
    sample: Uncertain,
    bead: Uncertain,
    parted: Uncertain = ZERO,
    added: Uncertain = ZERO,
    proof: Proof | None = None,
) -> Assayed:
    """Silver in a sample: the bead less the gold in it, less silver that was put in.

    Equation: w = (m_b − m_p − m_a) / M [g/g], m_b the bead, m_p its gold, m_a silver added to
    inquart, M the sample [g]; corrected ((m_b − m_p) c − m_a) / M. Limits: as read, to
    ((m_b − m_p) / (1 − l) − m_a) / M, l the most that the data have as lost in a cupel.
    Source: Rose for the losses; propagation JCGM 100:2008, 5.1.2.

    Raises:
        MissingError: where the weights make no assay.

    0.5000 g gives a bead of 0.4600 g: 920 thousandths as read, and 5 % may have been lost.

    >>> found = silver_by_bead(Uncertain(0.5), Uncertain(0.46))
    >>> round(found.read.value, 3), round(found.limits.high, 3)
    (0.92, 0.968)
    """
    _checked(sample, bead - added, "the bead without the silver added")
    silver = bead - parted
    read = (silver - added) / sample
    if silver.value < 0.0:
        raise MissingError("the parted gold weighs more than the bead")
    most = _most(loss("silver in the cupel"))
    whole = (silver.times(1.0 / (1.0 - most)) - added) / sample
    limits = Range(
        max(0.0, read.value - 2.0 * read.u), min(1.0, max(0.0, whole.value + 2.0 * whole.u))
    )
    notes = ["the limits allow for silver lost in the cupel, which is never nothing"]
    if added.value > 0.0:
        notes.append("it is a small rest of two large weights: a loss of silver weighs heavily")
    if proof is None:
        return Assayed("silver", read, None, limits, (*notes, UNCORRECTED))
    corrected = (silver * proof.factor - added) / sample
    return Assayed("silver", read, corrected, limits, (*notes, CORRECTED))


UNCORRECTED = "as weighed: no proof assay, so that nothing is corrected"
CORRECTED = "corrected by a proof assay that was run beside it"


def _assayed(
    metal: str, read: Uncertain, proof: Proof | None, limits: Range, notes: tuple[str, ...]
) -> Assayed:
    if proof is None:
        return Assayed(metal, read, None, limits, (*notes, UNCORRECTED))
    return Assayed(metal, read, read * proof.factor, limits, (*notes, CORRECTED))


def _most(lost: Range) -> float:
    assert lost.high is not None
    return lost.high


def _checked(sample: Uncertain, part: Uncertain, what: str) -> None:
    if sample.value <= 0.0:
        raise MissingError("the sample weighs nothing")
    if part.value < 0.0:
        raise MissingError(f"{what} weighs less than nothing")
    if part.value - 2.0 * (part - sample).u > sample.value:
        raise MissingError(f"{what} weighs more than the sample")


def base_metal(gold: Assayed, silver: Assayed) -> Range:
    """What of a sample is neither gold nor silver, within the limits of both [g/g].

    Equation: 1 − w_Au − w_Ag. Source: conservation of mass.
    """
    rest = ONE - gold.read - silver.read
    low = 1.0 - _most(gold.limits) - _most(silver.limits)
    high = max(rest.value, 1.0 - gold.limits.low - silver.limits.low)
    return Range(max(0.0, low), min(1.0, max(0.0, high)))
