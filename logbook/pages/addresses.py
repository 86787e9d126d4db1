"""Where everything stands in the site: the path of each page, and of each line of a log.

Links are relative, so that the site opens from a folder as well as from a host. Nothing
here looks at a disk.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import quote

from logbook.model.book import Book
from logbook.model.entry import Entry, Label
from logbook.model.run import Block, Run
from logbook.pages.privacy import Privacy, shown
from logbook.pages.slugs import label_slug, run_slug
from logbook.source import SourceText, Span

FRONT = "index.html"
SIDE_BY_SIDE = "side-by-side.html"
SCRAP = "scrap.html"
METHODS = "methods.html"
TRENDS = "trends.html"
TIMELINE = "timeline.html"
SEARCH = "search.html"
SEARCH_INDEX = "search-index.js"
METAL = "metal.html"
SHELF = "shelf.html"
WASTE = "waste.html"
MONEY = "money.html"
ATTENTION = "attention.html"
CAUTIONS = "cautions.html"
SUPPLIES = "supplies.html"
PRICES = "prices.html"
BENCH = "bench.html"
GUIDE = "guide/index.html"
FEED = "feed.xml"
SITEMAP = "sitemap.xml"
ASSETS = "assets"  # the theme's own files, and plotly's script
LONGEST_QUOTE = 70


def run_path(name: str) -> str:
    """The page of a run.

    >>> run_path("2026-03-14-relay-contacts")
    'runs/2026-03-14-relay-contacts.html'
    """
    return f"runs/{run_slug(name)}.html"


def label_path(label: str) -> str:
    """The page of a label.

    >>> label_path("F-21")
    'labels/f-21.html'
    """
    return f"labels/{label_slug(label)}.html"


def chapter_path(name: str) -> str:
    """The page of a chapter of the guide."""
    return f"guide/{run_slug(name)}.html"


def relative(page: str, target: str) -> str:
    """The way from one page to another file of the site, ready to stand in a link.

    >>> relative("runs/a.html", "labels/f-21.html")
    '../labels/f-21.html'
    >>> relative("index.html", "files/a dish.jpg")
    'files/a%20dish.jpg'
    """
    return "../" * page.count("/") + quote(target)


def labels_of(entry: Entry) -> Iterator[Label]:
    """Every label that an entry names, in no particular order."""
    for portion in (*entry.portions, *entry.supplies):
        yield from portion.labels
    yield from entry.sources
    yield from entry.destinations
    for test in entry.tests:
        yield from test.labels


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead somewhere. `href` is empty where there is nothing to lead to."""

    text: str
    href: str = ""


@dataclass(frozen=True, slots=True)
class LineLink:
    """A place in a log that a figure rests on: where it is, and the words that stand there."""

    href: str
    place: str
    quote: str


@dataclass(frozen=True, slots=True)
class SourcePage:
    """The page on which a log or a fixed page is shown, and the lines that have an anchor."""

    path: str
    title: str
    prefix: str
    lines: tuple[int, ...]

    def anchor(self, line: int) -> str:
        """The anchor that holds a line: that of the line or of the nearest one above it."""
        at = bisect_right(self.lines, line)
        return f"{self.prefix}{self.lines[at - 1]}" if at else ""


@dataclass(frozen=True, slots=True)
class Addresses:
    """The pages of one site: by run, by stage, by label and by path of the source."""

    runs: Mapping[str, Link]  # name -> title and path
    stages: Mapping[tuple[str, int], Link]  # run and place -> both titles, and where it begins
    labels: frozenset[str]
    sources: Mapping[str, SourcePage]
    money: bool = True  # whether the edition shows sums of money

    def at(self, page: str) -> Here:
        """The same addresses, seen from one page."""
        return Here(self, page)


