"""The ways through a site: a few rooms at the head of every page, and the pages in each.

The head names the rooms, and the pages of the room in which the reader stands; the foot names
all. Which pages there are depends on the book, and on nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.pages.addresses import (
    ATTENTION,
    BENCH,
    CAUTIONS,
    FRONT,
    GUIDE,
    METAL,
    METHODS,
    MONEY,
    PRICES,
    SCRAP,
    SEARCH,
    SHELF,
    SIDE_BY_SIDE,
    SUPPLIES,
    TIMELINE,
    TRENDS,
    WASTE,
    Here,
)


@dataclass(frozen=True, slots=True)
class Room:
    """Pages that belong together: name and path of each. `folders` hold more of its pages."""

    name: str
    pages: tuple[tuple[str, str], ...]
    folders: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WayLink:
    """A link to one page; `current` on that page itself."""

    text: str
    href: str
    current: bool


@dataclass(frozen=True, slots=True)
class Way:
    """A room, as a link to its first page. `here` says that the reader stands in it.

    `pages` is empty where the room has one page alone, which is then the room.
    """

    text: str
    href: str
    current: bool
    here: bool
    pages: tuple[WayLink, ...]


def rooms_of(*, supplies: bool, prices: bool, guide: bool, money: bool = True) -> tuple[Room, ...]:
    """The rooms of a site, with the pages that the book has."""
    runs = (
        ("Side by side", SIDE_BY_SIDE),
        ("Scrap", SCRAP),
        ("Methods", METHODS),
        ("Trends", TRENDS),
        ("Timeline", TIMELINE),
    )
    paid = [("Money", MONEY)] if money else []
    paid += [("Supplies", SUPPLIES)] if supplies else []
    paid += [("Prices", PRICES)] if prices else []
    bench = [("The bench", BENCH), *([("Guide", GUIDE)] if guide else [])]
    return (
        Room("Front", (("Front", FRONT),)),
        Room("Runs", runs, ("runs",)),
        Room("Metal", (("Metal", METAL), ("Shelf", SHELF), ("Waste", WASTE)), ("labels",)),
        *([Room(paid[0][0], tuple(paid))] if paid else []),
        Room("Cautions", (("Cautions", CAUTIONS),)),
        Room("Attention", (("Attention", ATTENTION),)),
        Room("Bench", tuple(bench), ("guide",)),
        Room("Search", (("Search", SEARCH),)),
    )


def ways_from(here: Here, rooms: tuple[Room, ...]) -> tuple[Way, ...]:
    """The rooms as links of one page.

    >>> from logbook.pages.addresses import Addresses
    >>> here = Addresses({}, {}, frozenset(), {}).at("waste.html")
    >>> ways = ways_from(here, rooms_of(supplies=False, prices=False, guide=False))
    >>> [way.text for way in ways if way.here], [page.text for page in ways[2].pages]
    (['Metal'], ['Metal', 'Shelf', 'Waste'])
    """
    return tuple(_way(room, here) for room in rooms)


def _way(room: Room, here: Here) -> Way:
    links = tuple(WayLink(text, here.to(path), path == here.page) for text, path in room.pages)
    folder, slash, _ = here.page.partition("/")
    inside = any(link.current for link in links) or (bool(slash) and folder in room.folders)
    alone = len(links) == 1 and not room.folders
    return Way(
        text=room.name,
        href=links[0].href,
        current=alone and links[0].current,
        here=inside,
        pages=() if alone else links,
    )
