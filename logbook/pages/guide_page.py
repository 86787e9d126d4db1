"""The guide: chapters in plain words, as pages of the site."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logbook.commonmark import prose_html
from logbook.pages.addresses import GUIDE, Link, chapter_path
from logbook.pages.frame import Frame, Site
from logbook.pages.prose_view import ProseHtml


@dataclass(frozen=True, slots=True)
class GuideChapter:
    """One chapter of the guide. `name` is its address; `markdown` may begin with its title."""

    name: str
    title: str
    markdown: str


@dataclass(frozen=True, slots=True)
class ChapterView:
    """The page of one chapter."""

    frame: Frame
    title: str
    prose: ProseHtml
    before: Link | None
    after: Link | None
    contents: Link


@dataclass(frozen=True, slots=True)
class GuideView:
    """The contents of the guide."""

    frame: Frame
    chapters: tuple[Link, ...]


def guide_view(chapters: Sequence[GuideChapter], site: Site) -> GuideView:
    """The contents of the guide, in reading order."""
    here = site.addresses.at(GUIDE)
    links = tuple(Link(one.title, here.to(chapter_path(one.name))) for one in chapters)
    return GuideView(site.frame(here, "The guide"), links)


def chapter_view(place: int, chapters: Sequence[GuideChapter], site: Site) -> ChapterView:
    """One chapter, with the ways to the one before and the one after."""
    chapter = chapters[place]
    here = site.addresses.at(chapter_path(chapter.name))

    def link(at: int) -> Link | None:
        if not 0 <= at < len(chapters):
            return None
        return Link(chapters[at].title, here.to(chapter_path(chapters[at].name)))

    return ChapterView(
        frame=site.frame(here, chapter.title),
        title=chapter.title,
        prose=ProseHtml(prose_html(_without_title(chapter), {})),
        before=link(place - 1),
        after=link(place + 1),
        contents=Link("Contents of the guide", here.to(GUIDE)),
    )


def _without_title(chapter: GuideChapter) -> str:
    """The chapter's text without its first heading, which the page shows itself."""
    first, _, rest = chapter.markdown.lstrip().partition("\n")
    return rest if first.startswith("# ") else chapter.markdown
