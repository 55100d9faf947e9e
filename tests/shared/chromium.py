"""Chromium as the tests and the benchmark of the page start it, and how many frames it draws."""

import shutil
from typing import Any

PHONE = {"width": 390, "height": 844}
MICROPHONE = (
    "--use-fake-ui-for-media-stream",
    "--use-fake-device-for-media-stream",
    "--autoplay-policy=no-user-gesture-required",
)
COUNTED_S = 5.0
_COUNT_FRAMES = """ms => new Promise(done => {
  let frames = 0; const begun = performance.now();
  const step = now => {
    if (now - begun >= ms) return done(frames / (now - begun) * 1000);
    frames += 1;
    requestAnimationFrame(step);
  };
  requestAnimationFrame(step);
})"""


def chromium_program() -> str:
    """The browser of this machine."""
    program = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert program, "no Chromium found: install it, or leave out -m browser"
    return program


def launched(playwright: Any, *flags: str) -> Any:
    """The browser under a hand of the test's, without a window."""
    return playwright.chromium.launch(executable_path=chromium_program(), args=["--no-sandbox", *flags])


def frames_a_second(page: Any) -> float:
    """Frames that the browser draws, as counted by the page itself."""
    return float(page.evaluate(_COUNT_FRAMES, COUNTED_S * 1000))
