"""What hampers a swing: how long it may be, how far it scatters, how often it goes wrong, and what to mind."""

from typing import NamedTuple

from caddie.situation import (
    IN_SAND,
    Against,
    Firmness,
    Grain,
    Hampered,
    InLine,
    Lie,
    Obstruction,
    Sitting,
    Situation,
)


class Cramped(NamedTuple):
    """What something in the way of a swing does to it."""

    longest: float
    """Share of a full swing that is left."""
    spread: float
    """How much wider the pattern gets."""
    mishits: float
    """How much oftener it is struck heavy or thin."""


CRAMPED = {
    Hampered.BACKSWING: Cramped(longest=0.2, spread=1.3, mishits=1.4),
    Hampered.NO_BACKSWING: Cramped(longest=0.1, spread=1.8, mishits=2.5),
    Hampered.FOLLOW_THROUGH: Cramped(longest=0.3, spread=1.3, mishits=1.4),
    Hampered.STANCE: Cramped(longest=0.5, spread=1.25, mishits=1.4),
    Hampered.GROWTH: Cramped(longest=0.2, spread=1.6, mishits=2.2),
    Hampered.TO_CHEST: Cramped(longest=0.5, spread=1.1, mishits=1.15),
    Hampered.TO_HIP: Cramped(longest=0.25, spread=1.15, mishits=1.2),
    Hampered.TURNED: Cramped(longest=0.2, spread=2.0, mishits=3.0),
}
"""Common practice, no source: wrists alone where nothing else moves, and less sure the stranger the stroke is."""
SHORT_GRASS = (Lie.FAIRWAY, Lie.FIRST_CUT, Lie.FRINGE)
"""Where the sole meets the ground under the ball."""
COLLAR_STUBS, COLLAR_WIDENS = 0.05, 1.5
"""A putter that goes back through a collar is caught by it so much oftener, and its pace strays so much more."""
COLLAR_SWING = 0.25
"""Against a collar nothing longer is played than a putter's stroke with another club (common practice, no source)."""
TALL_GRASS_SPREAD = 1.5
"""How much wider grass to the knee makes the pattern, beside what is called thick rough: what it does to the ball says
:data:`caddie.ball.lie.TALL`, how it holds the club :mod:`caddie.plan.grass` (common practice, no source)."""
LITTLE_ROOM = (
    "No room to take it back: hinge the wrists early, short and firm, and stop at the ball if need be."
)
CAUTION = {
    Hampered.BACKSWING: LITTLE_ROOM,
    Hampered.NO_BACKSWING: (
        "With a few inches to swing in the ball is poked and no more: to where the next one can be swung at, or it is "
        "unplayable, one stroke (Rule 19.2)."
    ),
    Hampered.FOLLOW_THROUGH: "No room to follow through: a short jab that stops after the ball; spare the wrists.",
    Hampered.STANCE: "The stance is cramped: narrow feet, grip down, arms alone. Rehearse it first.",
    Hampered.GROWTH: (
        "In a bush mind eyes and hands: rehearse that the club gets through; if it does not, take the drop. "
        "Rule 8.1 lets no branch be broken or bent for it."
    ),
    Hampered.TO_CHEST: "Half a swing and no more: rehearse where the club has to stop, and hold the finish as short.",
    Hampered.TO_HIP: "No swing past the hip: rehearse that the club gets back so far, then let the ball run.",
    Hampered.TURNED: (
        "Played the wrong way round any ball that moves is a good one: toe of the blade down, short, eyes on the ball."
    ),
}
OBSTRUCTED = {
    Obstruction.PATH: (
        "A made path or road is an immovable obstruction: relief is free (Rule 16.1), within a club-length of the "
        "nearest point clear of it for ball, stance and swing, no nearer the hole, unless local rules make it part of "
        "the course. Loose stones may be taken away (Rule 15.1). Played as it lies it is struck ball first, not putted."
    ),
    Obstruction.PUDDLE: (
        "Temporary water is an abnormal course condition: free relief within a club-length of the nearest point clear "
        "of it for ball, stance and swing, no nearer the hole (Rule 16.1b). The shot is that of the ball dropped."
    ),
    Obstruction.REPAIR: (
        "Ground under repair is an abnormal course condition: free relief within a club-length of the nearest point "
        "clear of it for ball, stance and swing, no nearer the hole (Rule 16.1b); a local rule may forbid play from "
        "it. The shot is that of the ball dropped."
    ),
    Obstruction.ANIMAL_HOLE: (
        "A hole that an animal dug, and what it threw out, is an abnormal course condition: free relief within a "
        "club-length of the nearest point clear of it for ball, stance and swing, no nearer the hole (Rule 16.1b). The "
        "shot is that of the ball dropped."
    ),
    Obstruction.WRONG_GREEN: (
        "No ball is played from a green of another hole, nor with the feet on it: free relief, and it must be taken, "
        "within a club-length of the nearest point off that green, no nearer the hole (Rule 13.1f). The shot is that "
        "of the ball dropped."
    ),
    Obstruction.RAKE: (
        "A rake is a movable obstruction: lift it away, in sand too; a ball that moves with it is put back where it "
        "lay, without penalty (Rule 15.2a)."
    ),
    Obstruction.SPRINKLER: (
        "A sprinkler head under ball or feet is an immovable obstruction: free relief within a club-length of the "
        "nearest point clear of it, no nearer the hole (Rule 16.1), if local rules do not say otherwise."
    ),
}
PUDDLE_IN_SAND = (
    "Temporary water in a bunker (Rule 16.1c): free relief inside it, where there is least of it if no sand is dry, "
    "no nearer the hole; or back on the line outside for one stroke. The shot is that of the ball dropped in the "
    "sand."
)
IN_LINE = {
    InLine.FRINGE: (
        "Fringe on the line takes pace: a shade firmer over it, or round it. A chip from the green is within the Rules "
        "where no local rule says otherwise: mind the turf."
    ),
    InLine.SPRINKLER: (
        "A sprinkler head on the line alone gives no free relief off the green (Rule 16.1), unless a local rule "
        "gives it near the green: ask. Else chip over it or go round."
    ),
}
GRAIN_GRABS = (
    "Grass that grows against the club grabs a leading edge and a putted ball: shaft upright, ball first, the same "
    "pace through."
)
FROZEN_SAID = (
    "Frozen ground throws the ball on and nobody knows how far: what lands skips, so let it land short."
)
TALL_GRASS_SAID = "From grass to the knee nobody carries far: a lofted club, a firm grip, the short way out."


