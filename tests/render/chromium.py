"""A Chromium without a window, asked over its debugging pipe: just what the page tests need."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome")
OPTIONS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--no-first-run",
    "--remote-debugging-pipe",
)

# The browser reads commands from its file 3 and answers in its file 4.
WIRE = """
import fcntl, os, sys
ends = [fcntl.fcntl(int(end), fcntl.F_DUPFD, 10) for end in sys.argv[1:3]]
for number, end in zip((3, 4), ends):
    os.dup2(end, number)
os.execv(sys.argv[3], sys.argv[3:])
"""


# A sheet is whole when its packed part has come to life; other pages are whole when they are loaded.
UNPACKED = """new Promise((done) => {
    const look = () => {
        const waits = document.querySelector("#packed") && !document.querySelector(".script");
        if (waits) requestAnimationFrame(look); else done(true);
    };
    look();
})"""
IS_THERE = 'location.href !== "about:blank" && document.readyState === "complete"'
MODIFIERS = {"": 0, "Alt": 1, "Control": 2, "Meta": 4, "Shift": 8}
KEYS: dict[str, dict[str, Any]] = {
    "Tab": {"code": "Tab", "windowsVirtualKeyCode": 9},
    "Enter": {"code": "Enter", "windowsVirtualKeyCode": 13, "text": "\r"},
    "Escape": {"code": "Escape", "windowsVirtualKeyCode": 27},
    " ": {"code": "Space", "windowsVirtualKeyCode": 32, "text": " "},
    "ArrowLeft": {"code": "ArrowLeft", "windowsVirtualKeyCode": 37},
    "ArrowRight": {"code": "ArrowRight", "windowsVirtualKeyCode": 39},
}


class Browser:
    """One page. `events` holds all that the browser reported: requests, log entries, exceptions."""

    def __init__(self, inward: int, outward: int) -> None:
        self._write = os.fdopen(inward, "wb", buffering=0)
        self._read = os.fdopen(outward, "rb", buffering=0)
        self._number, self._rest, self._session, self._target = 0, b"", "", ""
        self.events: list[dict[str, Any]] = []
        self.new_tab()

    def new_tab(self) -> None:
        """Leaves the page for a tab of its own: what the last one still tells is no event of the next."""
        last, self._session = self._target, ""
        self._target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        answer = self.ask("Target.attachToTarget", targetId=self._target, flatten=True)
        if last:
            self.ask("Target.closeTarget", targetId=last)
        self._session = answer["sessionId"]
        self.events.clear()
        for domain in ("Page", "Network", "Log", "Runtime"):
            self.ask(f"{domain}.enable")

    def ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        """The browser's answer to one command of its protocol."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        self._write.write(json.dumps(message).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == self._number:
                assert "error" not in answer, answer
                result: dict[str, Any] = answer["result"]
                return result
            self._hear(answer)

    def open(self, page: Path, width: int = 1280, height: int = 900) -> None:
        """Loads `page` in a window of that size and waits until it is there."""
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
        self.ask("Emulation.setDeviceMetricsOverride", **size)
        self.events.clear()
        self.ask("Page.navigate", url=page.as_uri())
        loads = 0
        while loads == 0 or not self.run(IS_THERE):
            # The empty page of a new tab may tell that it is loaded when the next is asked for already.
            loads += 1
            while sum(event["method"] == "Page.loadEventFired" for event in self.events) < loads:
                self._hear(self._next())
        self.run(UNPACKED)

    def before(self, script: str) -> str:
        """Runs `script` in every page that is opened from now on, before its own; `no_longer` ends that."""
        answer = self.ask("Page.addScriptToEvaluateOnNewDocument", source=script)
        identifier: str = answer["identifier"]
        return identifier

    def no_longer(self, identifier: str) -> None:
        self.ask("Page.removeScriptToEvaluateOnNewDocument", identifier=identifier)

    def media(self, kind: str = "", **features: str) -> None:
        """Looks at pages as `kind` ("print"), with CSS media features such as prefers_color_scheme="dark"."""
        named = [{"name": name.replace("_", "-"), "value": value} for name, value in features.items()]
        self.ask("Emulation.setEmulatedMedia", media=kind, features=named)

    def press(self, *keys: str) -> None:
        """Presses keys by their names: "Tab", "Enter", "ArrowRight", "Escape", " "; "Shift+Tab" too."""
        for key in keys:
            held, _, name = key.rpartition("+")
            key_event = {"key": name, "modifiers": MODIFIERS[held], **KEYS[name]}
            self.ask("Input.dispatchKeyEvent", type="keyDown", **key_event)
            self.ask("Input.dispatchKeyEvent", type="keyUp", **key_event)

    def click(self, query: str) -> None:
        """Clicks with the mouse in the middle of the first element that `query` finds."""
        place = self.run(f"""(() => {{
            const it = document.querySelector({json.dumps(query)});
            it.scrollIntoView({{ block: "center", behavior: "instant" }});
            const box = it.getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2];
        }})()""")
        for kind in ("mousePressed", "mouseReleased"):
            where = {"x": place[0], "y": place[1], "button": "left", "clickCount": 1}
            self.ask("Input.dispatchMouseEvent", type=kind, **where)

    def run(self, script: str) -> Any:
        """The value of a JavaScript expression in the page."""
        options = {"returnByValue": True, "awaitPromise": True, "userGesture": True}
        answer = self.ask("Runtime.evaluate", expression=script, **options)
        assert "exceptionDetails" not in answer, answer
        return answer["result"].get("value")

    def _hear(self, event: dict[str, Any]) -> None:
        if event.get("sessionId", "") == self._session:
            self.events.append(event)

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            part = self._read.read(1 << 16)
            assert part, "the browser has gone"
            self._rest += part
        whole, self._rest = self._rest.split(b"\0", 1)
        message: dict[str, Any] = json.loads(whole)
        return message

    def close(self) -> None:
        self._write.close()
        self._read.close()


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser of its own profile; skipped where there is none, which on CI is a failure."""
    found = next(filter(None, map(shutil.which, NAMES)), None)
    if found is None:
        if os.environ.get("CI") == "true":
            pytest.fail("no Chromium on this machine: apt-get install chromium")
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    # The browser's own processes may still write for a moment when it has ended.
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        their_in, our_out = os.pipe()
        our_in, their_out = os.pipe()
        ends = (str(their_in), str(their_out))
        options = (*OPTIONS, f"--user-data-dir={profile}")
        command = [sys.executable, "-c", WIRE, *ends, found, *options]
        process = subprocess.Popen(command, pass_fds=(their_in, their_out), stderr=subprocess.DEVNULL)
        os.close(their_in)
        os.close(their_out)
        browser = Browser(our_out, our_in)
        try:
            yield browser
        finally:
            browser.close()
            process.terminate()
            process.wait(20)
