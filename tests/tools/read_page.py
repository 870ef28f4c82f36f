#!/usr/bin/python3
# tests/tools/read_page.py — opens a report in a real browser and looks at it as readers would.
# SPDX-License-Identifier: GPL-3.0-or-later
"""read_page.py PAGE.html [PICTURES]: exit code 0 if all is well, 1 with a line for each complaint, 77
where no Chromium is installed. With a folder PICTURES, what was seen is kept there."""
import base64
import pathlib
import re
import sys

import browser

WINDOWS = [(390, 844, "light"), (390, 844, "dark"), (1200, 900, "light"), (1200, 900, "dark")]
complaints = []

# Text and the ground it stands on, by WCAG 2.1: 4.5 to 1, 3 to 1 where it is large.
FAINT = """(() => {
  const numbers = c => c.match(/[\\d.]+/g).map(Number);
  const light = c => numbers(c).slice(0, 3).map(x => x / 255)
    .map(x => x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4)
    .reduce((sum, x, i) => sum + x * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = e => {
    for (; e; e = e.parentElement) {
      const c = getComputedStyle(e).backgroundColor;
      if ((numbers(c)[3] ?? 1) > 0) return c;
    }
    return "rgb(255, 255, 255)";
  };
  const faint = new Set();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || !e.checkVisibility()) continue;
    if (e.closest("script, style, svg")) continue;  // colours of pictures are tested by themselves
    const style = getComputedStyle(e), [a, b] = [light(style.color), light(ground(e))];
    const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (contrast < (parseFloat(style.fontSize) >= 24 ? 3 : 4.5))
      faint.add(e.textContent.slice(0, 30) + " " + contrast.toFixed(2));
  }
  return [...faint];
})()"""

# What sticks out of a window of WIDTH pixels (a telephone's may grow with what it shows); wide tables
# scroll within themselves.
STICKS_OUT = """[...document.querySelectorAll("body *")].filter(e => e.checkVisibility() &&
  !e.closest(".wide table, svg *") && e.getBoundingClientRect().right > WIDTH + 1)
  .map(e => e.tagName + "." + e.getAttribute("class"))"""

# The figures that are focused when Tab goes once through the page.
FOCUSED = """(() => { const a = document.activeElement;
  return a === document.body ? null : { chart: a.matches("figure.chart"),
    name: a.getAttribute("aria-label") || a.textContent.slice(0, 40),
    outline: getComputedStyle(a).outlineStyle }; })()"""
READOUT = "document.activeElement.querySelector('.readout').textContent"
LIBRARY = "typeof Dygraph === 'function'"


def expect(good, complaint):
    if not good:
        complaints.append(complaint)


def read_by_keyboard(page, where):
    """The values of the focused chart, and its zoom where the library of the charts is there."""
    page.press("ArrowRight")
    first = page.value(READOUT)
    page.press("End")
    last = page.value(READOUT)
    expect(first and last and first != last, f"{where}: arrow keys do not read the values: {last!r}")
    if not page.value(LIBRARY):
        return
    page.press("+", "+")
    narrow = page.value(READOUT)
    page.press("Escape")
    expect("shown from" in narrow and "shown from" not in page.value(READOUT),
           f"{where}: + and Escape do not zoom in and out: {narrow!r}, {page.value(READOUT)!r}")


def tab_through(page, where):
    charts = page.value("document.querySelectorAll('figure.chart').length")
    reached = set()
    for _ in range(600):
        page.press("Tab")
        focused = page.value(FOCUSED)
        if focused is None:
            break
        expect(focused["outline"] != "none", f"{where}: {focused['name']} shows no focus")
        if focused["chart"] and focused["name"] not in reached:
            reached.add(focused["name"])
            read_by_keyboard(page, f"{where}, {focused['name']}")
    expect(charts > 0 and len(reached) == charts, f"{where}: Tab reaches {len(reached)} of {charts}")


def drag_and_wheel(page, where):
    """Zoom by the wheel and by dragging, and back by a double click, on the first chart."""
    box = page.value("""(() => { const c = document.querySelector("figure.chart .live");
      c.scrollIntoView({block: "center"}); const b = c.getBoundingClientRect();
      return [b.left, b.top, b.width, b.height]; })()""")
    readout = "document.querySelector('figure.chart .readout').textContent"
    x, y = box[0] + 0.5 * box[2], box[1] + 0.5 * box[3]

    def mouse(kind, at, **more):
        page.ask("Input.dispatchMouseEvent", type=kind, x=at, y=y, **more)

    mouse("mouseMoved", x)
    expect(page.value(readout), f"{where}: nothing is read under the pointer")
    mouse("mouseWheel", x, deltaX=0, deltaY=-240, modifiers=2)  # with Ctrl
    page.value("new Promise(done => setTimeout(done, 100))")
    expect("shown from" in page.value(readout), f"{where}: the wheel does not zoom")

    def double_click():
        for count in (1, 2):
            mouse("mousePressed", x, button="left", buttons=1, clickCount=count)
            mouse("mouseReleased", x, button="left", clickCount=count)
        page.value("new Promise(done => setTimeout(done, 100))")
        expect("shown from" not in page.value(readout), f"{where}: a double click does not show all")

    double_click()
    mouse("mousePressed", x, button="left", buttons=1, clickCount=1)
    mouse("mouseMoved", x + 30, button="left", buttons=1)
    mouse("mouseMoved", x + 60, button="left", buttons=1)
    mouse("mouseReleased", x + 60, button="left", clickCount=1)
    page.value("new Promise(done => setTimeout(done, 100))")
    expect("shown from" in page.value(readout), f"{where}: dragging does not zoom")
    double_click()


