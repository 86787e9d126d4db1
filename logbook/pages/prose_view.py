"""The writer's own prose and pictures, ready for a page.

The only HTML that exists before the templates is what `commonmark.prose_html` made of
Markdown, and it travels as `ProseHtml`, so that nothing else can be taken for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from logbook.commonmark import prose_html
from logbook.model.run import Picture
from logbook.pages.addresses import Here, label_path, relative
from logbook.pages.picture_paths import picture_address, picture_source


@dataclass(frozen=True, slots=True)
class ProseHtml:
    """HTML that `prose_html` made, in which the writer's own HTML is text."""

    html: str


@dataclass(frozen=True, slots=True)
class PictureView:
    """A photo or drawing. `missing` says why there is none to show, in place of `src`."""

    src: str
    caption: str
    missing: str


@dataclass(frozen=True, slots=True)
class LabelLinks(Mapping[str, str]):
    """Links of labels from one page, made when they are asked for."""

    here: Here

    def __getitem__(self, label: str) -> str:
        if label not in self.here.addresses.labels:
            raise KeyError(label)
        return relative(self.here.page, label_path(label))

    def __iter__(self) -> Iterator[str]:
        return iter(sorted(self.here.addresses.labels))

    def __len__(self) -> int:
        return len(self.here.addresses.labels)


def prose_view(markdown: str, here: Here) -> ProseHtml:
    """Markdown of a log as HTML, its labels linked."""
    return ProseHtml(prose_html(markdown, LabelLinks(here)))


def picture_view(picture: Picture, here: Here, files: frozenset[str]) -> PictureView:
    """A picture, if its file lies in the book; one from elsewhere is never loaded."""
    path = picture_source(picture.span.path, picture.path)
    if path is None or path not in files:
        missing = f"there is no picture {picture.path} to show"
        return PictureView("", picture.caption, missing)
    return PictureView(here.to(picture_address(path)), picture.caption, "")
