import re
import xml.etree.ElementTree as ET
from datetime import UTC, datetime
from html.parser import HTMLParser

import numpy as np
import pytest
from invented import invented_season
from long_log import fill_log
from processor_time import timed

from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.log.table import read_table, table_of
from caddie.practice.gained import strokes_gained
from caddie.report.figures import figures_of
from caddie.report.page import PlayerShots, report_page
from caddie.situation import Finish, Lie, Side
from caddie.statistics import wilson_interval
from caddie.units import Unit

TODAY = datetime(2026, 9, 13, 12, tzinfo=UTC)
VOID = {"meta", "br", "link", "img", "hr", "input"}


class Page(HTMLParser):
    """Every element with its attributes, and whether all of them are closed in order."""

    def __init__(self, text):
        super().__init__()
        self.elements, self.open, self.badly_closed = [], [], []
        self.text = ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.badly_closed.append(tag)

    def handle_data(self, data):
        self.text += data + " "

    def of(self, tag):
        return [attrs for name, attrs in self.elements if name == tag]


MOST_TIMES = 35
"""How often as long as the plain work of processor_time.py; 14 was measured, 26 beside other tests."""


@pytest.fixture(scope="module")
def page(table, bag):
    return report_page([PlayerShots("Rowan Fenwick", table, bag)], TODAY)


def charts(page):
    return [ET.fromstring(svg) for svg in re.findall(r"<svg.*?</svg>", page, re.DOTALL)]


def named(svg, name):
    return svg.findall(f".//{{http://www.w3.org/2000/svg}}{name}")


def test_the_page_is_well_formed(page):
    read = Page(page)
    assert not read.badly_closed
    assert not read.open
    assert page.startswith("<!DOCTYPE html>")


def test_nothing_is_loaded_from_anywhere(page):
    read = Page(page)
    assert not {"script", "link", "img", "iframe", "object", "embed", "base", "form"} & {
        t for t, _ in read.elements
    }
    for _, attrs in read.elements:
        assert not {"src", "href", "srcset", "action", "data"} & set(attrs)
        assert not any(name.startswith("on") for name in attrs)
    assert "@import" not in page
    assert "url(" not in page
    policy = next(m["content"] for m in read.of("meta") if m.get("http-equiv") == "Content-Security-Policy")
    assert policy.startswith("default-src 'none'")


def test_every_section_is_there(page):
    headings = re.findall(r"<h3>(.*?)</h3>", page)
    assert headings == [
        "Three things to work on",
        "Up and down, by distance",
        "Up and down, by lie",
        "Distance left, by distance",
        "Distance left, by lie",
        "Where balls end",
        "How it was struck",
        "Strokes against the published table",
        "Trend",
        "Reading putts",
        "Trusted shots",
        "Commitment",
        "How these figures are worked out",
    ]
    work = re.search(r"<section class='work'>.*?</section>", page, re.DOTALL)[0]
    assert work.count("<li>") == 3


def test_charts_have_words_for_screen_readers(page):
    found = charts(page)
    assert len(found) == 12
    for svg in found:
        assert svg.get("role") == "img"
        assert svg.get("aria-label")
        (title,), (desc,) = named(svg, "title"), named(svg, "desc")
        assert title.text == svg.get("aria-label")
        assert len(desc.text.split()) > 5


def test_what_is_drawn_lies_inside_its_chart(page):
    for svg in charts(page):
        _, _, width, height = map(float, svg.get("viewBox").split())
        for name, x, y in (
            ("circle", "cx", "cy"),
            ("rect", "x", "y"),
            ("text", "x", "y"),
            ("line", "x1", "y1"),
        ):
            for shape in named(svg, name):
                assert 0 <= float(shape.get(x)) <= width, ET.tostring(shape)
                assert 0 <= float(shape.get(y)) <= height, ET.tostring(shape)
        for line in named(svg, "line"):
            assert 0 <= float(line.get("x2")) <= width
            assert 0 <= float(line.get("y2")) <= height


