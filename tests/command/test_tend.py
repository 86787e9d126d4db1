"""Tending a book: which events count, when it pours again, and that it survives what goes wrong."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, Queue
from time import monotonic, sleep
from urllib.error import HTTPError
from urllib.request import ProxyHandler, build_opener

import pytest
from watchdog.events import (
    DirModifiedEvent,
    FileClosedEvent,
    FileClosedNoWriteEvent,
    FileCreatedEvent,
    FileDeletedEvent,
    FileModifiedEvent,
    FileMovedEvent,
    FileOpenedEvent,
)

from logbook.build import PourOptions, PourReport
from logbook.tend import QUIET, Noting, pour_and_say, wait_for_quiet
from logbook.writing.site_folder import SiteError
from tests.conftest import CLEAN_LOG, Program, environment, tree

LOG = "runs/a.md"
PATIENCE = 20.0  # seconds


def test_events_that_change_nothing_are_ignored() -> None:
    """Opening and reading a file, as a pour does, must not start the next pour."""
    changes: Queue[str] = Queue()
    noting = Noting(changes)
    for event in (FileOpenedEvent(LOG), FileClosedNoWriteEvent(LOG), DirModifiedEvent("runs")):
        noting.dispatch(event)
    assert changes.empty()
    counting = (
        *(FileCreatedEvent(LOG), FileModifiedEvent(LOG), FileClosedEvent(LOG)),
        *(FileDeletedEvent(LOG), FileMovedEvent("runs/b.md", LOG)),
    )
    for event in counting:
        noting.dispatch(event)
    assert changes.qsize() == len(counting)


def test_a_burst_of_events_is_one_change() -> None:
    """The events of one save are waited out together, and none is left for another round."""
    changes: Queue[str] = Queue()
    for _ in range(25):
        changes.put(LOG)
    wait_for_quiet(changes, quiet=0.01)
    assert changes.empty()


class Told(Queue[str]):
    """A queue that answers as it was told to, None being silence, and notes how long each waits."""

    def __init__(self, *answers: str | None) -> None:
        super().__init__()
        self.answers = list(answers)
        self.waits: list[float | None] = []

    def get(self, block: bool = True, timeout: float | None = None) -> str:
        """The next answer."""
        self.waits.append(timeout)
        answer = self.answers.pop(0)
        if answer is None:
            raise Empty
        return answer


def test_an_event_in_the_quiet_prolongs_it() -> None:
    """A save in slow chunks is not poured half-way: each event starts the quiet anew."""
    changes = Told(None, LOG, LOG, LOG, None)
    wait_for_quiet(changes, quiet=0.08, wake=1.0)
    assert changes.answers == []
    assert changes.waits == [1.0, 1.0, 0.08, 0.08, 0.08]
    assert QUIET == 0.08


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (SiteError("site is a link"), "not poured: site is a link"),
        (OSError(28, "No space left on device"), "No space left on device"),
        (ZeroDivisionError("slip"), "by a mistake of the program"),
    ],
)
def test_a_pour_that_fails_is_told_and_survived(error: Exception, words: str) -> None:
    """Whatever a pour raises, tending says it in words and goes on."""

    def failing(_: PourOptions) -> PourReport:
        raise error

    said: list[str] = []
    pour_and_say(PourOptions(Path("book"), Path("site")), said.append, failing)
    assert len(said) == 1
    assert words in said[0]


@contextmanager
def _tending(book: Path, *words: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The real program tending a book, and the address that it told."""
    command = [sys.executable, "-m", "logbook", "tend", *words]
    with subprocess.Popen(
        command, cwd=book, env=environment(), stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline().startswith("poured 1 run")
        line = process.stdout.readline()
        assert line.startswith("the site is at http://127.0.0.1:")
        try:
            yield process, line.split()[4]
        finally:
            process.kill()


def _fetch(address: str) -> str:
    with build_opener(ProxyHandler({})).open(address, timeout=PATIENCE) as answer:
        assert answer.headers["Cache-Control"] == "no-store"
        return str(answer.read().decode())


def test_a_saved_log_is_on_the_page_and_ctrl_c_ends_it(book: Path) -> None:
    """The site is served on the loopback address, follows each save, and ends cleanly."""
    log = book / "runs" / "2026-03-14-contacts.md"
    with _tending(book) as (process, address):
        page = f"{address}runs/2026-03-14-contacts.html"
        assert "Contacts of one relay" in _fetch(page)
        log.write_text(CLEAN_LOG.replace("one relay", "two relays"))
        end = monotonic() + PATIENCE
        while "Contacts of two relays" not in _fetch(page):
            assert monotonic() < end, "the page did not follow the log"
            sleep(0.05)
        logs = tree(book / "runs")
        process.send_signal(signal.SIGINT)
        rest = process.communicate(timeout=PATIENCE)[0]
    assert process.returncode == 0
    assert rest.endswith("ended\n")
    assert tree(book / "runs") == logs


def test_nothing_but_the_site_is_served(book: Path) -> None:
    """No address leads out of the site's folder, and it is not served to other machines."""
    with _tending(book) as (_, address):
        for path in ("../runs/2026-03-14-contacts.md", "%2e%2e/runs/2026-03-14-contacts.md"):
            with pytest.raises(HTTPError, match="404"):
                _fetch(address + path)
        port = int(address.rstrip("/").rpartition(":")[2])
        with socket.socket() as other:
            other.settimeout(2)
            assert other.connect_ex(("127.0.0.2", port)) != 0  # another address of this machine


def test_a_port_that_is_taken_ends_with_2(program: Program, book: Path) -> None:
    """Where the site cannot be served the program says why and ends."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        ran = program("tend", "--port", str(taken.getsockname()[1]), cwd=book)
    assert ran.code == 2
    assert "in use" in ran.err
