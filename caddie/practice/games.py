"""Games for one or two players taking turns; a game is a value, and each turn gives the next.

Built on what the trade plays:

- **Nearest** (nearest to the hole): nine spots, one ball each; the nearer ball takes the point, two inside
  three feet, three when holed. Alone: a ball inside six feet scores.
- **Down in Two** (up and down): nine spots, each played out; two points for two strokes, four for one.
- **Nine Spots**: three chips, three pitches, three from sand, each played out; fewest strokes win.
- **Ladder**: ten balls; a ball inside the flagstick's length (seven feet) climbs to the next rung, any other
  falls one.
- **Wedge Check**: five balls from 45 m and five from 85 m; points are the mean distance left as a share of
  the distance. The yardstick is ten elite amateurs: 19.0 % and 8.4 % (Open Sports Sci. J. 14, 86, 2021,
  abstract).
"""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Mode, Shot
from caddie.practice.told import leave_said, situation_said
from caddie.situation import Finish, Frozen, Lie, Result, Situation
from caddie.units import FOOT_M, YARD_M, spoken_number

TWO_POINTS_M, SCORES_ALONE_M = 3 * FOOT_M, 6 * FOOT_M
FLAGSTICK_M = 7 * FOOT_M
"""Length of a flagstick: at least seven feet is recommended (common practice)."""
CHECK_M = (45.0, 85.0)
CHECK_SHARES = (0.19, 0.084)
MOST_STROKES = 8


class GameTurn(Frozen):
    """One player's go at one spot."""

    player: str
    situation: Situation
    result: Result = Result()
    strokes: int | None = None
    """Strokes to hole out, where the game counts them."""


class Game(Frozen):
    """A game under way."""

    rule: str
    players: tuple[str, ...]
    bag: Bag
    seed: int = 1
    turns: tuple[GameTurn, ...] = ()

    @property
    def rules(self) -> "Rule":
        """What is played."""
        return RULES[self.rule]

    @property
    def over(self) -> bool:
        """Whether everybody has played every spot."""
        return len(self.turns) >= self.rules.spots * len(self.players)

    @property
    def player(self) -> str:
        """Whose turn it is."""
        return self.players[len(self.turns) % len(self.players)]

    @property
    def spot(self) -> int:
        """Number of the spot, from 0."""
        return len(self.turns) // len(self.players)

    @property
    def situation(self) -> Situation:
        """What the player whose turn it is faces."""
        return self.rules.situation(self, self.player)

    @property
    def prompt(self) -> str:
        """The spot as read out, and what to say after it."""
        who = f"{self.player}, " if len(self.players) > 1 else ""
        asks = "how many strokes" if self.rules.counts_strokes else "how far from the hole"
        return (
            f"{who}spot {spoken_number(self.spot + 1)} of {spoken_number(self.rules.spots)}: "
            f"{situation_said(self.situation, self.bag)}; {asks}?"
        )

    @property
    def points(self) -> dict[str, float]:
        """Points so far, by player."""
        return self.rules.points(self)

    def of(self, player: str) -> list[GameTurn]:
        """A player's turns, in order."""
        return [turn for turn in self.turns if turn.player == player]

    def shots(self) -> list[Shot]:
        """What was played, for the log."""
        return [
            Shot(
                mode=Mode.GAME,
                player=turn.player,
                sentence=f"{self.rules.title}: {situation_said(turn.situation, self.bag)}",
                situation=turn.situation,
                result=turn.result,
                down_in=turn.strokes,
            )
            for turn in self.turns
        ]


class Rule(NamedTuple):
    """The rules of one game."""

    title: str
    text: str
    spots: int
    counts_strokes: bool
    fewest_wins: bool
    situation: Callable[[Game, str], Situation]
    points: Callable[[Game], dict[str, float]]


