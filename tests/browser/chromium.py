"""A headless Chromium, driven through its pipe: one process for all pages, no other library.

The browser reads commands of the Chrome DevTools Protocol from its file descriptor 3 and
writes answers and events to 4, each a JSON text with a zero byte behind it.
"""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path
from select import select
from time import monotonic
from typing import Any, Self

FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
    *("--hide-scrollbars", "--force-device-scale-factor=1", "--remote-debugging-pipe"),
)
# What the browser calls the keys that are pressed here.
_CODES: dict[str, dict[str, Any]] = {
    "Tab": {"windowsVirtualKeyCode": 9},
    "Enter": {"windowsVirtualKeyCode": 13, "text": "\r"},
    "Space": {"windowsVirtualKeyCode": 32, "text": " "},
}
PATIENCE = 60.0  # seconds for one answer
Event = dict[str, Any]


def find_chromium() -> str | None:
    """The program to start; None where there is none on this machine."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


class Chromium:
    """One browser with one page. What it says of errors and requests is kept in `events`."""

    def __init__(self, program: str) -> None:
        self._profile = tempfile.mkdtemp(prefix="fineweight-browser-")
        to_browser, self._write = os.pipe()
        self._read, from_browser = os.pipe()

        def hand_over() -> None:
            # Move both ends out of the way first: either may stand on 3 or 4 already.
            ends = os.dup(to_browser), os.dup(from_browser)
            while max(ends) < 10:
                ends = os.dup(ends[0]), os.dup(ends[1])
            os.dup2(ends[0], 3)
            os.dup2(ends[1], 4)

        self._process = subprocess.Popen(
            [program, *FLAGS, f"--user-data-dir={self._profile}", "about:blank"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            stdin=subprocess.DEVNULL,
            close_fds=False,
            preexec_fn=hand_over,
        )
        os.close(to_browser)
        os.close(from_browser)
        self._rest = b""
        self._number = 0
        self._session = ""
        self.events: list[Event] = []
        targets = self.call("Target.getTargets")["targetInfos"]
        page = next(target for target in targets if target["type"] == "page")
        attached = self.call("Target.attachToTarget", targetId=page["targetId"], flatten=True)
        self._session = attached["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{domain}.enable")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._session = ""
        self.call("Browser.close")
        self._process.wait(timeout=PATIENCE)
        os.close(self._write)
        os.close(self._read)
        shutil.rmtree(self._profile, ignore_errors=True)

    def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Give the browser a command and return its answer."""
        self._number += 1
        number = self._number
        message: Event = {"id": number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        answer = self._until(lambda event: event.get("id") == number)
        assert "error" not in answer, f"{method}: {answer['error']}"
        result: dict[str, Any] = answer["result"]
        return result

    def _until(self, wanted: Callable[[Event], bool]) -> Event:
        """Take in what the browser says until it says what is waited for."""
        end = monotonic() + PATIENCE
        while True:
            while b"\0" in self._rest:
                raw, _, self._rest = self._rest.partition(b"\0")
                event: Event = json.loads(raw)
                self.events.append(event)
                if wanted(event):
                    return event
            left = end - monotonic()
            assert left > 0 and select([self._read], [], [], left)[0], "the browser says nothing"
            self._rest += os.read(self._read, 1 << 16)

    def open(self, address: str) -> None:
        """Open a page and wait until everything it asks for has come."""
        self.events.clear()
        answer = self.call("Page.navigate", url=address)
        assert "errorText" not in answer, f"{address}: {answer['errorText']}"
        loaded = ("Page.loadEventFired",)
        if not any(event.get("method") in loaded for event in self.events):
            self._until(lambda event: event.get("method") in loaded)

    def wide(self, width: int, height: int = 900) -> None:
        """Give the window a size, as a phone or as a desk has it."""
        self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=width < 600,
        )

    def scripts(self, allowed: bool) -> None:
        """Switch JavaScript on or off for the pages that are opened next."""
        self.call("Emulation.setScriptExecutionDisabled", value=not allowed)

    def ask(self, expression: str) -> Any:
        """The value of an expression on the page."""
        answer = self.call("Runtime.evaluate", expression=expression, returnByValue=True)
        assert "exceptionDetails" not in answer, answer
        return answer["result"].get("value")

    def ask_later(self, expression: str) -> Any:
        """What an expression that takes its time comes to."""
        answer = self.call(
            "Runtime.evaluate", expression=expression, awaitPromise=True, returnByValue=True
        )
        assert "exceptionDetails" not in answer, answer
        return answer["result"].get("value")

    def dark(self, on: bool) -> None:
        """Whether the reader asks for dark pages. Nothing moves by itself."""
        scheme = {"name": "prefers-color-scheme", "value": "dark" if on else "light"}
        still = {"name": "prefers-reduced-motion", "value": "reduce"}
        self.call("Emulation.setEmulatedMedia", features=[scheme, still])

    def press(self, key: str) -> None:
        """Press one key and let it go."""
        for kind in ("rawKeyDown", "keyUp"):
            self.call("Input.dispatchKeyEvent", type=kind, key=key, code=key, **_CODES.get(key, {}))

    def html(self) -> str:
        """The page as it stands now, also where scripts are off."""
        root = self.call("DOM.getDocument")["root"]["nodeId"]
        return str(self.call("DOM.getOuterHTML", nodeId=root)["outerHTML"])

    def complaints(self) -> list[str]:
        """What the page threw, or wrote to the console as an error or a warning."""
        said = []
        for event in self.events:
            what, about = event.get("method"), event.get("params", {})
            if what == "Runtime.exceptionThrown":
                said.append(str(about["exceptionDetails"].get("exception", about)))
            elif what == "Runtime.consoleAPICalled" and about["type"] in {"error", "warning"}:
                said.append(str(about["args"]))
            elif what == "Log.entryAdded" and about["entry"]["level"] in {"error", "warning"}:
                said.append(f"{about['entry']['text']} {about['entry'].get('url', '')}")
            elif what == "Network.loadingFailed" and not about.get("canceled"):
                said.append(f"not loaded: {about}")
        return said

    def requests(self) -> list[str]:
        """Every address that the page asked for."""
        return [
            event["params"]["request"]["url"]
            for event in self.events
            if event.get("method") == "Network.requestWillBeSent"
        ]

    def picture(self, file: Path, height: int) -> None:
        """Save what the window shows, down to a height, as a PNG."""
        size = self.call("Page.getLayoutMetrics")["cssLayoutViewport"]
        clip = {"x": 0, "y": 0, "width": size["clientWidth"], "height": height, "scale": 1}
        answer = self.call("Page.captureScreenshot", clip=clip, captureBeyondViewport=True)
        file.write_bytes(base64.b64decode(answer["data"]))