def fingers(page, where):
    """One finger scrolls the page past a chart, two zoom it, a tap reads it."""
    page.ask("Emulation.setTouchEmulationEnabled", enabled=True, maxTouchPoints=2)
    x, y = page.value("""(() => { const c = document.querySelector("figure.chart .live");
      c.scrollIntoView({block: "center"}); const b = c.getBoundingClientRect();
      return [b.left + b.width / 2, b.top + b.height / 2]; })()""")
    readout = "document.querySelector('figure.chart .readout').textContent"

    def touch(*steps):
        for kind, points in zip(["touchStart"] + ["touchMove"] * (len(steps) - 1), steps):
            page.ask("Input.dispatchTouchEvent", type=kind, touchPoints=[
                {"x": x + dx, "y": y + dy, "id": i} for i, (dx, dy) in enumerate(points)])
            page.value("new Promise(done => setTimeout(done, 50))")
        page.ask("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])
        page.value("new Promise(done => setTimeout(done, 200))")

    touch([(0, 0)])
    expect(page.value(readout), f"{where}: a tap reads nothing")
    touch([(-20, 0), (20, 0)], [(-60, 0), (60, 0)], [(-90, 0), (90, 0)])
    expect("shown from" in page.value(readout), f"{where}: two fingers do not zoom")
    before = page.value("scrollY")
    touch([(0, 0)], [(0, -30)], [(0, -80)], [(0, -140)])
    expect(page.value("scrollY") != before, f"{where}: a chart holds the page fast")
    page.ask("Emulation.setTouchEmulationEnabled", enabled=False)


def picture(page, folder, name):
    if folder:
        whole = page.ask("Page.captureScreenshot", captureBeyondViewport=True)
        (folder / name).write_bytes(base64.b64decode(whole["data"]))


def look_at(page, address, folder):
    for width, height, scheme in WINDOWS:
        where = f"{width} px, {scheme}"
        page.look(width, height, scheme)
        page.open(address)
        for element in page.value(STICKS_OUT.replace("WIDTH", str(width))):
            complaints.append(f"{where}: {element} sticks out to the right")
        expect(page.value("document.documentElement.scrollWidth") <= width,
               f"{where}: the page scrolls sideways")
        ground = page.value("getComputedStyle(document.body).backgroundColor")
        expect((int(re.search(r"\d+", ground)[0]) < 128) == (scheme == "dark"),
               f"{where}: the ground is {ground}")
        for text in page.value(FAINT):
            complaints.append(f"{where}: hard to read: {text}")
        tab_through(page, where)
        if page.value(LIBRARY):
            drag_and_wheel(page, where)
            if width < 500:
                fingers(page, where)
        picture(page, folder, f"page-{width}-{scheme}.png")


def pictures_shown(page):
    """Charts whose plain picture can be seen, and all."""
    return page.value("""[[...document.querySelectorAll("figure.chart > svg")].filter(s =>
      s.checkVisibility() && s.getBoundingClientRect().height > 100).length,
      document.querySelectorAll("figure.chart").length]""")


def on_paper(page, address, folder):
    page.look(1200, 900, "dark", "print")
    page.open(address)
    shown, charts = pictures_shown(page)
    expect(shown == charts, f"on paper: {shown} of {charts} charts are plain pictures")
    expect(not page.value("[...document.querySelectorAll('canvas')].some(c => c.checkVisibility())"),
           "on paper: a chart of the screen is printed besides")
    pdf = base64.b64decode(page.ask("Page.printToPDF", paperWidth=8.27, paperHeight=11.69)["data"])
    pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
    expect(pdf.startswith(b"%PDF") and pages > 1, f"on paper: {pages} pages, {len(pdf)} bytes")
    if folder:
        (folder / "page.pdf").write_bytes(pdf)


def without_scripts(page, address):
    page.look(1200, 900, "light")
    page.ask("Emulation.setScriptExecutionDisabled", value=True)
    page.open(address)
    shown, charts = pictures_shown(page)
    expect(shown == charts, f"without scripts: {shown} of {charts} charts are seen")
    page.ask("Emulation.setScriptExecutionDisabled", value=False)


def what_it_said(page, address):
    for event in page.events:
        about, method = event.get("params", {}), event.get("method")
        if method == "Network.requestWillBeSent":
            to = about["request"]["url"]
            expect(to == address or to.startswith("data:"), "fetches " + to[:80])
        if method == "Runtime.exceptionThrown":
            complaints.append("a script failed: " + str(about["exceptionDetails"])[:300])
        if method == "Runtime.consoleAPICalled" and about["type"] in ("error", "warning", "assert"):
            complaints.append("the console says: " + str(about["args"])[:300])
        if method == "Log.entryAdded" and about["entry"]["level"] in ("error", "warning"):
            complaints.append("the browser says: " + about["entry"]["text"])


def main():
    if not browser.installed():
        print("no Chromium is installed")
        return 77
    address = pathlib.Path(sys.argv[1]).resolve().as_uri()
    folder = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else None
    with browser.Browser() as page:
        look_at(page, address, folder)
        on_paper(page, address, folder)
        without_scripts(page, address)
        what_it_said(page, address)
    for complaint in complaints:
        print(complaint)
    return 1 if complaints else 0


sys.exit(main())