def start(rule: str, players: tuple[str, ...], bag: Bag, seed: int = 1) -> Game:
    """A game about to begin; the same seed gives the same spots.

    Raises:
        CaddieError: for a game that does not exist, or not one or two different players.
    """
    if rule not in RULES:
        raise CaddieError(f"no game {rule!r}: choose {', '.join(RULES)}")
    if not 1 <= len(players) <= 2 or len(set(players)) != len(players):
        raise CaddieError("a game is for one or two players with different names")
    return Game(rule=rule, players=players, bag=bag, seed=seed)


def play(game: Game, result: Result = Result(), strokes: int | None = None) -> tuple[Game, str]:
    """The game after a turn, and the line to say: where the ball ended and the points.

    Raises:
        CaddieError: when the game is over, or what it asks for is not in the answer.
    """
    if game.over:
        raise CaddieError(f"{game.rules.title} is over")
    if game.rules.counts_strokes:
        if strokes is None or not 1 <= strokes <= MOST_STROKES:
            raise CaddieError(f"say how many strokes it took, 1 to {MOST_STROKES}")
        result = Result(finish=Finish.HOLED) if strokes == 1 else result
        said = f"{spoken_number(strokes)} strokes" if strokes > 1 else "in"
    else:
        strokes = None
        if not result.holed and result.distance_m is None and result.finish in (None, Finish.GREEN):
            raise CaddieError('say how far from the hole it ended, such as "six feet short", or "in"')
        said = leave_said(result, game.bag)
    turn = GameTurn(player=game.player, situation=game.situation, result=result, strokes=strokes)
    after = game.model_copy(update={"turns": (*game.turns, turn)})
    return after, f"{said.capitalize()}. {points_said(after)}"


def points_said(game: Game) -> str:
    """The points as said: "Rowan three, Ash one."."""
    parts = [f"{player} {_number(points, game.rule)}" for player, points in game.points.items()]
    if len(parts) == 1:
        parts = [parts[0].removeprefix(f"{game.players[0]} ").capitalize()]
    unit = "%" if game.rule == "wedge_check" else ("stroke" if game.rules.fewest_wins else "point")
    if unit != "%" and list(game.points.values())[-1] != 1:
        unit += "s"
    return f"{', '.join(parts)} {unit}."


def outcome(game: Game) -> str:
    """Who won, and how it compares where a yardstick is published."""
    points = game.points
    if game.rule == "wedge_check":
        return f"{points_said(game)} {_yardstick(game)}"
    if len(points) == 1:
        return f"{game.rules.title}: {points_said(game)}"
    best = (min if game.rules.fewest_wins else max)(points.values())
    winners = [player for player, value in points.items() if value == best]
    return f"{game.rules.title}: {points_said(game)} " + (
        f"{winners[0]} wins." if len(winners) == 1 else "All square."
    )


def _left_m(turn: GameTurn) -> float:
    """How far a ball ended from the hole; one lost in trouble counts as the whole distance."""
    if turn.result.holed:
        return 0.0
    whole = turn.situation.pin_m or 0.0
    return whole if turn.result.distance_m is None else turn.result.distance_m


def _nearest_points(game: Game) -> dict[str, float]:
    points = dict.fromkeys(game.players, 0.0)
    alone = len(game.players) == 1
    for first in range(0, len(game.turns), len(game.players)):
        together = game.turns[first : first + len(game.players)]
        if len(together) < len(game.players):
            break
        ordered = sorted(together, key=_left_m)
        best = ordered[0]
        if alone and _left_m(best) > SCORES_ALONE_M:
            continue
        if not alone and _left_m(ordered[0]) == _left_m(ordered[1]):
            continue
        points[best.player] += 3 if best.result.holed else (2 if _left_m(best) <= TWO_POINTS_M else 1)
    return points


def _two_points(game: Game) -> dict[str, float]:
    worth = {1: 4.0, 2: 2.0}
    return {
        player: sum(worth.get(turn.strokes or 0, 0.0) for turn in game.of(player)) for player in game.players
    }


def _strokes(game: Game) -> dict[str, float]:
    return {player: float(sum(turn.strokes or 0 for turn in game.of(player))) for player in game.players}