def test_the_dot_stands_at_its_share(page, table):
    """Up and down by lie: dots and whiskers against shares worked out here, on the axis its labels give."""
    svg = next(svg for svg in charts(page) if svg.get("aria-label") == "Up and down, by lie")
    ticks = {t.text: float(t.get("x")) for t in named(svg, "text") if re.fullmatch(r"\d+%", t.text)}
    left, right = ticks["0%"], ticks["100%"]
    up_and_down = table.up_and_down
    sand = up_and_down[table.is_lie(Lie.BUNKER, Lie.PLUGGED) & ~np.isnan(up_and_down)]
    dot = named(svg, "circle")[3]
    assert (float(dot.get("cx")) - left) / (right - left) == pytest.approx(sand.mean(), abs=0.002)
    whisker = next(
        line
        for line in named(svg, "line")
        if line.get("stroke-linecap") == "round" and line.get("y1") == dot.get("cy")
    )
    low, high = wilson_interval(int(sand.sum()), len(sand))
    assert (float(whisker.get("x1")) - left) / (right - left) == pytest.approx(low, abs=0.002)
    assert (float(whisker.get("x2")) - left) / (right - left) == pytest.approx(high, abs=0.002)


def luminance(red, green, blue):
    """Relative luminance of a colour of 0 to 255 a channel, as WCAG 2.2 defines it."""
    parts = [part / 255 for part in (red, green, blue)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, two):
    dark, light = sorted((luminance(*one), luminance(*two)))
    return (light + 0.05) / (dark + 0.05)


def channels(colour):
    colour = colour if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:])
    return [int(colour[i : i + 2], 16) for i in (1, 3, 5)]


def test_text_can_be_read_on_its_ground():
    """WCAG 2.2, 1.4.3: contrast of at least 4.5 to 1 for text."""
    from caddie.report import charts as look

    for ground in ("#ffffff", "#faf6ec"):
        for text in (look.INK, look.QUIET):
            assert contrast(channels(ground), channels(text)) >= 4.5


