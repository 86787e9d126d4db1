"""The writer's own prose and pictures, ready for a page.

The only HTML that exists before the templates is what `commonmark.prose_html` made of
Markdown, and it travels as `ProseHtml`, so that nothing else can be taken for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from logbook.commonmark import prose_html
from logbook.model.run import Picture
from logbook.model.site_picture import SitePicture
from logbook.pages.addresses import Here, label_path, relative
from logbook.pages.picture_paths import picture_source

MISSING = "there is no picture to show"
WITHOUT_WORDS = "A picture that its writer has not described"


@dataclass(frozen=True, slots=True)
class ProseHtml:
    """HTML that `prose_html` made, in which the writer's own HTML is text."""

    html: str


@dataclass(frozen=True, slots=True)
class PictureView:
    """A photo or drawing. `missing` says that there is none to show, in place of `src`.

    `srcset` names the same photo in a newer format, in several widths; empty for a drawing.
    `width` and `height` are empty where they are not known.
    """

    src: str
    srcset: str
    width: str
    height: str
    alt: str
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


def prose_view(markdown: str, here: Here, below: int) -> ProseHtml:
    """Markdown of a log as HTML, its labels linked, below a heading of some level."""
    return ProseHtml(prose_html(markdown, LabelLinks(here), below))


def picture_view(picture: Picture, here: Here, pictures: Mapping[str, SitePicture]) -> PictureView:
    """A picture, if the site has it; one from elsewhere is never loaded.

    The name of its file is not told: it may say where a photo was taken.
    """
    path = picture_source(picture.span.path, picture.path)
    found = pictures.get(path) if path is not None else None
    alt = picture.seen or picture.caption or WITHOUT_WORDS
    if found is None:
        return PictureView("", "", "", "", alt, picture.caption, MISSING)
    plain = found.plain
    return PictureView(
        src=here.to(plain.path),
        srcset=", ".join(f"{here.to(file.path)} {file.width}w" for file in found.modern),
        width=str(plain.width or ""),
        height=str(plain.height or ""),
        alt=alt,
        caption=picture.caption,
        missing="",
    )
