"""The facts of a situation as plain lines, for the eye."""

from caddie.bag import Player
from caddie.plan.called import name_of
from caddie.reply.phrases import side_said
from caddie.reply.putt import amount_said
from caddie.situation import Hazard, Situation
from caddie.units import SpeedUnit, Unit, from_metres, speed_text
from caddie.words import Understanding


def facts_text(heard: Understanding, player: Player) -> str:
    """One line a fact; only what was said."""
    lines = [f"{'Intent':<10} {heard.intent.value.replace('_', ' ')}"]
    lines += [f"{label:<10} {value}" for label, value in situation_facts(heard.situation, player)]
    for label, value in (("Club", heard.club), ("Swing", heard.swing), ("Flight", heard.flight)):
        if value:
            lines.append(f"{label:<10} {value}")
    if heard.family:
        lines.append(f"{'Shot':<10} {heard.family.value.replace('_', ' ')}")
    if heard.result:
        lines.append(f"{'Result':<10} {heard.result.model_dump_json(exclude_none=True)}")
    if heard.left_over:
        lines.append(f"Not followed: {', '.join(heard.left_over)}")
    return "\n".join(lines)


def situation_facts(situation: Situation, player: Player) -> list[tuple[str, str]]:
    """Label and value of every fact that was said."""

    def length(value_m: float | None) -> str | None:
        if value_m is None:
            return None
        value = from_metres(value_m, player.distances_in, player.pace_m)
        return f"{value:.1f}".removesuffix(".0") + f" {player.distances_in.value}"

    green, wind = situation.green, situation.wind
    facts: list[tuple[str, str | None]] = [
        ("Flag", length(situation.pin_m)),
        ("Front", length(situation.front_m)),
        ("Room", length(situation.room_m)),
        ("Behind", length(situation.behind_m)),
        ("Lie", _words(situation.lie)),
        ("Ball sits", _words(situation.sitting)),
        ("Grass", "wet" if situation.wet else None),
        ("Grooves", "dirty" if situation.dirty_grooves else None),
        ("Ball", "muddy" if situation.mud_on_ball else None),
        ("Mud", _words(situation.mud_side)),
        ("Sand", _words(situation.sand)),
        ("Lip", "right before it" if situation.under_lip else length(situation.lip_m)),
        ("Bunker", "deep" if situation.deep_bunker else None),
        ("Lip ahead", length(situation.lip_away_m)),
        ("Club meets", "sand going back" if situation.sand_behind else None),
        ("Against", _words(situation.against)),
        ("Lies", "unplayable" if situation.unplayable else None),
        ("Stance", ", ".join(stance.value.replace("_", " ") for stance in situation.stance) or None),
        ("Flag cut", _words(situation.pin_position)),
        ("Height", _height(situation.elevation_m, player.putt_unit)),
        *(
            ("Trouble", _hazard(hazard, length(hazard.carry_m), player.putt_unit))
            for hazard in situation.hazards
        ),
        ("Open", ", ".join(side.value for side in situation.open_sides) or None),
        ("Green", _words(green.firmness)),
        ("Green deep", _words(green.depth)),
        ("Green wide", _words(green.width)),
        ("Speed", f"stimp {green.stimp_ft:g} ft" if green.stimp_ft else None),
        ("Fall", _fall(_words(green.fall), green.fall_slope)),
        ("Side fall", _fall(_words(green.side_fall), green.side_slope)),
        ("Borrow", amount_said(green.borrow) if green.borrow is not None else None),
        ("Wind", _wind(_words(wind.from_), wind.speed_m_s, player.wind_unit)),
    ]
    return [(label, value) for label, value in facts if value]


def _words(value: str | None) -> str | None:
    return value.replace("_", " ") if value else None


def _height(elevation_m: float | None, unit: Unit) -> str | None:
    if not elevation_m:
        return None
    return f"green {height_text(abs(elevation_m), unit)} {'above' if elevation_m > 0 else 'below'} the ball"


def height_text(height_m: float, unit: Unit) -> str:
    """A height in whole feet, or in metres to the tenth for who counts in them."""
    counted = from_metres(height_m, unit)
    return f"{counted:.0f} feet" if unit is Unit.FEET else f"{counted:.1f} metres"


def _hazard(hazard: Hazard, carry: str | None, unit: Unit) -> str:
    parts = [name_of(hazard), side_said(hazard)]
    if carry:
        parts.append(f"{carry} to carry")
    if hazard.height_m:
        parts.append(f"{height_text(hazard.height_m, unit)} high")
    return ", ".join(parts)


def _fall(fall: str | None, slope: float | None) -> str | None:
    if fall is None:
        return None
    return f"{fall}, {slope:.1%}" if slope else fall


def _wind(source: str | None, speed_m_s: float | None, unit: SpeedUnit) -> str | None:
    if source is None and speed_m_s is None:
        return None
    speed = speed_text(speed_m_s, unit) if speed_m_s else ""
    return ", ".join(part for part in (f"from {source}" if source else "", speed) if part) or "calm"
