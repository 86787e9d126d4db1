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
from logbook.calculation.results.claims import ClaimCheck
from logbook.calculation.results.earnings import Earnings, Spread, Swing
from logbook.calculation.results.metal import (
    Cause,
    Gap,
    LotTotal,
    MetalBalance,
    MetalPoint,
    MonthRecovery,
    PeriodTotal,
)
from logbook.calculation.results.money import (
    BookAccount,
    BookLine,
    Costing,
    CostLine,
    DayPrice,
    RunCosting,
    Sale,
    StageCost,
    Supplies,
    SupplyAccount,
    SupplyMove,
    ThingCost,
)
from logbook.calculation.results.things import Content, Fate, Role, StageKey, Standing, Thing
from logbook.calculation.results.waste import (
    BaseNeed,
    Discarded,
    LimitLine,
    WasteContainer,
    WasteStep,
)
from logbook.calculation.results.worth import BuyerTerms, HeldWorth, Holdings, PriceAge

__all__ = [
    "Answer",
    "BaseNeed",
    "BookAccount",
    "BookFigures",
    "BookLine",
    "BuyerTerms",
    "Cause",
    "Caution",
    "ClaimCheck",
    "Content",
    "CostLine",
    "Costing",
    "DayPrice",
    "DensityCheck",
    "Discarded",
    "Earnings",
    "Fate",
    "Gap",
    "HeldWorth",
    "Holdings",
    "LimitLine",
    "LotTotal",
    "MetalBalance",
    "MetalPoint",
    "MonthRecovery",
    "PeriodTotal",
    "PriceAge",
    "ReagentUse",
    "Role",
    "RunCosting",
    "RunFigures",
    "Sale",
    "Spread",
    "StageChemistry",
    "StageCost",
    "StageGas",
    "StageKey",
    "StageTime",
    "Standing",
    "Substance",
    "Supplies",
    "SupplyAccount",
    "SupplyMove",
    "Swing",
    "Thing",
    "ThingCost",
    "Warned",
    "WasteContainer",
    "WasteStep",
]
