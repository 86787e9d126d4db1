"""Gas that needs no work: what acid, base, water or heat sets free, and what two kinds give.

Only upper limits come from here. Kinds and ratios are those of releases.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from logbook.calculation.bench.gas_bounds import share, summed, there, tightest
from logbook.calculation.bench.gas_mix import Mix
from logbook.calculation.figure import Figure
from logbook.chemistry.air import name_of
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.releases import (
    Driven,
    Release,
    driven,
    gram_of,
    helpers,
    hydrogen,
    pairs,
    releases,
)
from logbook.reference import metals

GasPart = tuple[str, Figure]
NITRIC = "HNO3"
OPEN_CHARGE = "neither the weight of the charge nor what it is made of is written"
BY = {
    "drying": "heat drives {gas} out of {of}",
    "fire": "the fire makes {gas} of {of}",
    "water": "water, or damp air, sets {gas} free from {of}",
    "sulfuric": "strong sulfuric acid makes {gas} of {of}",
}


def freed_parts(mix: Mix) -> Iterator[GasPart]:
    """Each gas that things give off by themselves or with what stands beside them [g]."""
    yield from _set_free(mix)
    yield from _of_pairs(mix)
    yield from _hydrogen(mix)
    nitrogen = mix.nitrogen("NO2") if mix.setting.dried else None
    if nitrogen is not None:
        note = "as if heat drove all the nitrate out as nitrogen dioxide"
        yield "NO2", tightest("nitrogen dioxide driven out by heat", [nitrogen], (note,))


def _set_free(mix: Mix) -> Iterator[GasPart]:
    """What any acid or base sets free from a salt, and what heat, water or fire does.

    Ways that give the same gas from the same thing share it: it is counted once, at the most.
    """
    ways: dict[tuple[str, str], list[Release | Driven]] = {}
    every: tuple[Release | Driven, ...] = (*releases(), *driven())
    for way in every:
        if way.of in mix.substances and _happens(way, mix):
            ways.setdefault((way.of, way.gas), []).append(way)
    for (of, gas), found in ways.items():
        ratio = max(way.from_salt() for way in found)
        bounds = [
            share(f"{name_of(gas)} that {of} allows", there(mix.substances[of]), ratio),
        ]
        if all(isinstance(way, Release) for way in found):
            helped = [one for way in found if isinstance(way, Release) for one in _helped(way, mix)]
            bounds.append(summed(f"{name_of(gas)} that acid or base allows", helped))
        yield gas, tightest(f"{name_of(gas)} from {of}", bounds, [_told(way) for way in found])


def _happens(way: Release | Driven, mix: Mix) -> bool:
    if isinstance(way, Release):
        return any(one.formula != way.of for one in mix.of_kind(way.set_free_by))
    return {
        "drying": mix.setting.dried,
        "fire": mix.setting.fire,
        "water": True,
        "sulfuric": "H2SO4" in mix.substances,
    }[way.by]


def _helped(release: Release, mix: Mix) -> list[Figure]:
    return [
        share(
            f"{name_of(release.gas)} that {one.formula} allows",
            there(one),
            release.from_helper(one.formula),
        )
        for one in mix.of_kind(release.set_free_by)
    ]


def _told(way: Release | Driven) -> str:
    gas = name_of(way.gas)
    if isinstance(way, Release):
        return f"any {way.set_free_by} sets {gas} free from {way.of}"
    return BY[way.by].format(gas=gas, of=way.of)


def _of_pairs(mix: Mix) -> Iterator[GasPart]:
    """What two kinds give together, bounded by each of them."""
    for pair in pairs():
        first = mix.allowed(pair.first, pair.gas, pair.per_first)
        second = mix.allowed(pair.second, pair.gas, pair.per_second)
        if first and second and mix.of_kind(pair.beside):
            gas = name_of(pair.gas)
            bounds = [
                summed(f"{gas} that {pair.first} allows", first),
                summed(f"{gas} that {pair.second} allows", second),
            ]
            note = f"{pair.first} and {pair.second} give {gas} together in acid"
            yield pair.gas, tightest(f"{gas} from {pair.first} and {pair.second}", bounds, (note,))


def _hydrogen(mix: Mix) -> Iterator[GasPart]:
    """Hydrogen of any acid but nitric, whichever it is, with the metals that it dissolves."""
    acids = [one for one in mix.of_kind("acid") if one.formula != NITRIC]
    from_metal = list(_by_metal(mix))
    if not acids or not from_metal:
        return
    per_acid = [
        share(f"hydrogen that {one.formula} allows", there(one), _by_acid(one.formula))
        for one in acids
    ]
    bounds = [
        summed("hydrogen that the metal allows", from_metal),
        summed("hydrogen that the acid allows", per_acid),
    ]
    note = "two moles of acid hydrogen give one of hydrogen, whichever acid it is"
    yield "H2", tightest("hydrogen from metal", bounds, (note,))


def _by_acid(formula: str) -> float:
    return gram_of("acid", formula, "H2", 0.5)


def _by_metal(mix: Mix) -> Iterator[Figure]:
    names = {one.symbol: one.name for one in metals().values()}
    per_gram = {
        symbol: moles * molar_mass("H2") / molar_mass(symbol)
        for symbol, moles in hydrogen().items()
    }
    for symbol, ratio in per_gram.items():
        name = names.get(symbol, symbol)
        if symbol in mix.substances:
            yield share(f"hydrogen from {name}", there(mix.substances[symbol]), ratio)
        if mix.dissolves and name in mix.chemistry.metals:
            yield share(f"hydrogen from {name}", mix.chemistry.metals[name], ratio)
    if mix.dissolves and mix.open_rest:
        rest = mix.chemistry.rest or Figure("the rest of the charge", "g", why=OPEN_CHARGE)
        worst = max(per_gram, key=lambda symbol: per_gram[symbol])
        note = f"what no line tells of the charge is taken as {names[worst]}, which gives most"
        yield share("hydrogen from the rest", rest, per_gram[worst], note)


@cache
def counted_here() -> frozenset[tuple[str, str]]:
    """Each substance and gas that is counted by its kind, whatever equation tells of it as well."""
    freed = {(one.of, one.gas) for one in releases()}
    chlorine = [one for one in pairs() if one.gas in ("Cl2", "NOCl")]
    paired = {(formula, one.gas) for one in chlorine for formula in helpers(one.first)}
    acids = helpers("acid").keys() - {NITRIC}
    return frozenset(freed | paired | {(acid, "H2") for acid in acids})
