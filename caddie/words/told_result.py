"""What a ball did, told where it was asked for: on the range, in a game, in a putting drill."""

from caddie.range.told import BallTold
from caddie.situation import Finish, Result, Side, Strike
from caddie.words.asked_for import Answer
from caddie.words.facts import Intent, Understanding
from caddie.words.mentions import Mention
from caddie.words.numbers import twin
from caddie.words.quantities import COUNTS, LENGTHS, STROKES, Quantity
from caddie.words.reading import read
from caddie.words.replies import Reply
from caddie.words.result_mentions import own_mentions
from caddie.words.strokes_told import read_strokes

FRAMES = ("{}", "it ended {}", "it ended {} from the hole", "it went {}")
"""A bare "six feet short" is a situation on its own, and a result once it is said to be one."""
_SIDES = {"left": Side.LEFT, "right": Side.RIGHT}


def read_ball(answer: Answer) -> Reply:
    """A carry, how far to which side, and how it was struck; none of it when it is not plain which is which."""
    pieces = answer.scene.pieces
    strikes = [m for m in (*answer.scene.results, *answer.having("strike")) if "strike" in m]
    strikes = [mention for mention in strikes if not answer.denied(mention)]
    strike = Strike(str(strikes[-1].get("strike"))) if strikes else None
    sides = [m for m in answer.scene.results if m.get("result_side") in _SIDES]
    covered = {at for m in (*strikes, *sides) for at in range(m.start, m.end)}
    side_at = next((at for m in sides for at in range(m.start, m.end) if pieces[at].text in _SIDES), None)
    side = _SIDES[str(sides[-1].get("result_side"))] if sides else None
    numbers = answer.numbers(lambda quantity: quantity.is_length)
    of_side = _of_side(answer, numbers, sides, side_at) if side is not None and len(numbers) == 2 else None
    if of_side is not None:
        numbers.remove(of_side)
    unclear = Reply(heard=answer.text)
    if len(numbers) > 1 or answer.elsewhere() or any(_is_other(piece.quantity) for piece in pieces):
        return unclear
    if not numbers and strike in (None, Strike.CLEAN):
        return unclear
    passed = (*answer.having("beside"), *answer.scene.results)
    told = len(covered) + len(numbers)
    if answer.strange(covered | {at for m in passed for at in range(m.start, m.end)}) > told:
        return unclear
    carry = pieces[numbers[0]].quantity if numbers else None
    beside = pieces[of_side].quantity if of_side is not None else None
    side_m = None if beside is None else beside.metres(answer.unit, answer.pace_m)
    return Reply(
        heard=answer.text,
        ball=BallTold(
            carry_m=None if carry is None else carry.metres(answer.unit, answer.pace_m),
            number=None if carry is None else carry.middle,
            sounds_like=None if carry is None else twin(carry.middle),
            side=side,
            side_m=None if side_m is None else (-side_m if side is Side.LEFT else side_m),
            strike=strike,
        ),
    )


def _of_side(answer: Answer, numbers: list[int], sides: list[Mention], side_at: int | None) -> int:
    """Which of two numbers says how far to the side: the one said with it, else the later."""
    beside = {mention.quantity_at for mention in sides}
    with_it = [at for at in numbers if at in beside]
    if len(with_it) == 1:
        return with_it[0]
    if side_at is not None and side_at < numbers[0]:
        return numbers[0]
    return numbers[1]


def _is_other(quantity: Quantity | None) -> bool:
    return quantity is not None and not quantity.is_length


def read_strokes_taken(answer: Answer) -> Reply:
    """A number of strokes; a length is none: "two feet from the hole"."""
    strokes, counts = read_strokes(answer.scene) or _strokes_alone(answer), _counts(answer)
    if strokes is None and not counts and _holed(answer):
        strokes = 1
    if strokes is None and len(counts) == 1 and not answer.elsewhere():
        strokes = counts[0]
    lengths = [p for p in answer.scene.pieces if p.quantity is not None and p.quantity.unit in LENGTHS]
    problem = (
        "a length is no number of strokes: say how many it took" if strokes is None and lengths else None
    )
    return Reply(heard=answer.text, strokes=strokes, problem=problem)


def _holed(answer: Answer) -> bool:
    said = any(mention.get("finish") == "holed" for mention in own_mentions(answer.scene))
    return said or answer.value("finish") is not None


def _strokes_alone(answer: Answer) -> int | None:
    mention = answer.whole("strokes")
    if mention is None:
        return None
    if mention.quantity is None:
        return int(float(mention.get("strokes") or 0))
    return int(mention.quantity.middle) + int(float(mention.get("before") or 0))


def _counts(answer: Answer) -> list[int]:
    pieces = answer.scene.pieces
    counted = [
        pieces[at].quantity
        for at in answer.numbers(
            lambda said: (said.unit is None or said.unit in COUNTS) and said.middle in STROKES
        )
    ]
    return [int(quantity.middle) for quantity in counted if quantity is not None]


def read_left(answer: Answer) -> Reply:
    """What became of the ball, and how the player went through with it."""
    commitment: str | None = None
    for frame in FRAMES:
        now = read(frame.format(answer.text), unit=answer.unit, pace_m=answer.pace_m, from_speech=False)
        commitment = commitment or _commitment(now)
        told = now.result is not None and now.result != Result()
        if told and not now.problem:
            return Reply(heard=answer.text, result=now.result, commitment=commitment)
    if commitment is not None:
        return Reply(heard=answer.text, result=Result(), commitment=commitment)
    if answer.value("finish") is not None:
        return Reply(heard=answer.text, result=Result(finish=Finish.HOLED))
    return Reply(heard=answer.text)


def _commitment(heard: Understanding) -> str | None:
    if heard.intent is Intent.READY and "commit" in heard.heard.lower():
        return "committed"
    return heard.commitment


def read_made(answer: Answer, key: str) -> Reply:
    """Whether a putt was well, holed or through as ``key`` says; a "not" anywhere outweighs a yes."""
    whole = answer.value(key)
    said = [m.get(key) for m in answer.having(key)]
    if whole is not None:
        return Reply(heard=answer.text, yes=bool(whole))
    if said:
        return Reply(heard=answer.text, yes=all(said))
    if key == "made":
        result = read_left(answer).result
        if result is not None and (result.holed or result.side or result.distance_m is not None):
            return Reply(heard=answer.text, yes=result.holed)
    return Reply(heard=answer.text, yes=_plain_yes(answer))


def _plain_yes(answer: Answer) -> bool | None:
    said = answer.value("answer")
    return None if said is None else said == "yes"


def read_stopped(answer: Answer) -> Reply:
    """Where a putt stopped against a zone: ``yes`` in it, else ``result`` short or long of the mark."""
    if answer.whole("zone") is not None:
        return Reply(heard=answer.text, yes=True)
    result = read_left(answer).result
    if result is not None and result.holed:
        return Reply(heard=answer.text, yes=True)
    if result is not None and result.distance_m is not None and result.side:
        return Reply(heard=answer.text, result=result)
    stopped = [str(m.get("stopped")) for m in answer.having("stopped") if not answer.denied(m)]
    if stopped:
        return Reply(heard=answer.text, result=Result(side=(Side(stopped[-1]),)))
    return Reply(heard=answer.text, result=result if result is not None and result.side else None)
