"""The picture of a putt: well-formed, described, and true to the plan."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from caddie.bag import Bag, Club, ClubKind, Player
from caddie.plan.choose import advise
from caddie.reply.putt_picture import BOTTOM, HEIGHT, SIDE, TOP, WIDTH, draw_putt
from caddie.situation import Fall, Green, Hazard, HazardKind, Lie, Situation
from caddie.units import FOOT_M

SVG = "{http://www.w3.org/2000/svg}"
BAG = Bag(
    player=Player(handicap=14),
    clubs=(Club(id="putter", name="putter", kind=ClubKind.PUTTER, loft_deg=3),),
)


def drawn(feet, *hazards, **green):
    situation = Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, green=Green(**green), hazards=hazards)
    plan = advise(situation, BAG)
    return plan, ElementTree.fromstring(draw_putt(plan, BAG))


@pytest.mark.parametrize("feet", [2, 12, 60, 150])
@pytest.mark.parametrize("fall", [None, *Fall])
def test_every_putt_draws_with_title_and_description(feet, fall):
    _, root = drawn(feet, fall=fall)
    assert root.find(f"{SVG}title").text
    assert "holed" in root.find(f"{SVG}desc").text
    for line in root.iter(f"{SVG}line"):
        assert all(re.fullmatch(r"-?\d+(\.\d)?", line.get(name)) for name in ("x1", "y1", "x2", "y2"))


def test_two_hundred_putts_are_holed_or_drawn():
    _, root = drawn(12, fall=Fall.LEFT_TO_RIGHT)
    dots = [c for c in root.iter(f"{SVG}circle") if c.get("fill-opacity")]
    holed = int(re.search(r"Of 200 putts (\d+)", root.find(f"{SVG}desc").text)[1])
    assert len(dots) + holed == 200
    assert 0 < holed < 100


def test_left_is_left():
    plan, root = drawn(12, fall=Fall.LEFT_TO_RIGHT, fall_slope=0.03)
    assert plan.chosen.aim_left_m > 0
    labels = {text.text: float(text.get("x")) for text in root.iter(f"{SVG}text")}
    assert labels["aim"] < labels["ball"]


def test_marks_and_words_stay_inside():
    for fall in (Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT):
        _, root = drawn(20, fall=Fall.AWAY, fall_slope=0.03, side_fall=fall, side_slope=0.03, stimp_ft=11.0)
        for text in root.iter(f"{SVG}text"):
            assert 0 < float(text.get("x")) < WIDTH
            assert 0 < float(text.get("y")) < HEIGHT
        rings = [c for c in root.iter(f"{SVG}circle") if not c.get("fill-opacity")]
        for ring in rings:
            assert SIDE < float(ring.get("cx")) < WIDTH - SIDE
            assert TOP < float(ring.get("cy")) < BOTTOM


def test_a_tier_is_drawn_with_its_slope():
    _, root = drawn(40, Hazard(kind=HazardKind.TIER, carry_m=8.0))
    assert any((text.text or "").startswith("up 1") for text in root.iter(f"{SVG}text"))
