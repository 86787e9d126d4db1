"""What the calculations hand on to the pages and the data files: the door to all its records."""

from logbook.calculation.results.answers import Answer, Warned
from logbook.calculation.results.bench import (
    Caution,
    DensityCheck,
    ReagentUse,
    StageChemistry,
    StageGas,
    StageTime,
    Substance,
)
from logbook.calculation.results.book import BookFigures, RunFigures
from logbook.calculation.results.metal import (
    Cause,
    Gap,
    LotTotal,
    MetalBalance,
    MetalPoint,
    PeriodTotal,
)
from logbook.calculation.results.money import CostLine, DayPrice, Sale
from logbook.calculation.results.things import Content, Fate, Role, StageKey, Standing, Thing
from logbook.calculation.results.waste import (
    BaseNeed,
    Discarded,
    LimitLine,
    WasteContainer,
    WasteStep,
)

__all__ = [
    "Answer",
    "BaseNeed",
    "BookFigures",
    "Cause",
    "Caution",
    "Content",
    "CostLine",
    "DayPrice",
    "DensityCheck",
    "Discarded",
    "Fate",
    "Gap",
    "LimitLine",
    "LotTotal",
    "MetalBalance",
    "MetalPoint",
    "PeriodTotal",
    "ReagentUse",
    "Role",
    "RunFigures",
    "Sale",
    "StageChemistry",
    "StageGas",
    "StageKey",
    "StageTime",
    "Standing",
    "Substance",
    "Thing",
    "Warned",
    "WasteContainer",
    "WasteStep",
]
