"""A played shot for the log: what was known, advised and said to have become of it."""

from typing import Any

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Commitment, Mode, Shot
from caddie.reply.spoken import sentences
from caddie.situation import Finish, Lie, Result, Side, Situation, Strike
from caddie.talk import lines
from caddie.talk.sayings import clauses, plain, says, says_in_part
from caddie.talk.state import Desk, Known, Said
from caddie.units import Unit, spoken_length
from caddie.words import Intent, Understanding, understand

_SIDE = {Side.LONG: "past", Side.SHORT: "short", Side.LEFT: "left", Side.RIGHT: "right"}
_STRIKE = {
    Strike.CLEAN: "clean strike",
    Strike.HEAVY: "heavy",
    Strike.THIN: "thin",
    Strike.TOPPED: "topped",
    Strike.SHANK: "off the hosel",
}
_FINISH = {
    Finish.GREEN: "on the green",
    Finish.FRINGE: "on the fringe",
    Finish.FAIRWAY: "on the fairway",
    Finish.ROUGH: "in the rough",
    Finish.BUNKER: "in the sand",
    Finish.WATER: "in the water",
    Finish.TREES: "in the trees",
    Finish.OUT_OF_BOUNDS: "out of bounds",
}
_COMMITMENT = {
    Commitment.COMMITTED: "committed",
    Commitment.QUIT: "quit on it",
    Commitment.RUSH: "rushed",
}


def commitment_in(text: str) -> Commitment | None:
    """How the player says they went through with the shot."""
    return next((each for each in Commitment if says_in_part(text, each.value)), None)


def tells_commitment(text: str, known: Known) -> bool:
    """Whether the whole utterance is a report of commitment on a shot."""
    told = [each for each in Commitment if says(text, each.value)]
    if not told:
        return False
    if plain(text) == "quit" and not known.played:
        return False  # Before the swing it is the talk that is left.
    # "Committed" before the swing is the player's yes to the shot.
    return known.played or (known.plan is not None and told[0] is not Commitment.COMMITTED)


def in_clauses(heard: Understanding, bag: Bag) -> Understanding:
    """ "Hit the 52 instead, finished ten feet short": a result, though it begins like a question."""
    if heard.intent is not Intent.WHAT_IF or "?" in heard.heard or len(clauses(heard.heard)) < 2:
        return heard
    player = bag.player
    last = understand(clauses(heard.heard)[-1], unit=player.distances_in, pace_m=player.pace_m)
    if last.intent is not Intent.RESULT:
        return heard
    return last.model_copy(update={"heard": heard.heard, "club": heard.club})


