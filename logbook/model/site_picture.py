"""A picture as the site has it: its files there, and how large each is."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PictureFile:
    """One file of a picture: its path from the site's folder, and its size in pixels.

    The size is 0 by 0 where a drawing says nothing of it.
    """

    path: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class SitePicture:
    """A picture of the site: a file that every browser shows, and smaller ones for most.

    `modern` are the same photo in a newer format, narrowest first; a drawing has none.
    """

    plain: PictureFile
    modern: tuple[PictureFile, ...] = ()

    @property
    def files(self) -> tuple[PictureFile, ...]:
        """Every file of the picture."""
        return (self.plain, *self.modern)
