"""How sure an amount is, from the way it was written and the balance it was read on.

Standard uncertainties after JCGM 100:2008: a rectangular distribution of half-width a has
u = a / sqrt(3) (4.3.7), so that the last digit of a reading gives u = 0.29 d (F.2.2.1).
"""

from __future__ import annotations

from math import hypot, sqrt

from logbook.model.amount import Dimension
from logbook.model.book import Scale

ROOT_THREE = sqrt(3.0)
ABOUT_HALF_WIDTH = 0.10  # "about": this project's own convention, see the guide
VESSEL_HALF_WIDTH = 0.05  # a beaker's marks are within 5 %: what makers print on them
DIGITS_READ = {
    Dimension.MASS,
    Dimension.VOLUME,
    Dimension.TIME,
    Dimension.LENGTH,
    Dimension.AREA,
    Dimension.TEMPERATURE,
    Dimension.FRACTION,
    Dimension.CONCENTRATION,
    Dimension.MOLARITY,
    Dimension.PEROXIDE,
    Dimension.BAUME,
    Dimension.DENSITY,
    Dimension.VOLTAGE,
    Dimension.CURRENT,
    Dimension.POWER,
    Dimension.ENERGY,
}


def resolution(step: float) -> float:
    """Standard uncertainty of a reading from the step of its last digit: 0.29 d.

    >>> round(resolution(1.0), 2)
    0.29
    """
    return step / 2 / ROOT_THREE


def of_scale(scale: Scale) -> float:
    """Readability and repeatability of a balance combined: sqrt((0.29 d)² + s²)."""
    return hypot(resolution(scale.reads), scale.repeats)


def fitting_scale(
    scales: tuple[Scale, ...], value: float, step: float, volume: bool
) -> Scale | None:
    """The only balance that can have given a reading; None where none or several can.

    A balance can have given it if it carries the load and shows just as many places.
    """
    if not scales:
        return None
    fitting = [
        scale
        for scale in scales
        if scale.volume is volume
        and (scale.capacity is None or value <= scale.capacity)
        and abs(scale.reads - step) <= 1e-6 * step
    ]
    return fitting[0] if len(fitting) == 1 else None


def named_scale(scales: tuple[Scale, ...], words: str) -> Scale | None:
    """The balance that words such as "the pocket scale" or "the 0.01 g scale" name."""
    lowered = words.lower()
    for scale in scales:
        if scale.name.lower() in lowered:
            return scale
    for scale in scales:
        reads = scale.reads * (1000.0 if scale.volume else 1.0)
        if f"{reads:g} " in f"{lowered} " and ("scale" in lowered or "balance" in lowered):
            return scale
    return None