@pytest.mark.parametrize("most", [20, 24, 40])
def test_shares_round_the_flag_can_be_read_on_every_shade(most):
    """WCAG 2.2, 1.4.3, on the shade mixed with white by its opacity."""
    from caddie.report.charts import nine_places

    grid = [[most, most - 3, most - 6], [most // 2, 0, most // 3], [most // 4, most - 9, 1]]
    svg = ET.fromstring(nine_places("t", "d", grid))
    numbers = [text for text in named(svg, "text") if text.text.endswith("%")]
    squares = [rect for rect in named(svg, "rect") if rect.get("fill-opacity")]
    assert len(numbers) == len(squares) == 8
    for text, square in zip(numbers, squares, strict=True):
        share = float(square.get("fill-opacity"))
        mixed = [share * part + (1 - share) * 255 for part in channels(square.get("fill"))]
        assert contrast(mixed, channels(text.get("fill"))) >= 4.5


def test_figures_agree_with_a_count_by_hand(made):
    shots = []
    fat = {"side": (Side.LONG, Side.LEFT), "strike": "heavy"}
    for day in range(3):
        start = 1440.0 * day
        shots += [
            made(start, left_m=1.0, result={"side": (Side.SHORT,)}, family="chip"),
            made(start + 2, pin_m=1.0, lie=Lie.GREEN, finish=Finish.HOLED),
            made(start + 30, lie=Lie.BUNKER, left_m=5.0, result=fat, family="splash"),
            made(start + 32, pin_m=5.0, lie=Lie.GREEN, left_m=0.5),
            made(start + 33, pin_m=0.5, lie=Lie.GREEN, finish=Finish.HOLED),
        ]  # fmt: skip
    figures = figures_of(table_of(shots), "Ash", Unit.METRES)
    assert (figures.rounds, figures.off_green, figures.putts, figures.holed) == (3, 6, 9, 0)
    assert (figures.up_and_down.hits, figures.up_and_down.shots) == (3, 6)
    assert {rate.name: (rate.hits, rate.shots) for rate in figures.up_and_down_by_ground if rate.shots} == {
        "short grass": (3, 3),
        "sand": (0, 3),
    }
    assert figures.ends == [[3, 0, 0], [0, 0, 0], [0, 3, 0]]
    assert next(row for row in figures.strikes if row.name == "splash") == ("splash", 3, (3, 0, 0, 0), 0)
    assert {leave.name: leave.median_m for leave in figures.leaves_by_ground if leave.shots} == {
        "short grass": 1.0,
        "sand": 5.0,
    }
    chip, _, splash = strokes_gained(table_of(shots[:3]))
    assert figures.gained.mean == pytest.approx((chip + splash) / 2)


def test_drills_stay_out_of_the_report(made):
    shots = [made(0), *(made(i, mode=Mode.REHEARSAL) for i in range(1, 9)), made(20, mode=Mode.COMPETITION)]
    assert figures_of(table_of(shots), "Ash", Unit.YARDS).off_green == 2


def test_the_trend_finds_a_player_who_gets_better(made):
    shots = [made(1440.0 * day + i, left_m=6.0 - 0.2 * day) for day in range(24) for i in range(4)]
    trend = figures_of(table_of(shots), "Ash", Unit.YARDS).trend
    assert len(trend) == 12
    means = [point.mean for point in trend]
    assert means == sorted(means)


def test_several_players_stand_side_by_side(table, bag):
    other = table_of(invented_season(6, seed=9, player="Marlow Teague", wider=1.3))
    page = report_page([PlayerShots("Rowan Fenwick", table, bag), PlayerShots("Marlow Teague", other)], TODAY)
    read = Page(page)
    assert not read.badly_closed
    head = re.search(r"<thead>.*?</thead>", page, re.DOTALL)[0]
    assert re.findall(r"<th scope='col'>(.*?)</th>", head) == ["", "Rowan Fenwick", "Marlow Teague"]
    assert re.findall(r"<h2>(.*?)</h2>", page) == ["Rowan Fenwick", "Marlow Teague"]
    assert len(charts(page)) == 24


def test_names_and_sentences_cannot_break_the_page(made):
    shots = [made(0, player="<b>&'\"", cue="<i>", advice={"leave_m": 3.0})]
    page = report_page([PlayerShots("<b>&'\"", table_of(shots))], TODAY)
    assert "<b>&" not in page
    assert "<i>" not in page
    assert not Page(page).badly_closed


@pytest.mark.parametrize("count", [0, 1, 2, 5])
def test_a_young_log_makes_a_page_too(made, count):
    shots = [made(1440.0 * i, result={"side": (Side.LONG,)}, family="chip") for i in range(count)]
    page = report_page([PlayerShots("Ash", table_of(shots))], TODAY)
    assert not Page(page).badly_closed
    assert "nan" not in page.lower()
    assert "inf" not in re.sub(r"inform\w*", "", page.lower())


def test_metres_are_told_in_metres(table):
    page = report_page([PlayerShots("Ash", table)], TODAY, Unit.METRES)
    assert "10 to 20 metres" in page
    assert not re.search(r"\b(ft|feet|yards)\b", page)


def test_it_prints_on_any_paper(page):
    """No sheet size is forced, so A4 and Letter both fit; figures and tables are not torn."""
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)[1]
    assert not re.search(r"@page[^}]*size", style)
    assert "@media print" in style
    assert re.search(r"figure \{[^}]*break-inside: avoid", style)


def test_a_hundred_thousand_shots_make_a_page_quickly(tmp_path, season, bag):
    """Processor time, reading the log included, so that other work on the machine does not count."""
    with Log(tmp_path / "log.sqlite3") as log:
        fill_log(log, season)
        assert log.count() == 100_000
        page, times = timed(
            lambda: report_page([PlayerShots("Rowan Fenwick", read_table(log), bag)], TODAY),
            enough=MOST_TIMES,
        )
        assert times < MOST_TIMES
    assert " 2125: " in page
    assert len(charts(page)) == 12
