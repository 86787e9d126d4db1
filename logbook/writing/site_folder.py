"""The site's folder on the disk: each file written whole, and only where it changed.

A list inside the folder names what was written, and from what. Only files on that list are
ever replaced or removed, so that whatever else lies there stays. Nothing is written or
removed outside of the folder, nor through a link that leads out of it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

LIST = "written-by-fineweight.txt"
PART = ".fineweight-{}.part"  # the name of a file while it is being written


class SiteError(Exception):
    """The site cannot be written where it should stand; the words say why."""


class SiteFolder:
    """One pour into a folder.

    `written` and `kept` count the files that changed and those that did not, `removed` the
    stale ones. Call `finish` when every file of the site has been written.
    """

    def __init__(self, root: Path) -> None:
        root.mkdir(parents=True, exist_ok=True)
        self.root = root.resolve()
        self.written = self.kept = self.removed = 0
        self._before = dict(_read_list(self.root / LIST))
        self._now: dict[str, str] = {}

    def write(self, path: str, content: bytes | str, made_from: str = "") -> None:
        """Write a file whole, unless it already stands there as it should."""
        target = self._target(path)
        data = content.encode() if isinstance(content, str) else content
        if not _stands(target, data):
            self._claim(path, target)
            target.parent.mkdir(parents=True, exist_ok=True)
            _write_whole(target, data)
            self.written += 1
        else:
            self.kept += 1
        self._now[path] = made_from

    def keep(self, path: str, made_from: str) -> bool:
        """Keep what an earlier pour made from the same thing; False where there is nothing."""
        target = self._target(path)
        if self._before.get(path) != made_from or target.is_symlink() or not target.is_file():
            return False
        self._now[path] = made_from
        self.kept += 1
        return True

    def finish(self) -> None:
        """Remove what an earlier pour wrote and this one did not; bring the list up to date."""
        for path in sorted(self._before.keys() - self._now.keys()):
            self._remove(path)
        for folder in {self.root, *(self._target(path).parent for path in self._now)}:
            for part in folder.glob(PART.format("*")):
                part.unlink()  # of a pour that was cut short
        listed = _list_text(self._now).encode()
        if not _stands(self.root / LIST, listed):
            _write_whole(self.root / LIST, listed)

    def _target(self, path: str) -> Path:
        """Where a file stands; refuses every way out of the site."""
        parts = PurePosixPath(path).parts
        if not parts or ".." in parts or PurePosixPath(path).is_absolute():
            raise SiteError(f"{path} leads out of the site")
        folder = self.root
        for part in parts[:-1]:
            folder = folder / part
            if folder.is_symlink():
                raise SiteError(f"{folder} is a link, and links are not followed: remove it")
        return folder / parts[-1]

    def _claim(self, path: str, target: Path) -> None:
        """List a file before it is written, so that a pour cut short leaves none unlisted."""
        if path in self._before or path in self._now:
            return
        if os.path.lexists(target):
            raise SiteError(
                f"{target} was not written by fineweight: move it away, or choose another folder"
            )
        with (self.root / LIST).open("a", encoding="utf-8", newline="\n") as listed:
            listed.write(f"{path}\n")

    def _remove(self, path: str) -> None:
        try:
            target = self._target(path)
        except SiteError:
            return  # a list that was tampered with, or a link in the way: leave it alone
        if target.is_file() or target.is_symlink():
            target.unlink()
            self.removed += 1
        folder = target.parent
        while folder != self.root and folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
            folder = folder.parent


def _stands(target: Path, data: bytes) -> bool:
    """Whether a file already holds some content."""
    if target.is_symlink() or not target.is_file() or target.stat().st_size != len(data):
        return False
    return target.read_bytes() == data


def _write_whole(target: Path, data: bytes) -> None:
    """Write beside the target and put it in its place, so that nobody sees half a file."""
    part = target.with_name(PART.format(os.getpid()))
    try:
        part.write_bytes(data)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)


def _read_list(file: Path) -> Iterator[tuple[str, str]]:
    """What an earlier pour wrote: each path, and what it was made from."""
    if file.is_symlink() or not file.is_file():
        return
    for line in file.read_text(encoding="utf-8", errors="replace").splitlines():
        path, _, made_from = line.partition("\t")
        if path:
            yield path, made_from


def _list_text(files: Mapping[str, str]) -> str:
    rows = sorted(files.items())
    return "".join(f"{path}\t{origin}\n" if origin else f"{path}\n" for path, origin in rows)
