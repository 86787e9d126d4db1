"""The kinds of question, each with its example and its reader, in the order they are tried.

A new kind means one function in its module, one row here, and its cases in the tests.
"""

from __future__ import annotations

from logbook.model.question import Kind
from logbook.reading.asking import Form
from logbook.reading.question_books import (
    claimed,
    content,
    enough,
    fineness,
    plan,
    stock,
    worth,
)
from logbook.reading.question_fineness import (
    cell,
    density,
    filled,
    inquart,
    ounces,
    plating,
    weighings,
)
from logbook.reading.question_short import in_short
from logbook.reading.question_solutions import dilute, make, mix, saturation
from logbook.reading.question_strengths import by_parts, in_other_units
from logbook.reading.question_work import gas, worked

FORMS: tuple[Form, ...] = (
    Form(
        Kind.PLAN,
        "plan for 1.2 kg contacts like 2026-01-15-first-lot",
        "what a run's own ratios give for another amount",
        plan,
    ),
    Form(Kind.STOCK, "how much nitric acid is left?", "what the book tells of a supply", stock),
    Form(
        Kind.ENOUGH,
        "is there enough nitric acid for this?",
        "in a plan: what it asks for against what is left in stock",
        enough,
    ),
    Form(Kind.WORTH, "worth of 12.3 g of silver 99 %", "at the book's latest price", worth),
    Form(
        Kind.GAS,
        "gas from 100 g copper in nitric acid 68 %, in a room of 30 m3",
        "its kind and volume, against the limits for breathing",
        gas,
    ),
    Form(
        Kind.PARTS,
        "1 L aqua regia 3:1 from hydrochloric acid 32 % and nitric acid 68 %",
        "how much of each, and what it holds before anything has reacted",
        by_parts,
    ),
    Form(
        Kind.WEIGHINGS,
        "fineness of gold and copper from 12.34 g in air and 11.52 g in water at 22 C",
        "by density, with its doubt",
        weighings,
    ),
    Form(
        Kind.FINENESS,
        "fineness of [A-1]",
        "as it was written, and by density where it was weighed in water",
        fineness,
    ),
    Form(Kind.DENSITY, "gold in a density of 15.5 g/cm3 with silver", "by density", density),
    Form(
        Kind.INQUART,
        "silver to inquart 10 g of 14 kt gold, holding 1 g silver",
        "by the ratios in use, or by the one named",
        inquart,
    ),
    Form(Kind.FILLED, "gold in 100 g of 1/20 12 kt gold filled", "as the mark claims", filled),
    Form(Kind.PLATING, "gold in 12 cm2 plated 2.5 micron", "area times thickness", plating),
    Form(Kind.CELL, "silver from a cell at 5 A for 3 h", "the most that it can carry over", cell),
    Form(
        Kind.DILUTE,
        "dilute 500 mL nitric acid 68 % to 35 %",
        "how much water, and how much it gives",
        dilute,
    ),
    Form(
        Kind.SATURATION,
        "saturation of copper sulfate in 1 L water at 20 C",
        "how much stays dissolved",
        saturation,
    ),
    Form(
        Kind.NEUTRALISE,
        "sodium carbonate to neutralise 100 mL nitric acid 70 %",
        "what the equation asks for",
        worked(Kind.NEUTRALISE),
    ),
    Form(
        Kind.DROP,
        "sodium metabisulfite to drop 12 g gold",
        "what the equation asks for",
        worked(Kind.DROP),
    ),
    Form(
        Kind.CEMENT,
        "copper to cement 100 g silver",
        "what the equation asks for",
        worked(Kind.CEMENT),
    ),
    Form(
        Kind.DESTROY,
        "sulfamic acid to destroy 1 mL nitric acid 70 %",
        "what the equation asks for",
        worked(Kind.DESTROY),
    ),
    Form(
        Kind.CONVERT,
        "sodium hydroxide to convert 100 g silver chloride",
        "what the equation asks for",
        worked(Kind.CONVERT),
    ),
    Form(
        Kind.DISSOLVE,
        "nitric acid 68 % to dissolve 100 g silver",
        "between the routes that the reaction can take",
        worked(Kind.DISSOLVE),
    ),
    Form(
        Kind.DILUTE,
        "water to make 1 L hydrochloric acid 10 % from 32 %",
        "how much of each",
        make,
    ),
    Form(
        Kind.STRENGTH,
        "molarity of hydrochloric acid 32 %",
        "in per cent, mol/L, g/L and density; also from degrees Baumé or volumes of peroxide",
        in_other_units,
    ),
    Form(
        Kind.MIX,
        "mix 200 mL nitric acid 68 % and 300 mL nitric acid 30 %",
        "the strength that comes of it",
        mix,
    ),
    Form(
        Kind.CONTENT,
        "how much silver is in [A-1]?",
        "what the book knows of a labelled thing",
        content,
    ),
    Form(
        Kind.CONTENT,
        "how much gold is in 10 g of 14 kt gold?",
        "by its karat, its mark or its name",
        claimed,
    ),
    Form(Kind.DISSOLVE, "nitric acid 68 % for 100 g silver", "the same in short", in_short),
    Form(Kind.OUNCES, "2 ozt in g", "with the other ounce where one may be meant", ounces),
)
"""Every kind of question, in the order in which the readers are tried."""
