"""The talk as the page shows it: the turns, the facts, the shot with its odds, and what else could be played."""

from collections import OrderedDict, deque
from collections.abc import Callable
from typing import Any

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Mode
from caddie.page.facts import facts_of, shown, with_fact
from caddie.page.limits import DoneRequests
from caddie.page.tapped import pick, set_facts, tell
from caddie.plan.option import Option, Plan
from caddie.reply.putt import start_said
from caddie.reply.spoken import sentences
from caddie.reply.written import shot_line
from caddie.situation import Finish, Result, Side, Strike
from caddie.talk.conversation import Conversation
from caddie.talk.spoken_talk import SpokenTalk
from caddie.talk.state import Turn
from caddie.units import Unit, in_feet, length_text, to_metres
from caddie.words.endings import Endings

TURNS_KEPT = 200
PICTURES_KEPT = 12
FARTHEST_LEFT_FT = 150


class TalkView:
    """One conversation, shown to every tab alike; used from one thread."""

    def __init__(self, talk: Conversation, whose_bag: Callable[[], str] = str) -> None:
        """Begin with nothing said; ``whose_bag`` is what has to be told of the bag, if anything."""
        self._conversation = talk
        self._whose_bag = whose_bag
        self._turns: deque[dict[str, Any]] = deque(maxlen=TURNS_KEPT)
        self._plans: OrderedDict[int, Plan] = OrderedDict()
        self._done = DoneRequests()
        self._count = 0

    @property
    def mode(self) -> Mode:
        """Practice or competition."""
        return self._conversation.mode

    @property
    def bag(self) -> Bag:
        """The bag that is played with."""
        return self._conversation.desk.bag

    def plays_with(self, bag: Bag) -> None:
        """Go on with the bag as it is now; the shot talked about is planned from the next turn on."""
        self._conversation.play_with(bag)

    def spoken(self, endings: Endings) -> SpokenTalk:
        """The same conversation for one who talks to it aloud."""
        return SpokenTalk(self._conversation, endings)

    def say(self, request: str, text: str, from_speech: bool = False) -> dict[str, Any]:
        """Answer what was typed or heard."""
        return self._once(request, lambda: self._conversation.turn(text, from_speech=from_speech))

    def set_fact(self, request: str, name: str, value: float | str | None) -> dict[str, Any]:
        """Correct one fact by tap.

        Raises:
            CaddieError: if the fact cannot be that.
        """

        def tap() -> Turn:
            known = self._conversation.known
            player = self._conversation.desk.bag.player
            after = with_fact(known.situation, name, value, player)
            return set_facts(self._conversation, after, shown(known.situation, after, name, player))

        return self._once(request, tap)

    def pick(self, request: str, number: int) -> dict[str, Any]:
        """Play another of the options shown.

        Raises:
            CaddieError: if there is no such option.
        """

        def tap() -> Turn:
            plan = self._plan()
            if plan is None or not 0 <= number < len(plan.options):
                raise CaddieError("that shot is no longer one of the options")
            option = plan.options[number]
            return pick(self._conversation, option, f"Play the {_name(option, self.bag)}")

        return self._once(request, tap)

    def tell(self, request: str, told: dict[str, Any]) -> dict[str, Any]:
        """Write down what became of the shot: ``left_ft``, ``side``, ``strike``, ``finish``.

        Raises:
            CaddieError: if that is no result.
        """
        return self._once(request, lambda: tell(self._conversation, *_result(told)))

    def state(self) -> dict[str, Any]:
        """Everything the view shows."""
        known = self._conversation.known
        player = self.bag.player
        return {
            "count": self._count,
            "mode": self.mode.value,
            "player": player.name,
            "whose_bag": self._whose_bag(),
            "turns": list(self._turns),
            "facts": [fact.model_dump(mode="json") for fact in facts_of(known.situation, player)],
            "played": known.played,
            "shot": self._shot(),
        }

    def picture(self, number: int) -> str:
        """The picture of the plan of a turn, as SVG.

        Raises:
            CaddieError: if there is none, or none may be shown.
        """
        plan = self._plans.get(number)
        if plan is None or self.mode is Mode.COMPETITION:
            raise CaddieError("that picture is gone")
        from caddie.reply.picture import draw_picture

        return draw_picture(plan, self.bag)

    def _once(self, request: str, act: Callable[[], Turn]) -> dict[str, Any]:
        """Do what is asked, unless it was done before: a page that heard no answer asks again."""
        if request in self._done:
            return self.state()
        mode = self.mode
        turn = act()
        self._done.add(request)
        if turn.mode is not mode:
            # Advice given before is out of reach in a competition, by scrolling too.
            self._turns.clear()
            self._plans.clear()
        self._add(turn)
        return self.state()

    def _add(self, turn: Turn) -> None:
        self._count += 1
        plan = self._plan()
        drawn = plan is not None and plan is not next(reversed(self._plans.values()), None)
        if drawn and plan is not None:
            self._plans[self._count] = plan
            while len(self._plans) > PICTURES_KEPT:
                self._plans.popitem(last=False)
        self._turns.append(
            {
                "number": self._count,
                "heard": turn.heard,
                "spoken": turn.spoken,
                "written": turn.written,
                "question": turn.question,
                "logged": turn.logged,
                "over": turn.over,
            }
        )

    def _plan(self) -> Plan | None:
        known = self._conversation.known
        return None if self.mode is Mode.COMPETITION or known.played else known.plan

    def _shot(self) -> dict[str, Any] | None:
        plan = self._plan()
        if plan is None:
            return None
        cue = self._conversation.known.cue
        picture = next((number for number, each in reversed(self._plans.items()) if each is plan), None)
        return {
            "chosen": option_shown(plan.chosen, self.bag),
            "options": [
                {"number": number, "chosen": option == plan.chosen, **option_shown(option, self.bag)}
                for number, option in enumerate(plan.options)
            ],
            "cue": cue.say if cue else "",
            "picture": picture,
            "reasons": list(plan.reasons),
        }