def _rung(game: Game, player: str) -> int:
    rung = 0
    for turn in game.of(player):
        climbs = _left_m(turn) <= FLAGSTICK_M
        rung = min(rung + 1, RUNGS) if climbs else max(rung - 1, 0)
    return rung


def _rungs(game: Game) -> dict[str, float]:
    return {player: float(_rung(game, player)) for player in game.players}


def _check_points(game: Game) -> dict[str, float]:
    """Mean distance left as a percentage of the distance."""
    points = {}
    for player in game.players:
        shares = [_left_m(turn) / (turn.situation.pin_m or 1.0) for turn in game.of(player)]
        points[player] = round(100 * float(np.mean(shares)), 1) if shares else 0.0
    return points


def _yardstick(game: Game) -> str:
    parts = []
    for player in game.players:
        for distance_m, elite in zip(CHECK_M, CHECK_SHARES, strict=True):
            shares = [_left_m(t) / distance_m for t in game.of(player) if t.situation.pin_m == distance_m]
            if shares:
                own = float(np.mean(shares))
                parts.append(f"{player} from {distance_m:.0f} m {own:.1%}, elite amateurs {elite:.1%}")
    return "; ".join(parts) + " (Open Sports Sci. J. 14, 86, 2021)."


def _drawn(game: Game, number: int, low_yd: int, high_yd: int, lies: tuple[Lie, ...]) -> Situation:
    """A spot that every player of the game meets alike."""
    rng = np.random.default_rng([game.seed, number])
    return Situation(
        pin_m=int(rng.integers(low_yd, high_yd + 1)) * YARD_M, lie=lies[int(rng.integers(len(lies)))]
    )


def _around_the_green(game: Game, player: str) -> Situation:
    return _drawn(game, game.spot, 6, 30, (Lie.FAIRWAY, Lie.FRINGE, Lie.LIGHT_ROUGH, Lie.BUNKER))


def _nine(game: Game, player: str) -> Situation:
    kind = game.spot % 3
    if kind == 0:
        return _drawn(game, game.spot, 5, 15, (Lie.FRINGE, Lie.FAIRWAY, Lie.LIGHT_ROUGH))
    if kind == 1:
        return _drawn(game, game.spot, 20, 40, (Lie.FAIRWAY, Lie.LIGHT_ROUGH))
    return _drawn(game, game.spot, 8, 20, (Lie.BUNKER,))


def _ladder(game: Game, player: str) -> Situation:
    return Situation(pin_m=(8 + 4 * _rung(game, player)) * YARD_M, lie=Lie.FAIRWAY)


def _check(game: Game, player: str) -> Situation:
    return Situation(pin_m=CHECK_M[game.spot >= CHECK_BALLS], lie=Lie.FAIRWAY)


RUNGS = 10
CHECK_BALLS = 5
RULES: dict[str, Rule] = {
    "nearest": Rule(
        "Nearest",
        "Nine spots, one ball each. The nearer ball takes a point, two inside three feet, three when holed; "
        "alone, a ball inside six feet scores.",
        9, False, False, _around_the_green, _nearest_points,
    ),
    "down_in_two": Rule(
        "Down in Two",
        "Nine spots, each played out. Two points for two strokes, four for one.",
        9, True, False, _around_the_green, _two_points,
    ),
    "nine_spots": Rule(
        "Nine Spots",
        "Three chips, three pitches, three from sand, each played out. Fewest strokes win; eighteen is two "
        "each.",
        9, True, True, _nine, _strokes,
    ),
    "ladder": Rule(
        "Ladder",
        "Ten balls. A ball inside a flagstick, seven feet, climbs to the next rung, four yards farther off; "
        "any other falls one.",
        10, False, False, _ladder, _rungs,
    ),
    "wedge_check": Rule(
        "Wedge Check",
        "Five balls from 45 metres, five from 85. The mean distance left as a share of the distance: less is "
        "better.",
        2 * CHECK_BALLS, False, True, _check, _check_points,
    ),
}  # fmt: skip


def _number(points: float, rule: str) -> str:
    return f"{points:.1f}" if rule == "wedge_check" else spoken_number(int(points))
