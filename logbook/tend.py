"""Keep the site fresh while logs change: watch, wait until the disk is quiet, pour, show.

The one owner of watchdog. Nothing here knows what a log means.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from queue import Empty, Queue
from threading import Thread
from typing import Any

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from logbook.build import PourOptions, PourReport, pour
from logbook.model.kept import Kept
from logbook.writing.book_folder import RUNS
from logbook.writing.site_folder import SiteError
from logbook.writing.theme_folders import THEMES

QUIET = 0.08  # seconds without an event after which a save is taken to be over
WATCHED = (RUNS, THEMES)
# Reading a file is an event too: it must not start the next round.
CHANGES = frozenset({"created", "modified", "moved", "deleted", "closed"})
Say = Callable[[str], None]


def tend(options: PourOptions, port: int, say: Say) -> None:
    """Pour, show the site on the loopback address, and pour again after each change.

    Ends when the keeper interrupts it.
    """
    again = partial(pour, kept=Kept())  # what has not changed is not worked out again
    pour_and_say(options, say, again)
    changes: Queue[str] = Queue()
    with _watching(options.book, changes), _serving(options.into, port) as address:
        say(f"the site is at {address} (Ctrl-C ends this)")
        try:
            while True:
                wait_for_quiet(changes)
                pour_and_say(options, say, again)
        except KeyboardInterrupt:
            say("ended")


def pour_and_say(
    options: PourOptions, say: Say, pour_once: Callable[[PourOptions], PourReport] = pour
) -> None:
    """Pour once and say in one line what came of it, whatever that is."""
    try:
        say(pour_once(options).in_words(str(options.into)))
    except (SiteError, OSError) as error:
        say(f"not poured: {error}")
    except Exception:
        say(f"not poured, by a mistake of the program:\n{traceback.format_exc()}")


def wait_for_quiet(changes: Queue[str], quiet: float = QUIET, wake: float = 1.0) -> None:
    """Return when something has changed and nothing more has for a while."""
    while True:
        try:
            changes.get(timeout=wake)  # woken now and then, so that Ctrl-C is heard everywhere
            break
        except Empty:
            continue
    while True:
        try:
            changes.get(timeout=quiet)
        except Empty:
            return


class Noting(FileSystemEventHandler):
    """Notes every event that means a file is another one now."""

    def __init__(self, changes: Queue[str]) -> None:
        self._changes = changes

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Note an event, unless it says that something was only looked at."""
        if event.event_type in CHANGES and not (
            event.is_directory and event.event_type == "modified"
        ):
            self._changes.put(str(event.src_path))


@contextmanager
def _watching(book: Path, changes: Queue[str]) -> Iterator[None]:
    observer = Observer()
    for name in WATCHED:
        if (book / name).is_dir():
            observer.schedule(Noting(changes), str(book / name), recursive=True)
    observer.start()
    try:
        yield
    finally:
        observer.stop()
        observer.join()


class Quietly(SimpleHTTPRequestHandler):
    """Serves the site without a line for each request, and asks browsers to keep nothing."""

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing."""

    def end_headers(self) -> None:
        """Have the page fetched anew each time: it may be another one by then."""
        self.send_header("Cache-Control", "no-store")
        super().end_headers()


@contextmanager
def _serving(site: Path, port: int) -> Iterator[str]:
    """Serve a folder on the loopback address, and nowhere else."""
    with ThreadingHTTPServer(("127.0.0.1", port), partial(Quietly, directory=str(site))) as server:
        thread = Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}/"
        finally:
            server.shutdown()
            thread.join()