def option_shown(option: Option, bag: Bag) -> dict[str, Any]:
    """An option as the list compares it: its name, where it lands, chances as shares, strokes."""
    unit = bag.player.distances_in
    shown_as: dict[str, Any] = {
        "name": _name(option, bag),
        "strokes": round(option.strokes, 2),
        "leave_ft": max(round(in_feet(option.leave_m)), 1),
        "trusted": option.trusted,
    }
    if option.make is not None:
        return {**shown_as, "make": option.make, "three_putt": option.three_putt or 0.0}
    return {
        **shown_as,
        "carry": length_text(option.carry_m, unit),
        "run": length_text(max(option.run_m, 0.0), unit),
        "on_green": option.on_green,
        "in_trouble": option.in_trouble,
    }


def _name(option: Option, bag: Bag) -> str:
    return (
        shot_line(option, bag)
        if option.line is None
        else sentences([start_said(option, bag.player.putt_unit)])
    )


def _result(told: dict[str, Any]) -> tuple[Result, str]:
    """A result and its words."""
    left, side, strike, finish = (told.get(name) for name in ("left_ft", "side", "strike", "finish"))
    if left is not None and not (isinstance(left, int | float) and 0 <= left <= FARTHEST_LEFT_FT):
        raise CaddieError(f"the distance left is 0 to {FARTHEST_LEFT_FT} feet")
    try:
        result = Result(
            distance_m=None if left is None else to_metres(float(left), Unit.FEET),
            side=(Side(side),) if side else (),
            strike=Strike(strike) if strike else None,
            finish=Finish(finish) if finish else None,
        )
    except ValueError:
        raise CaddieError("that is no result of a shot") from None
    words = [strike or "", f"{left:g} feet" if left is not None else "", side or "", finish or ""]
    return result, ", ".join(word.replace("_", " ") for word in words if word) or "missed"
