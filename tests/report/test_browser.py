"""The report in headless Chromium: no console error, pictures drawn, no request leaves the page."""

import json
import re
import struct
import subprocess
import zlib
from datetime import UTC, datetime

import numpy as np
import pytest
from chromium import chromium_program

from caddie.reply.svg import TURF
from caddie.report.page import PlayerShots, report_page

pytestmark = pytest.mark.browser

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
)  # fmt: skip


@pytest.fixture(scope="module")
def page(table, bag, tmp_path_factory):
    file = tmp_path_factory.mktemp("report") / "report.html"
    file.write_text(
        report_page([PlayerShots("Rowan Fenwick", table, bag)], datetime.now(UTC)), encoding="utf-8"
    )
    return file


def chromium(tmp_path, page, *flags):
    """Run the browser on a page with a fresh profile."""
    command = [chromium_program(), *FLAGS, f"--user-data-dir={tmp_path / 'profile'}", *flags, page.as_uri()]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)


def pixels(file):
    """An 8-bit PNG without interlace as an array (height, width, channels): PNG specification, sec. 9."""
    data = file.read_bytes()
    chunks, at = {}, 8
    while at < len(data):
        (length,), kind = struct.unpack(">I", data[at : at + 4]), data[at + 4 : at + 8]
        chunks[kind] = chunks.get(kind, b"") + data[at + 8 : at + 8 + length]
        at += 12 + length
    width, height, depth, colour, _, _, interlace = struct.unpack(">IIBBBBB", chunks[b"IHDR"])
    assert (depth, interlace) == (8, 0)
    channels = {2: 3, 6: 4}[colour]
    raw = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), dtype=np.uint8).reshape(
        height, 1 + width * channels
    )
    rows = np.zeros((height + 1, width * channels), dtype=np.int64)
    for y in range(height):
        kind, line, above = raw[y, 0], raw[y, 1:].astype(np.int64), rows[y]
        if kind == 0:
            rows[y + 1] = line
        elif kind == 2:
            rows[y + 1] = (line + above) % 256
        else:
            out = rows[y + 1]
            for x in range(len(line)):
                left = out[x - channels] if x >= channels else 0
                corner = above[x - channels] if x >= channels else 0
                if kind == 1:
                    guess = left
                elif kind == 3:
                    guess = (left + above[x]) // 2
                else:
                    base = left + above[x] - corner
                    guess = min((left, above[x], corner), key=lambda part: abs(base - part))
                out[x] = (line[x] + guess) % 256
    return rows[1:].reshape(height, width, channels)


def test_no_console_message_and_every_chart_in_the_document(tmp_path, page):
    done = chromium(tmp_path, page, "--dump-dom", "--enable-logging=stderr", "--v=0")
    assert "CONSOLE" not in done.stderr
    assert done.stdout.count("<svg") == page.read_text(encoding="utf-8").count("<svg") > 0


def test_the_pictures_are_drawn(tmp_path, page):
    shot = tmp_path / "page.png"
    chromium(tmp_path, page, f"--screenshot={shot}", "--window-size=800,1500")
    seen = pixels(shot)[:, :, :3]
    turf = np.array([int(TURF[i : i + 2], 16) for i in (1, 3, 5)])
    assert (np.abs(seen - turf).max(axis=2) <= 2).sum() > 1000


def asked_for(tmp_path, page):
    """Addresses that the page itself asks for; what the browser asks on its own has no origin."""
    net_log = tmp_path / "net.json"
    chromium(tmp_path, page, "--dump-dom", f"--log-net-log={net_log}")
    events = json.loads(net_log.read_text(encoding="utf-8"))["events"]
    asked = [event["params"] for event in events if "url" in (event.get("params") or {})]
    return [part["url"] for part in asked if part.get("initiator", "not an origin") != "not an origin"]


def test_no_request_leaves_the_page(tmp_path, page):
    assert asked_for(tmp_path, page) == []


def test_a_request_that_leaves_a_page_is_seen(tmp_path):
    """The check above can fail: the same page with a picture from elsewhere is caught."""
    leaky = tmp_path / "leaky.html"
    leaky.write_text("<!DOCTYPE html><img src='http://elsewhere.invalid/x.png' alt=''>", encoding="utf-8")
    assert "http://elsewhere.invalid/x.png" in asked_for(tmp_path, leaky)


@pytest.mark.parametrize(("paper", "size"), [("A4", "210mm 297mm"), ("Letter", "8.5in 11in")])
def test_it_prints_on_four_sheets_or_fewer(tmp_path, page, paper, size):
    sized = tmp_path / "report.html"
    text = page.read_text(encoding="utf-8").replace("@page {", f"@page {{ size: {size};")
    sized.write_text(text, encoding="utf-8")
    pdf = tmp_path / f"{paper}.pdf"
    chromium(tmp_path, sized, f"--print-to-pdf={pdf}", "--no-pdf-header-footer")
    sheets = len(re.findall(rb"/Type\s*/Page\b", pdf.read_bytes()))
    assert 1 <= sheets <= 4
