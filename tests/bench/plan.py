"""How long a plan and its reply take, and how much faster it is than settling every candidate ball by ball."""

import beside  # noqa: F401  finds scenarios
import numpy as np
from rows import Part, Row, Size, busy_ms, times_row, values_row
from scenarios import SCENARIOS, bag_of, scene_of

from caddie.bag import Bag
from caddie.plan import launches
from caddie.plan.candidates import ANY, coarse
from caddie.plan.choose import advise
from caddie.plan.dispersion import draw
from caddie.plan.scene import Scene
from caddie.plan.search import BALLS, launch_rows, play
from caddie.plan.strokes import hole_out_table
from caddie.reply import speak, write
from caddie.reply.cue import cue_for

CONSIDERED = "a plan: candidates considered"
NEW, KNOWN = "a plan in new air or lie, warm", "a plan with known flights, warm"
REPLY = "the reply to a plan: cue, spoken and written"
EXACT = "the plan's candidates settled ball by ball, times as long"
SOME = (0, 2, 6, 11, 14, 24, 27, 39)
"""A fringe chip, rough, a bunker, pitches in calm air and wind, a pin beside sand, trees, a divot."""


def measure(size: Size) -> list[Row]:
    considered, new, known, reply, ratio = [], [], [], [], []
    for number in SOME[: size.take(len(SOME), 4)]:
        situation, handicap = SCENARIOS[number]
        bag = bag_of(handicap)
        plan = advise(situation, bag)
        considered.append(float(plan.considered))
        here = []
        for _ in range(size.take(15, 3)):
            launches._tabulated.cache_clear()
            new.append(busy_ms(lambda situation=situation, bag=bag: advise(situation, bag)))
            here.append(busy_ms(lambda situation=situation, bag=bag: advise(situation, bag)))
            reply.append(busy_ms(lambda plan=plan, bag=bag: _reply(plan, bag)))
        known += here
        ratio.append(exact_ms(scene_of(situation, bag), bag) * plan.considered / float(np.median(here)))
    return [
        values_row(CONSIDERED, considered, "candidates", "situations"),
        times_row(NEW, new, "ms of processor", "plans"),
        times_row(KNOWN, known, "ms of processor", "plans"),
        times_row(REPLY, reply, "ms of processor", "replies"),
        values_row(EXACT, ratio, "times", "situations"),
    ]


def _reply(plan, bag: Bag) -> None:
    cue = cue_for(plan, bag)
    speak(plan, bag, cue)
    write(plan, bag, cue)


def exact_ms(scene: Scene, bag: Bag) -> float:
    """Processor time to settle one candidate's balls, as a plain search does for each."""
    rows = launch_rows(scene, bag, ANY)
    shots = coarse(scene, rows, bag)
    some = shots.take(np.linspace(0, len(shots.row) - 1, 40).astype(np.int64))
    table = hole_out_table(bag.player.handicap)
    return busy_ms(lambda: play(scene, rows, some, draw(BALLS, 1), bag, table)) / 40


PART = Part((CONSIDERED, NEW, KNOWN, REPLY, EXACT), measure)
