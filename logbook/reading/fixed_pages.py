"""The pages of the bench that hold for every log: bench, supplies, prices, scales, sources."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.book import Bench, Customs, FixedPage, Scale, ScrapKind
from logbook.model.edition import KeptBack
from logbook.model.run import Fact
from logbook.reading.amounts import amount_reader
from logbook.reading.blocks import BlockKind, blocks_of
from logbook.reading.body import read_body
from logbook.reading.context import Reading
from logbook.reading.facts import fact, writes_comma
from logbook.reading.read_log import head_of
from logbook.reading.rooms import read_room
from logbook.reading.unit_words import currency_code
from logbook.source import Span
from logbook.units import currencies

_SCALE = re.compile(
    r"(?:(?P<kind>scale|balance|measure|cylinder|burette|pipette)\s+)?(?P<name>[^:]+?)\s*:\s+", re.I
)
_PART = re.compile(r"(?P<word>reads|repeats|up to|to)\s+", re.I)
_TARIFF_WORDS = ("tariff", "electricity", "electricity tariff")
_SCRAP = re.compile(r"(?P<name>[^:\n]+?)\s*:\s+(?P<rest>.+)", re.S)
_ALSO = re.compile(r"\s*also\s+(?P<names>.+?)\s*$", re.I | re.S)


def read_customs_and_bench(reading: Reading) -> tuple[Customs, Bench]:
    """How the bench writes, and on which terms it works, from bench.md."""
    title, facts, rest = head_of(reading, blocks_of(reading.source))
    numbers = fact(facts, "numbers")
    currency = _currency(reading, fact(facts, "currency"))
    customs = Customs(numbers is not None and writes_comma(numbers.value), currency)
    reading.customs = customs
    named = fact(facts, "title")
    keeper = fact(facts, "keeper")
    theme = fact(facts, "theme")
    bench = Bench(
        named.value if named else title or Bench().title,
        keeper.value if keeper else "",
        currency,
        _rate(reading, fact(facts, "hour", "worth of an hour", "an hour"), Dimension.TIME),
        _rate(
            reading, fact(facts, "tariff", "electricity", "electricity tariff"), Dimension.ENERGY
        ),
        facts,
        read_body(reading, rest),
        read_room(reading, facts),
        theme.value.strip().lower() if theme else Bench().theme,
        _kept_back(reading, fact(facts, "public")),
        _address(reading, fact(facts, "address")),
    )
    return customs, bench


_KEPT = re.compile(r"(?P<kept>no|not|without)?\s*(?P<what>[a-z]+)", re.I)
_OF_MONEY = frozenset({"money", "price", "prices", "cost", "costs"})
_OF_PHOTOS = frozenset({"photo", "photos", "picture", "pictures"})


def _kept_back(reading: Reading, said: Fact | None) -> KeptBack:
    """What stays out of a public edition: `Public: with money, without keeper`."""
    kept = KeptBack()
    for part in re.split(r"\s*(?:[,;]|\band\b)\s*", said.value if said else ""):
        match = _KEPT.fullmatch(part.lower().removeprefix("with ").strip())
        if match is None:
            kept = _not_understood(reading, said, part, kept)
            continue
        out, what = match["kept"] is not None, match["what"]
        if what in _OF_MONEY:
            kept = replace(kept, money=out)
        elif what == "keeper":
            kept = replace(kept, keeper=out)
        elif what in _OF_PHOTOS:
            kept = replace(kept, photos=out)
        elif what in {"all", "everything", "yes"} and not out:
            kept = KeptBack(money=False)
        else:
            kept = _not_understood(reading, said, part, kept)
    return kept


def _not_understood(reading: Reading, said: Fact | None, part: str, kept: KeptBack) -> KeptBack:
    if said is not None and part:
        reading.doubt(
            "public-unknown",
            said.span.start,
            said.span.end,
            f'"{part}" does not say what a public edition leaves out',
            "money left out" if kept.money else "money shown",
            "write all, or some of: without money, with money, without keeper, without photos",
        )
    return kept


def _address(reading: Reading, said: Fact | None) -> str:
    """Where the site will stand on the web; only there can it have a feed."""
    if said is None:
        return ""
    if re.fullmatch(r"https?://[^\s/?#<>\"']+(?:/[^\s?#<>\"']*)?", said.value):
        return said.value.rstrip("/")
    reading.doubt(
        "address-not-read",
        said.span.start,
        said.span.end,
        f'"{said.value}" is not the address of a site',
        "no address: the site has no feed and no list of its pages",
        "write it as https://example.org/bench, and nothing else on that line",
    )
    return ""


def _currency(reading: Reading, said: Fact | None) -> str:
    if said is None:
        return ""
    word = said.value.strip().lower()
    if word in currencies():
        return currency_code(word, "")
    if re.fullmatch(r"[a-z]{3}", word):
        return word.upper()
    reading.doubt(
        "currency-unknown",
        said.span.start,
        said.span.end,
        f'"{said.value}" is not read as a currency',
        "no currency for this book",
        "write its three letters, such as EUR",
    )
    return ""


def _rate(reading: Reading, said: Fact | None, per: Dimension) -> Amount | None:
    """Money per hour or per kilowatt-hour; an amount of money alone is per one of them."""
    if said is None:
        return None
    reader = amount_reader(reading.customs.decimal_comma)
    found = reader.read(reading, said.span.start, said.span.end)
    if found is not None and found[0].dimension in {Dimension.MONEY, Dimension.PRICE}:
        return found[0]
    unit = "an hour" if per is Dimension.TIME else "a kilowatt-hour"
    reading.doubt(
        "rate-not-read",
        said.span.start,
        said.span.end,
        f'"{said.value}" is not read as money for {unit}',
        "nothing: what rests on it is not known",
        "write it as 18 EUR" if per is Dimension.TIME else "write it as 0.31 EUR per kWh",
    )
    return None


def read_page(reading: Reading) -> FixedPage:
    """A page of entries, such as supplies.md or prices.md."""
    title, _, rest = head_of(reading, blocks_of(reading.source))
    return FixedPage(reading.source, title or reading.source.name, read_body(reading, rest))


def read_scales(reading: Reading) -> tuple[Scale, ...]:
    """The balances and measures of scales.md, one a list item."""
    scales: list[Scale] = []
    for span in _items(reading):
        match = _SCALE.match(reading.source.text, span.start, span.end)
        scale = _scale(reading, match, span) if match else None
        if scale is None:
            reading.error(
                "scale-not-read",
                span.start,
                span.end,
                "this is not read as a balance or a measure",
                "write: scale pocket: reads 0.01 g, repeats 0.01 g, up to 200 g",
            )
        else:
            scales.append(scale)
    return tuple(scales)


def _scale(reading: Reading, match: re.Match[str], span: Span) -> Scale | None:
    reader = amount_reader(reading.customs.decimal_comma)
    parts: dict[str, Amount] = {}
    for part in _PART.finditer(reading.source.text, match.end(), span.end):
        found = reader.read(reading, part.end(), span.end)
        if found is not None:
            parts[part["word"].lower().removeprefix("up ")] = found[0]
    reads = parts.get("reads")
    if reads is None or not reads.base_value:
        return None
    if reads.dimension not in {Dimension.MASS, Dimension.VOLUME}:
        return None
    repeats, limit = parts.get("repeats"), parts.get("to")
    return Scale(
        span,
        match["name"].strip(),
        reads.base_value,
        (repeats.base_value if repeats else 0.0) or 0.0,
        limit.base_value if limit else None,
        reads.dimension is Dimension.VOLUME,
    )


def read_scrap(reading: Reading) -> tuple[ScrapKind, ...]:
    """The kinds of scrap of sources.md, one a list item."""
    kinds: list[ScrapKind] = []
    for span in _items(reading):
        match = _SCRAP.match(reading.source.text, span.start, span.end)
        name = " ".join((match["name"] if match else span.text).split())
        rest = " ".join(match["rest"].split()) if match else ""
        also = _ALSO.match(rest.partition(";")[0].partition(". ")[0])
        names = tuple(part.strip() for part in also["names"].split(",")) if also else ()
        note = rest if also is None else rest[also.end() :].lstrip(";. ")
        kinds.append(ScrapKind(span, name, tuple(n for n in names if n), note))
    return tuple(kinds)


def _items(reading: Reading) -> list[Span]:
    blocks = blocks_of(reading.source)
    return [block.words for block in blocks if block.kind is BlockKind.ITEM and block.depth == 1]
