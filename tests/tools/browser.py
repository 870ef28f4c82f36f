# tests/tools/browser.py — a Chromium without a window, told what to do over its debugging pipe.
# SPDX-License-Identifier: GPL-3.0-or-later
"""The protocol is that of the browser itself: JSON messages, each ended by a zero byte, in over file
descriptor 3 and out over 4 (`--remote-debugging-pipe`)."""
import json
import os
import select
import shutil
import tempfile
import time


def installed():
    """The browser's path, or None."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


class Browser:
    """One browser with one page. `events` gathers all that the page reports."""

    def __init__(self):
        self.profile = tempfile.mkdtemp(prefix="lodegear-browser-")
        commands_out, self.commands = os.pipe()
        self.answers, answers_in = os.pipe()
        words = [installed(), "--headless", "--remote-debugging-pipe", "--disable-gpu",
                 "--no-first-run", "--disable-background-networking", "--hide-scrollbars",
                 "--user-data-dir=" + self.profile]
        if os.geteuid() == 0:
            words.append("--no-sandbox")  # it refuses root else
        nowhere = os.open(os.devnull, os.O_RDWR)
        self.process = os.posix_spawn(words[0], words, os.environ, file_actions=[
            (os.POSIX_SPAWN_DUP2, nowhere, 1), (os.POSIX_SPAWN_DUP2, nowhere, 2),
            (os.POSIX_SPAWN_DUP2, commands_out, 3), (os.POSIX_SPAWN_DUP2, answers_in, 4)])
        os.close(commands_out)
        os.close(answers_in)
        self.bytes, self.number, self.events, self.session = b"", 0, [], None
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.ask(domain + ".enable")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.session = None
        try:
            self.ask("Browser.close")
        except (OSError, EOFError, TimeoutError):
            pass  # gone already
        os.waitpid(self.process, 0)
        shutil.rmtree(self.profile, ignore_errors=True)

    def message(self, deadline):
        while b"\0" not in self.bytes:
            if not select.select([self.answers], [], [], max(0.0, deadline - time.monotonic()))[0]:
                raise TimeoutError("the browser does not answer")
            got = os.read(self.answers, 1 << 20)
            if not got:
                raise EOFError("the browser has ended")
            self.bytes += got
        one, self.bytes = self.bytes.split(b"\0", 1)
        return json.loads(one)

    def ask(self, method, **parameters):
        """Its answer; events that come meanwhile are gathered."""
        self.number += 1
        request = {"id": self.number, "method": method, "params": parameters}
        if self.session:
            request["sessionId"] = self.session
        os.write(self.commands, json.dumps(request).encode() + b"\0")
        deadline = time.monotonic() + 60
        while True:
            answer = self.message(deadline)
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(method + ": " + answer["error"]["message"])
                return answer["result"]
            self.events.append(answer)

    def open(self, address):
        """Waits until the page is loaded."""
        n = len(self.events)
        self.ask("Page.navigate", url=address)
        deadline = time.monotonic() + 60
        while not any(e.get("method") == "Page.loadEventFired" for e in self.events[n:]):
            self.events.append(self.message(deadline))

    def value(self, script):
        """What an expression is on the page."""
        result = self.ask("Runtime.evaluate", expression=script, returnByValue=True,
                          awaitPromise=True)
        if "exceptionDetails" in result:
            raise RuntimeError(script + ": " + json.dumps(result["exceptionDetails"]))
        return result["result"].get("value")

    def press(self, key, text=""):
        codes = {"Tab": 9, "Escape": 27, "Home": 36, "End": 35, "ArrowLeft": 37, "ArrowRight": 39}
        about = {"key": key, "code": key, "windowsVirtualKeyCode": codes.get(key, 0)}
        self.ask("Input.dispatchKeyEvent", type="keyDown", text=text, **about)
        self.ask("Input.dispatchKeyEvent", type="keyUp", **about)

    def look(self, width, height, scheme, medium=""):
        """Size of the window, "light" or "dark", "" for the screen or "print"."""
        self.ask("Emulation.setDeviceMetricsOverride", width=width, height=height,
                 deviceScaleFactor=1, mobile=width < 500)
        self.ask("Emulation.setEmulatedMedia", media=medium,
                 features=[{"name": "prefers-color-scheme", "value": scheme}])