def result(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Write a result down; what is said of a shot already written is added to it."""
    told = heard.result or Result()
    commitment = commitment_in(heard.heard)
    if desk.log is None:
        spoken = lines.NOT_LOGGED if desk.log_problem else lines.NO_LOG
        written = f"{spoken} ({desk.log_problem})" if desk.log_problem else spoken
        return Said(known.changed(result=told, question=None, other=None), spoken, written=written, step=True)
    acknowledged = acknowledgement(told, commitment)
    try:
        if known.shot_logged is not None and known.result is not None and _adds(known.result, told, heard):
            whole = _together(known.result, told)
            desk.log.amend(known.shot_logged, whole, commitment)
            return Said(known.changed(result=whole), acknowledged, logged=True)
        shot = played_shot(known, heard, desk, commitment)
        number = desk.log.add(shot)
    except CaddieError as error:
        return Said(known, lines.NOT_LOGGED, written=f"{lines.NOT_LOGGED} ({error})")
    after = known.changed(
        shot_logged=number,
        result=told,
        situation=shot.situation if known.played else known.situation,
        plan=None if known.played else known.plan,
        question=None,
        other=None,
        spoken=acknowledged,
        short=acknowledged,
    )
    return Said(after, acknowledged, logged=True, step=True)


def played_shot(known: Known, heard: Understanding, desk: Desk, commitment: Commitment | None) -> Shot:
    """The shot as the log keeps it: what was advised was played, unless another club is named."""
    told = heard.result or Result()
    if known.played:
        return Shot(
            mode=desk.mode,
            player=desk.bag.player.name,
            sentence=heard.heard,
            situation=_next_situation(known),
            result=told,
            commitment=commitment,
            club=_club_id(heard, desk.bag),
        )
    played: dict[str, Any] = {}
    if known.plan is not None and desk.mode is not Mode.COMPETITION:
        option = known.plan.chosen
        played = {
            "advice": known.advised.model_dump(mode="json") if known.advised else None,
            "club": option.club,
            "swing": option.swing,
            "family": option.family,
            "flight": option.flight.value,
            "cue": known.cue.id if known.cue else None,
        }
    club = _club_id(heard, desk.bag)
    if club is not None and club != played.get("club"):
        played |= {"club": club, "swing": heard.swing, "family": None, "flight": None}
    return Shot(
        mode=desk.mode,
        player=desk.bag.player.name,
        sentence=known.sentence or heard.heard,
        situation=known.plan.situation if known.plan else known.situation,
        result=told,
        commitment=commitment,
        **played,
    )


def acknowledgement(told: Result, commitment: Commitment | None) -> str:
    """What was understood of the result, so that a misheard one is noticed."""
    parts = []
    if told.strike is not None:
        parts.append(_STRIKE[told.strike])
    if told.holed:
        parts.append("holed")
    elif told.distance_m is not None:
        length = spoken_length(told.distance_m, Unit.FEET)
        parts.append(f"{length} {' and '.join(_SIDE[side] for side in told.side) or 'from the hole'}")
    elif told.side:
        parts.append(" and ".join(_SIDE[side] for side in told.side))
    if told.finish is not None and not told.holed:
        parts.append(_FINISH[told.finish])
    if commitment is not None:
        parts.append(_COMMITMENT[commitment])
    return sentences([", ".join(parts), "written down"])


def _club_id(heard: Understanding, bag: Bag) -> str | None:
    if not heard.club:
        return None
    club = bag.club_called(heard.club)
    return club.id if club else heard.club


def _adds(before: Result, now: Result, heard: Understanding) -> bool:
    """Whether the words are about the same shot: they correct it, or say what was not said yet."""
    if heard.heard.lower().startswith(("no", "sorry", "i mean", "make it", "actually")):
        return True
    if now.holed or before.holed:
        return now == Result()
    said = {name for name in type(now).model_fields if getattr(now, name) not in (None, ())}
    known = {name for name in type(before).model_fields if getattr(before, name) not in (None, ())}
    return not said & known


def _together(before: Result, now: Result) -> Result:
    said = {name: value for name in type(now).model_fields if (value := getattr(now, name)) not in (None, ())}
    if now.holed:
        return now.model_copy(update={"strike": now.strike or before.strike})
    return before.model_copy(update=said)


def _next_situation(known: Known) -> Situation:
    """Where the next stroke is played from, when only its result is told: from where the last one ended."""
    ended = known.result or Result()
    on_green = ended.finish in (None, Finish.GREEN) and ended.distance_m is not None
    return Situation(pin_m=ended.distance_m or None, lie=Lie.GREEN if on_green else None)


def commit_told(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A report of commitment: added to the shot just written, or a shot of its own."""
    return result(desk, known, heard.model_copy(update={"intent": Intent.RESULT, "result": Result()}))


def removed(desk: Desk, known: Known, number: int) -> str | None:
    """Take shot ``number`` out of the log; None when that is done, else why it is not."""
    if desk.log is None:
        return lines.NOT_REMOVED
    try:
        return None if desk.log.remove(number) else lines.NOT_REMOVED
    except CaddieError:
        return lines.NOT_REMOVED
