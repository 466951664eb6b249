"""Headless Chromium for the tests, driven over its debugging pipe (Chrome DevTools Protocol)."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from types import TracebackType
from typing import Any


class Browser:
    """One page in headless Chromium. Collects console messages, log entries and requests.

    The protocol's messages go through two pipes, which Chromium expects as its files 3 and 4, each message
    ended by a zero byte.
    """

    def __init__(self, width: int = 1200, height: int = 1000) -> None:
        program = shutil.which("chromium")
        assert program, "chromium is missing: run .ci/setup test"
        self.events: list[dict[str, Any]] = []
        self._profile = tempfile.mkdtemp(prefix="planform-browser-")
        read_by_browser, self._out = os.pipe()
        self._in, written_by_browser = os.pipe()
        # A shell moves the pipes' ends to the numbers that Chromium expects.
        shell = f'exec 3<&{read_by_browser} 4>&{written_by_browser}; exec "$@"'
        options = [
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--disable-background-networking",
            "--disable-component-update",
            "--no-first-run",
            "--remote-debugging-pipe",
            f"--user-data-dir={self._profile}",
            f"--window-size={width},{height}",
        ]
        self._process = subprocess.Popen(
            ["/bin/bash", "-c", shell, "-", program, *options],
            pass_fds=(read_by_browser, written_by_browser),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(read_by_browser)
        os.close(written_by_browser)
        self._buffer = b""
        self._number = 0
        self._session = ""
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        attached = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self._session = attached["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{domain}.enable")

    def __enter__(self) -> Browser:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._process.terminate()
        self._process.wait(20)
        os.close(self._in)
        os.close(self._out)
        shutil.rmtree(self._profile, ignore_errors=True)

    def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Send a command and wait for its answer; events in between are kept."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._out, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._receive()
            if answer.get("id") == self._number:
                assert "error" not in answer, answer
                return dict(answer["result"])
            self.events.append(answer)

    def _receive(self) -> dict[str, Any]:
        while b"\0" not in self._buffer:
            data = os.read(self._in, 1 << 16)
            assert data, "the browser has gone"
            self._buffer += data
        message, self._buffer = self._buffer.split(b"\0", 1)
        return dict(json.loads(message))

    def open(self, page: Path) -> None:
        """Open a file and wait until it is loaded."""
        before = len(self.events)
        self.call("Page.navigate", url=page.resolve().as_uri())
        while not any(e.get("method") == "Page.loadEventFired" for e in self.events[before:]):
            self.events.append(self._receive())

    def evaluate(self, expression: str) -> Any:
        """The value of a JavaScript expression on the page."""
        answer = self.call("Runtime.evaluate", expression=expression, returnByValue=True)
        assert "exceptionDetails" not in answer, answer
        return answer["result"].get("value")

    def screenshot(self) -> bytes:
        """The whole page as a PNG."""
        answer = self.call("Page.captureScreenshot", captureBeyondViewport=True)
        return base64.b64decode(answer["data"])

    def requests(self) -> list[str]:
        """The addresses asked for."""
        return [
            event["params"]["request"]["url"]
            for event in self.events
            if event.get("method") == "Network.requestWillBeSent"
        ]

    def complaints(self) -> list[dict[str, Any]]:
        """What the page said on the console, threw, or the browser logged about it."""
        methods = ("Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded")
        return [event for event in self.events if event.get("method") in methods]