@dataclass(frozen=True, slots=True)
class Here:
    """Addresses as links of one page."""

    addresses: Addresses
    page: str

    @property
    def money(self) -> bool:
        """Whether sums of money are shown in this edition."""
        return self.addresses.money

    @property
    def root(self) -> str:
        """The way from the page up to the site's own folder."""
        return "../" * self.page.count("/")

    def to(self, target: str) -> str:
        """A link to another file of the site."""
        return relative(self.page, target)

    def run(self, name: str) -> Link:
        """A run by its title, with a link to its page."""
        run = self.addresses.runs.get(name)
        return Link(name) if run is None else Link(run.text, self.to(run.href))

    def stage(self, run: str, place: int) -> Link:
        """A stage by its title and its run's, with a link to its heading."""
        stage = self.addresses.stages.get((run, place))
        return self.run(run) if stage is None else Link(stage.text, f"{self.root}{stage.href}")

    def label(self, name: str) -> Link:
        """A label, with a link to its page where it has one."""
        known = name in self.addresses.labels
        return Link(name, self.to(label_path(name)) if known else "")

    def line(self, span: Span) -> LineLink:
        """The line on which a span starts, with the words of the span."""
        source = self.addresses.sources.get(span.path)
        place = f"line {span.line}"
        if source is None:
            return LineLink("", f"{place} of {span.path}", _quoted(span.text))
        anchor = source.anchor(span.line)
        fragment = f"#{anchor}" if anchor else ""
        if source.path == self.page:
            return LineLink(fragment or "#top", place, _quoted(span.text))
        href = f"{self.to(source.path)}{fragment}"
        return LineLink(href, f"{place} of {source.title}", _quoted(span.text))


def _quoted(text: str) -> str:
    """The words of a span on one line, cut where they are long."""
    words = " ".join(text.split())
    return words if len(words) <= LONGEST_QUOTE else f"{words[: LONGEST_QUOTE - 1].rstrip()}…"


def addresses_of(book: Book, labels: Iterable[str], privacy: Privacy) -> Addresses:
    """The addresses of a book's pages. Lines that are not shown get no anchor."""
    titles = dict(_titles(book.runs))
    sources = {run.source.path: _run_source(run, titles[run.name], privacy) for run in book.runs}
    for page, path in ((book.supplies, SUPPLIES), (book.prices, PRICES)):
        if page is not None:
            lines = _anchored(shown(privacy, page.blocks))
            sources[page.source.path] = SourcePage(path, page.title, "line-", lines)
    sources.update(_bench_sources(book, privacy))
    runs = {run.name: Link(titles[run.name], run_path(run.name)) for run in book.runs}
    stages = dict(_stages(book, titles))
    return Addresses(runs, stages, frozenset(labels), sources, book.edition.money)


def _titles(runs: Sequence[Run]) -> Iterator[tuple[str, str]]:
    """What each run is called where it stands among others: one title names one run."""
    count = Counter(run.title for run in runs)
    for run in runs:
        yield run.name, run.title if count[run.title] == 1 else f"{run.title} ({run.name})"


def _stages(book: Book, titles: Mapping[str, str]) -> Iterator[tuple[tuple[str, int], Link]]:
    """The stages that have a heading of their own to lead to."""
    for run in book.runs:
        for place, stage in enumerate(run.stages):
            if stage.title:
                where = f"{run_path(run.name)}#line-{stage.span.line}"
                yield (run.name, place), Link(f"{stage.title}, {titles[run.name]}", where)


def _run_source(run: Run, title: str, privacy: Privacy) -> SourcePage:
    blocks = shown(privacy, (*run.opening, *(b for stage in run.stages for b in stage.blocks)))
    lines = {fact.span.line for fact in run.facts}
    lines.update(stage.span.line for stage in run.stages if stage.title)
    lines.update(_anchored(blocks))
    return SourcePage(run_path(run.name), title, "line-", tuple(sorted(lines)))


def _anchored(blocks: Iterable[Block]) -> tuple[int, ...]:
    return tuple(sorted({line for block in blocks for line in block_lines(block)}))


def block_lines(block: Block) -> range:
    """The lines of a block that get an anchor: each line of an entry, the first of others."""
    if not isinstance(block, Entry):
        return range(block.span.line, block.span.line + 1)
    words = block.span.text.rstrip()
    return range(block.span.line, block.span.line + words.count("\n") + 1)


def _bench_sources(book: Book, privacy: Privacy) -> dict[str, SourcePage]:
    """bench.md, scales.md and sources.md, which share one page, each with its own anchors."""
    spans = [fact.span for fact in book.bench.facts]
    spans += [block.span for block in shown(privacy, book.bench.opening)]
    spans += [scale.span for scale in book.scales] + [kind.span for kind in book.scrap]
    by_source: dict[SourceText, set[int]] = {}
    for span in spans:
        by_source.setdefault(span.source, set()).add(span.line)
    return {
        source.path: SourcePage(BENCH, f"{source.name}.md", bench_prefix(source), tuple(sorted(at)))
        for source, at in by_source.items()
    }


def bench_prefix(source: SourceText) -> str:
    """What the anchors of one source begin with on the page that bench, scales and scrap share."""
    return f"{run_slug(source.name)}-line-"
