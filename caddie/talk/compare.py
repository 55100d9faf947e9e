"""What if: another club, swing or kind of shot against the one advised, in numbers."""

from caddie.bag import Bag
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.reasons import feet, share_text
from caddie.plan.shot import Option, Plan
from caddie.reply.phrases import club_said, landing_said, run_said, swing_said
from caddie.situation import Situation
from caddie.talk.state import merged
from caddie.words import Understanding

NOT_WORTH_SAYING = 0.03


def compare(situation: Situation, plan: Plan, asked: Understanding, bag: Bag, seed: int) -> tuple[str, str]:
    """Spoken and written comparison of the asked shot with the advised one.

    Raises:
        CaddieError: when the bag has no such club, or it cannot play that shot from here.
    """
    changed = merged(situation, asked.situation, asked.corrected)
    only = Only(
        club=asked.club,
        swing=asked.swing,
        family=asked.family,
        flight=Flight(asked.flight) if asked.flight else None,
    )
    other = advise(changed, bag, seed=seed, only=only).chosen
    return _told(other, plan.chosen, plan.situation, bag, "Then it" if only == ANY else "That")


def _told(other: Option, advised: Option, situation: Situation, bag: Bag, start: str) -> tuple[str, str]:
    if situation.front_m is None:
        raise CaddieError("say the distance first")
    ball = f"{landing_said(other, situation, bag)}, {run_said(other, bag)}"
    shot = f"{club_said(other, bag)}, {swing_said(other)}, {ball}"
    gap = other.strokes - advised.strokes
    if abs(gap) < NOT_WORTH_SAYING:
        verdict = "as good by numbers; play the one you trust"
    else:
        verdict = f"{abs(gap):.1f} strokes {'worse' if gap > 0 else 'better'}"
    spoken = f"{shot.capitalize()}. {start} is {verdict}."
    written = (
        f"{spoken}\nIt finishes on the green {share_text(other.on_green)} against "
        f"{share_text(advised.on_green)}, "
        f"in trouble {share_text(other.in_trouble)} against {share_text(advised.in_trouble)}, "
        f"and leaves {feet(other.leave_m)} against {feet(advised.leave_m)}."
    )
    return spoken, written
