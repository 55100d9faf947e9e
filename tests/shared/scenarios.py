"""Situations, players and grounds that several parts of the tests make up, in one place."""

from caddie.bag import Bag, Club, ClubKind, Player, load_bag
from caddie.plan.assume import complete
from caddie.plan.scene import Scene, lay_out
from caddie.situation import (
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    Stance,
    Wind,
    WindFrom,
)


def bunker(side: Side, carry_m: float | None = None) -> Hazard:
    return Hazard(kind=HazardKind.BUNKER, side=side, carry_m=carry_m)


def water(side: Side, carry_m: float | None = None) -> Hazard:
    return Hazard(kind=HazardKind.WATER, side=side, carry_m=carry_m)


def shape(kind: HazardKind, **rest: float) -> Hazard:
    return Hazard(kind=kind, **rest)


def wind(source: WindFrom, speed_m_s: float) -> Wind:
    return Wind(from_=source, speed_m_s=speed_m_s)


LOFTY = Hazard(kind=HazardKind.TREES, side=Side.SHORT, carry_m=25, height_m=7)
SCENARIOS: tuple[tuple[Situation, float], ...] = (
    (Situation(pin_m=8, lie=Lie.FRINGE), 14),
    (Situation(pin_m=14, front_m=3, lie=Lie.FAIRWAY), 14),
    (Situation(pin_m=20, front_m=4, lie=Lie.LIGHT_ROUGH), 14),
    (Situation(pin_m=12, front_m=8, lie=Lie.LIGHT_ROUGH), 14),
    (Situation(pin_m=18, front_m=13, lie=Lie.HEAVY_ROUGH), 14),
    (Situation(pin_m=30, front_m=12, lie=Lie.HEAVY_ROUGH), 22),
    (Situation(pin_m=15, front_m=7, lie=Lie.BUNKER), 14),
    (Situation(pin_m=36, front_m=22, lie=Lie.BUNKER), 14),
    (Situation(pin_m=14, front_m=5, lie=Lie.PLUGGED), 14),
    (Situation(pin_m=25, front_m=15, lie=Lie.BARE, hazards=(bunker(Side.SHORT, 13),)), 14),
    (Situation(pin_m=30, front_m=20, lie=Lie.FAIRWAY, hazards=(water(Side.SHORT, 18),)), 14),
    (Situation(pin_m=64, lie=Lie.FAIRWAY), 14),
    (Situation(pin_m=64, lie=Lie.FAIRWAY), 2),
    (Situation(pin_m=64, lie=Lie.FAIRWAY), 28),
    (Situation(pin_m=91, lie=Lie.FAIRWAY, wind=wind(WindFrom.AHEAD, 7)), 14),
    (Situation(pin_m=91, lie=Lie.FAIRWAY, wind=wind(WindFrom.BEHIND, 7)), 14),
    (Situation(pin_m=80, lie=Lie.FAIRWAY, wind=wind(WindFrom.LEFT, 8)), 14),
    (Situation(pin_m=55, lie=Lie.LIGHT_ROUGH, wind=wind(WindFrom.AHEAD_RIGHT, 5)), 8),
    (Situation(pin_m=40, front_m=20, hazards=(shape(HazardKind.RIDGE),)), 14),
    (Situation(pin_m=35, front_m=15, hazards=(shape(HazardKind.TIER),)), 14),
    (Situation(pin_m=35, front_m=15, hazards=(shape(HazardKind.SWALE),)), 14),
    (Situation(pin_m=28, front_m=20, hazards=(shape(HazardKind.FALSE_FRONT),)), 14),
    (Situation(pin_m=28, front_m=18, hazards=(shape(HazardKind.UPSLOPE, height_m=1.2),)), 14),
    (Situation(pin_m=45, hazards=(water(Side.LEFT),), pin_position=PinPosition.MIDDLE_LEFT), 14),
    (Situation(pin_m=60, hazards=(bunker(Side.RIGHT),), pin_position=PinPosition.BACK_RIGHT), 14),
    (Situation(pin_m=70, hazards=(bunker(Side.SHORT, 62),), pin_position=PinPosition.FRONT), 14),
    (Situation(pin_m=75, hazards=(water(Side.LONG),), pin_position=PinPosition.BACK), 14),
    (Situation(pin_m=50, front_m=38, hazards=(LOFTY,)), 14),
    (Situation(pin_m=40, elevation_m=5), 14),
    (Situation(pin_m=60, elevation_m=-8), 14),
    (Situation(pin_m=30, green=Green(fall=Fall.AWAY, fall_slope=0.04, stimp_ft=11)), 14),
    (Situation(pin_m=30, green=Green(fall=Fall.TOWARD, fall_slope=0.04)), 14),
    (Situation(pin_m=35, green=Green(side_fall=Fall.LEFT_TO_RIGHT, side_slope=0.04)), 14),
    (Situation(pin_m=50, green=Green(firmness=Firmness.FIRM, stimp_ft=12)), 5),
    (Situation(pin_m=50, green=Green(firmness=Firmness.SOFT, stimp_ft=8)), 20),
    (Situation(pin_m=25, lie=Lie.FAIRWAY, stance=(Stance.DOWNHILL,)), 14),
    (Situation(pin_m=25, lie=Lie.LIGHT_ROUGH, stance=(Stance.UPHILL,)), 14),
    (Situation(pin_m=40, lie=Lie.FAIRWAY, stance=(Stance.BALL_ABOVE,)), 14),
    (Situation(pin_m=22, front_m=12, lie=Lie.PINE_STRAW), 18),
    (
        Situation(
            pin_m=45,
            lie=Lie.DIVOT,
            hazards=(bunker(Side.SHORT, 30), Hazard(kind=HazardKind.OUT_OF_BOUNDS, side=Side.LONG)),
        ),
        10,
    ),
)
"""Forty short-game shots, each with the player's handicap."""


def bag_of(handicap: float) -> Bag:
    return bag_with(handicap=handicap)


def putter_bag(handicap: float = 14.0, **player: object) -> Bag:
    """A putter and nothing else."""
    putter = Club(id="putter", name="putter", kind=ClubKind.PUTTER, loft_deg=3)
    return Bag(player=Player.model_validate({"handicap": handicap, **player}), clubs=(putter,))


def bag_with(bag: Bag | None = None, **player: object) -> Bag:
    """The bag (the demo bag when none is given) of a player who differs from its own in these fields."""
    bag = bag or load_bag()
    return bag.model_copy(update={"player": bag.player.model_copy(update=player)})


def scene_of(situation: Situation, bag: Bag) -> Scene:
    return lay_out(complete(situation)[0], bag)
