"""The page in a real browser, apart from the benchmark's table as it needs Chromium: ``python
tests/bench/page.py``.

Prints frames a second while listening beside those of an empty page, the first paint, a typed answer beside the same
one in this process, and the server's most memory.
"""

import shutil
import tempfile
import time
from pathlib import Path
from typing import Any

import beside  # noqa: F401  finds the server and the browser of the page
from chromium import COUNTED_S, MICROPHONE, PHONE, frames_a_second, launched
from page_server import PageServer
from playwright.sync_api import sync_playwright
from rows import Row, times_row, values_row

from caddie.bag import load_bag
from caddie.talk.conversation import Conversation

ROOT = Path(__file__).parents[2]
SHOT = "70 yards, light rough, bunker short"


def listening(page: Any) -> None:
    """Begin to listen, and wait until sound goes out."""
    with page.expect_websocket() as socket:
        page.click("#hands")
    socket.value.wait_for_event("framesent", timeout=60_000)


def measure() -> list[Row]:
    """All figures, of one run."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as running:
        home = Path(folder)
        shutil.copy(ROOT / "demo_bag" / "bag.toml", home / "bag.toml")
        server = PageServer(home)
        server.start()
        browser = launched(running, *MICROPHONE)
        try:
            context = browser.new_context(viewport=PHONE, permissions=["microphone"])
            empty = context.new_page()
            idle = frames_a_second(empty)
            empty.close()
            page = context.new_page()
            page.goto(server.address)
            page.wait_for_selector("#actions button")
            paints = []
            for _ in range(5):
                page.reload()
                page.wait_for_selector("#actions button")
                paints.append(
                    page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime")
                )
            typed, alone = answers(page, load_bag(home / "bag.toml"))
            listening(page)
            busy = frames_a_second(page)
            return [
                Row(
                    "frames while listening",
                    busy,
                    "a second",
                    1,
                    f"{COUNTED_S:g} s",
                    f"empty page {idle:.0f}",
                ),
                values_row("first paint", paints, "ms", "loads"),
                times_row("typed answer, from Enter", typed, "s", "answers"),
                times_row("the same in this process", alone, "s", "answers"),
                Row("most memory of the server", server.memory_mb(), "MB", 1, "processes"),
            ]
        finally:
            browser.close()
            server.kill()


def answers(page: Any, bag: Any) -> tuple[list[float], list[float]]:
    """How long a turn takes by the page, and in this process [s]."""
    terminal = Conversation(bag)
    took: tuple[list[float], list[float]] = [], []
    for number, text in enumerate([SHOT, *(f"make it {yards} yards" for yards in (64, 58, 52, 47, 43))]):
        begun = time.perf_counter()
        terminal.turn(text)
        alone_s = time.perf_counter() - begun
        page.fill("#text", text)
        begun = time.perf_counter()
        page.press("#text", "Enter")
        page.wait_for_function(
            "count => document.querySelectorAll('.turn .reply').length > count", arg=number, polling="raf"
        )
        if number:
            took[0].append(time.perf_counter() - begun)
            took[1].append(alone_s)
    return took


if __name__ == "__main__":
    for row in measure():
        print(f"{row.name}: {row.figure:.3g} {row.unit} ({row.count} {row.of}; {row.spread})")