def longest_share(situation: Situation) -> float:
    """The longest swing that there is room for, as a share of a full one."""
    longest = CRAMPED[situation.hampered].longest if situation.hampered else float("inf")
    return min(longest, COLLAR_SWING) if situation.against is Against.COLLAR else longest


def strike_lie(situation: Situation) -> Lie:
    """The lie that decides how the ball is struck: frozen ground throws a sole up as bare ground does, or worse."""
    lie = situation.lie or Lie.FAIRWAY
    return Lie.BARE if situation.green.firmness is Firmness.FROZEN and lie in SHORT_GRASS else lie


def is_iron_hard(situation: Situation) -> bool:
    """Whether the ball lies on short grass or bare over frozen ground."""
    return situation.green.firmness is Firmness.FROZEN and strike_lie(situation) is Lie.BARE


def is_tall(situation: Situation) -> bool:
    """Whether the ball lies down in grass to the knee."""
    return (
        bool(situation.tall_grass)
        and situation.lie is Lie.HEAVY_ROUGH
        and situation.sitting is not Sitting.UP
    )


def spread_factor(situation: Situation) -> float:
    """How much wider the pattern gets by what hampers it."""
    wider = CRAMPED[situation.hampered].spread if situation.hampered else 1.0
    return wider * (TALL_GRASS_SPREAD if is_tall(situation) else 1.0)


def mishit_factor(situation: Situation) -> float:
    """How much oftener the ball is struck heavy or thin by what hampers the swing."""
    return CRAMPED[situation.hampered].mishits if situation.hampered else 1.0


def square_only(situation: Situation) -> bool:
    """Whether there is no room for a face laid open."""
    return situation.hampered is not None or situation.against is Against.COLLAR or is_tall(situation)


def cautions(situation: Situation) -> list[str]:
    """What to mind of all that, a sentence each."""
    said = [CAUTION[situation.hampered]] if situation.hampered else []
    if situation.obstruction:
        wet_sand = situation.obstruction is Obstruction.PUDDLE and situation.lie in IN_SAND
        said.append(PUDDLE_IN_SAND if wet_sand else OBSTRUCTED[situation.obstruction])
    if situation.in_line:
        said.append(IN_LINE[situation.in_line])
    if situation.green.grain is Grain.AGAINST and situation.lie is not Lie.GREEN:
        said.append(GRAIN_GRABS)
    if is_tall(situation):
        said.append(TALL_GRASS_SAID)
    if situation.green.firmness is Firmness.FROZEN and situation.lie is not Lie.GREEN:
        said.append(FROZEN_SAID)
    return said
