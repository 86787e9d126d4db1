"""What each page is about, in a sentence for those who list pages: search machines and feeds."""

from __future__ import annotations

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
)

LONGEST = 300  # letters; more is cut by those who show it
ABOUT = {
    FRONT: "What a small refining bench made of its scrap, and what still stands on its shelf",
    SIDE_BY_SIDE: "All runs of the bench with their figures, to be sorted, chosen and compared",
    SCRAP: "Kinds of scrap and what metal was found in their lots, with how far lots lay apart",
    METHODS: "Ways of working by their recovery and hours, with an interval for each difference",
    TRENDS: "Charts of how recovery, hours per gram and the metal made went over time",
    TIMELINE: "Every day of the book: stages of runs, purchases, and what was put on the shelf",
    METAL: "Where each metal of the book went, from scrap to product, shelf, waste and loss",
    MONEY: "What the work cost, what it is worth, and what an hour earned",
    SHELF: "What stands on the shelf and holds metal, and since when",
    WASTE: "The containers of waste, what they hold and what must not meet in them",
    SUPPLIES: "What was bought, used and is left of each supply",
    PRICES: "The prices of metals by day, as they were noted",
    CAUTIONS: "The dangers that the work of this bench raises, with their sources",
    ATTENTION: "Entries that could not be used, balances that do not close, figures that disagree",
    BENCH: "Who keeps the book, on which terms, with which scales",
    SEARCH: "Names and lines of the book, found by words, and an index from A to Z",
    GUIDE: "How logs are written, and how what is worked out from them is to be read",
}


def description(page: str, title: str, said: str = "") -> str:
    """The sentence on a page: what its own view says, or what all pages of its kind are.

    >>> description("labels/f-21.html", "[F-21]")
    'What [F-21] is, where it came from, what it holds and where it went.'
    >>> description("shelf.html", "The shelf")
    'What stands on the shelf and holds metal, and since when.'
    """
    folder, slash, _ = page.partition("/")
    words = said or ABOUT.get(page, "")
    if not words and slash and folder == "labels":
        words = f"What {title} is, where it came from, what it holds and where it went"
    if not words:
        words = f"{title}: a chapter of the guide" if folder == "guide" else title
    words = " ".join(words.replace("\u00a0", " ").split()).rstrip(".")
    return f"{words}." if len(words) < LONGEST else f"{words[:LONGEST].rsplit(' ', 1)[0]} …"
