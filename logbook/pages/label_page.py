"""One label → the view of its page: every state of the jar, its lineage, every line on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.results import BookFigures, Thing
from logbook.model.book import Book
from logbook.model.entry import Entry
from logbook.pages.addresses import Here, LineLink, Link, label_path, labels_of
from logbook.pages.ancestry import MOST_STEPS, Ancestry, Step
from logbook.pages.carried_view import CarriedView, ThingMoney
from logbook.pages.content_view import amount_words, content_of, how_known
from logbook.pages.figure_view import FigureView, figure_view, known_text
from logbook.pages.frame import Frame, Site
from logbook.pages.privacy import Privacy, every_block
from logbook.pages.rounding import plural
from logbook.pages.thing_view import ThingView, amounts_of, stage_of, thing_view, thing_words
from logbook.pages.wording import age_text, day_text, sentence

DEEPEST = 8  # steps of a lineage are indented up to here
LOOKS = frozenset({"weighed", "measured", "assayed", "sampled", "tested"})


@dataclass(frozen=True, slots=True)
class StateView:
    """One state of the jar, or a part that was drawn from it."""

    heading: str
    since: str
    thing: ThingView
    made_by: Link | None
    used_by: Link | None
    drawn_from: str
    share: FigureView | None
    poured: tuple[Link, ...]
    poured_into: Link | None
    carried: CarriedView | None


@dataclass(frozen=True, slots=True)
class LineageRow:
    """One thing on the way to or from a label. `depth` is how far it is indented."""

    depth: int
    what: str
    label: Link
    amount: str
    held: tuple[str, ...]  # metal by metal: how much, how that is known, by which rule shared
    made_by: Link | None
    used_by: Link | None
    poured: bool
    again: bool


@dataclass(frozen=True, slots=True)
class Mention:
    """A line that names the label. `look` is set where it weighs, tests or assays it."""

    line: LineLink
    look: str


@dataclass(frozen=True, slots=True)
class LabelView:
    """The page of one label."""

    frame: Frame
    label: str
    summary: str
    states: tuple[StateView, ...]
    back: tuple[LineageRow, ...]
    onward: tuple[LineageRow, ...]
    cut: str
    mentions: tuple[Mention, ...]


def labels_named(figures: BookFigures, entries: Sequence[Entry]) -> dict[str, list[Entry]]:
    """Every label of a book with the entries that name it, in the order of the book."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        for name in dict.fromkeys(label.name for label in labels_of(entry)):
            found.setdefault(name, []).append(entry)
    for thing in figures.things:
        if thing.label:
            found.setdefault(thing.label, [])
    return found


def label_view(
    label: str,
    things: Sequence[Thing],
    mentions: Sequence[Entry],
    ways: Ancestry,
    money: ThingMoney,
    site: Site,
) -> LabelView:
    """The page of a label; `things` are its states and parts, `mentions` the entries on it."""
    here = site.addresses.at(label_path(label))
    back, onward = ways.back(things), ways.onward(things)
    return LabelView(
        frame=site.frame(here, f"[{label}]"),
        label=label,
        summary=_summary(things, site.newest_day),
        states=tuple(_state(thing, ways, money, here) for thing in things),
        back=tuple(_row(step, here) for step in back),
        onward=tuple(_row(step, here) for step in onward),
        cut=_cut(back, onward),
        mentions=tuple(
            Mention(here.line(entry.span), entry.action if entry.action in LOOKS else "")
            for entry in mentions
        ),
    )


def shown_entries(book: Book, privacy: Privacy) -> list[Entry]:
    """The entries of a book that may be shown, in the order of the book."""
    return [
        block for block in every_block(book) if isinstance(block, Entry) and privacy.shows(block)
    ]


def _summary(things: Sequence[Thing], newest: date | None) -> str:
    if not things:
        return (
            "Nothing of this name was ever got, kept or bought; only the lines below speak of it."
        )
    last = things[-1]
    since = f" since {day_text(last.day)}" if last.day is not None else ""
    age = age_text(last.day, newest)
    where = {"on the shelf": f"stands on the shelf{since}" + (f", {age}" if age else "")}
    words = where.get(last.fate.value, last.fate.value)
    return sentence(f"{thing_words(last)}: {words}")


def _state(thing: Thing, ways: Ancestry, money: ThingMoney, here: Here) -> StateView:
    pool = ways.pools.get(thing.key)
    parts = [ways.by_key[key] for key in thing.pooled_from if key in ways.by_key]
    return StateView(
        heading=_heading(thing.key, here, "from" if thing.made_by is not None else "in"),
        since=day_text(thing.day),
        thing=thing_view(thing, here),
        made_by=stage_of(thing.made_by, here),
        used_by=stage_of(thing.used_by, here),
        drawn_from=_heading(thing.part_of, here),
        share=_share(thing, here),
        poured=tuple(_named(part, here) for part in parts),
        poured_into=_named(pool, here) if pool is not None else None,
        carried=money.of(thing.key, here),
    )


def _share(thing: Thing, here: Here) -> FigureView | None:
    """The share of its lot that a draw is, which is a mass fraction by another name."""
    if thing.share is None:
        return None
    name = f"share of {_heading(thing.part_of, here)}"
    return figure_view(replace(thing.share, unit="g/g"), here, name=name)


def _heading(key: str, here: Here, of: str = "from") -> str:
    """A state of a jar by its name; what had none, by its words and the title of its run."""
    run, colon, what = key.partition(": ")
    if not colon or run not in here.addresses.runs:
        return key
    return f"{what}, {of} {here.run(run).text}"


def _named(thing: Thing, here: Here) -> Link:
    """A thing in a few words, linked to its label where it has one."""
    if not thing.label:
        return Link(thing_words(thing))
    return Link(f"{thing_words(thing)} [{thing.label}]", here.label(thing.label).href)


def _row(step: Step, here: Here) -> LineageRow:
    thing = step.thing
    held = [_held(thing, metal) for metal in thing.contents]
    amount = known_text(amounts_of(thing)[0])
    return LineageRow(
        depth=min(step.depth, DEEPEST),
        what=thing_words(thing),
        label=here.label(thing.label) if thing.label else Link(""),
        amount=amount,
        held=tuple(held),
        made_by=stage_of(thing.made_by, here),
        used_by=stage_of(thing.used_by, here),
        poured=bool(thing.pooled_from),
        again=step.again,
    )


def _held(thing: Thing, metal: str) -> str:
    """How much of a metal a thing on the way holds, and how that is known."""
    content = content_of(thing, metal)
    words = [amount_words(content.best), how_known(content)]
    return f"{metal} {', '.join(part for part in words if part)}"


def _cut(back: Sequence[Step], onward: Sequence[Step]) -> str:
    if max(len(back), len(onward)) < MOST_STEPS:
        return ""
    return f"Only the first {plural(MOST_STEPS, 'step')} each way are shown."


def things_by_label(things: Sequence[Thing]) -> Mapping[str, tuple[Thing, ...]]:
    """The states and parts of each label, in the order they came to be."""
    found: dict[str, list[Thing]] = {}
    for thing in things:
        if thing.label:
            found.setdefault(thing.label, []).append(thing)
    return {label: tuple(states) for label, states in found.items()}
