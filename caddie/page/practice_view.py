"""Practice as the page shows it: one thing at a time, the ball to play, and what became of those before."""

from datetime import datetime
from typing import Any

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.store import Log
from caddie.log.table import read_table, table_of
from caddie.page.asked import PracticeWanted
from caddie.page.bag_place import BagPlace
from caddie.page.limits import DoneRequests
from caddie.practice.begin import ReadOn, how_to_begin
from caddie.practice.drills import LAYOUTS, layout
from caddie.practice.games import RULES, start
from caddie.practice.measuring import Measuring
from caddie.practice.next import CLOSED, FOR_EVERYBODY, most_to_gain, too_few
from caddie.practice.rehearse import RehearsalOrder, plan_rehearsal
from caddie.practice.under_way import Expected, Playing, Practising, Putting, Rehearsing
from caddie.range.bucket import Order, plan_range
from caddie.range.journal import unfinished
from caddie.range.session import STOPPING_RULE, begin_range, resume_range

SHOTS_CHOSEN_FROM = 3000
"""Shots of the log that a rehearsal is chosen from."""
GAINS_SHOWN = 5
MOST_REHEARSED = 99
NOTHING_TO_MEASURE = "you have no bag of your own to measure: tap Bag and drop a table of your shots there"


class PracticeView:
    """One rehearsal, game, drill or range session at a time."""

    def __init__(self, log: Log | None, place: BagPlace) -> None:
        """``log`` gives the situations met, and keeps the balls; ``place`` tells where the bag is, if there is one."""
        self._log, self._place = log, place
        self._now: Practising | None = None
        self._line = ""
        self._done = DoneRequests()

    def start(self, bag: Bag, wanted: PracticeWanted, seed: int) -> dict[str, Any]:
        """Begin what is wanted; what was practised before is left as it is.

        Raises:
            CaddieError: for what there is not, or too many balls.
        """
        begun, line = self._begun(bag, wanted, seed)
        self.close()
        self._now, self._line = begun, line
        return self.state(bag)

    def tell(self, bag: Bag, request: str, text: str) -> dict[str, Any]:
        """Read what became of the ball, keep it and go on to the next; asked twice it is done once.

        Raises:
            CaddieError: if no ball is being played, or it cannot be kept.
        """
        if request in self._done:
            return self.state(bag)
        now = self._going()
        told = now.tell(text)
        self._line = now.stop() if told.ended else told.line
        self._done.add(request)
        return self.state(bag)

    def expected(self) -> Expected:
        """What may be said of the ball that is played.

        Raises:
            CaddieError: if none is.
        """
        return self._going().expected

    def _going(self) -> Practising:
        if self._now is None or self._now.over:
            raise CaddieError("no ball is being played: begin something first")
        return self._now

    def stop(self, bag: Bag) -> dict[str, Any]:
        """End what is practised; what was played is kept."""
        if self._now is not None and not self._now.over:
            self._line = self._now.stop()
        return self.state(bag)

    def close(self) -> None:
        """Let others go on with a range session."""
        if isinstance(self._now, Measuring) and not self._now.over:
            self._now.leave()

    def state(self, bag: Bag) -> dict[str, Any]:
        """The ball to play, the last line said, and how it went so far."""
        now = self._now
        shown: dict[str, Any] = {
            "on": now is not None and not now.over,
            "over": now is not None and now.over,
            "kind": now.kind if now else "",
            "asks": now.asks if now else "",
            "prompt": now.prompt if now else "",
            "line": self._line,
            "summary": now.summary if now else "",
            "played": now.played if now else 0,
            "balls": now.balls if now else 0,
            "unit": bag.player.distances_in.value,
            "cells": now.cells if isinstance(now, Measuring) else [],
        }
        return shown if shown["on"] else {**shown, **self._choices(bag)}

    def gains(self, bag: Bag, seed: int) -> dict[str, Any]:
        """What twenty minutes would gain most, as far as the log tells."""
        table = read_table(self._log, bag.player.name) if self._log else table_of([])
        player = bag.player
        gains = most_to_gain(table, player.handicap, player.distances_in, seed)[:GAINS_SHOWN]
        few = too_few(table)
        return {
            "too_few": few,
            "for_everybody": [
                {
                    "sentence": each.sentence,
                    "practise": how_to_begin(each.drill, ReadOn.PAGE),
                    "drill": each.drill,
                }
                for each in FOR_EVERYBODY
                if few
            ],
            "closed": CLOSED,
            "gains": [
                {
                    "sentence": gain.sentence,
                    "practise": how_to_begin(gain.drill, ReadOn.PAGE),
                    "drill": gain.drill,
                    "strokes": round(gain.strokes, 3),
                    "low": round(gain.low, 3),
                    "high": round(gain.high, 3),
                }
                for gain in gains
                if not few
            ],
        }

    def _choices(self, bag: Bag) -> dict[str, Any]:
        """What may be begun."""
        try:
            waits = unfinished() is not None and self._place.path is not None
        except CaddieError:
            # Going on with it tells what is wrong.
            waits = True
        return {
            "games": [{"name": name, "title": rule.title, "text": rule.text} for name, rule in RULES.items()],
            "drills": [{"name": name, "title": one.title, "text": one.text} for name, one in LAYOUTS.items()],
            "player": bag.player.name,
            "clubs": [club.id for club in bag.clubs if club.kind.value != "putter"],
            "swings": [swing.name for swing in bag.swings],
            "range": NOTHING_TO_MEASURE if self._place.path is None else "",
            "waits": waits,
            "rule": STOPPING_RULE,
        }

    def _begun(self, bag: Bag, wanted: PracticeWanted, seed: int) -> tuple[Practising, str]:
        match wanted.kind:
            case "rehearsal":
                return self._rehearsal(bag, wanted, seed)
            case "game":
                game = start(wanted.name, wanted.players or (bag.player.name,), bag, seed)
                return Playing(game, self._log), game.rules.text
            case "drill":
                laid_out = layout(wanted.name)
                return Putting(wanted.name, laid_out.fresh, bag, self._log), laid_out.text
            case "range":
                return self._range(bag, wanted, seed)
            case _:
                raise CaddieError("choose rehearsal, game, drill or range")

    def _rehearsal(self, bag: Bag, wanted: PracticeWanted, seed: int) -> tuple[Practising, str]:
        if wanted.order not in list(RehearsalOrder) or wanted.balls > MOST_REHEARSED:
            raise CaddieError(f"choose 1 to {MOST_REHEARSED} balls, {', '.join(RehearsalOrder)}")
        shots = self._log.shots(bag.player.name, last=SHOTS_CHOSEN_FROM) if self._log else []
        rehearsal = plan_rehearsal(shots, bag, wanted.balls, RehearsalOrder(wanted.order), seed=seed)
        return Rehearsing(rehearsal, self._log), rehearsal.note

    def _range(self, bag: Bag, wanted: PracticeWanted, seed: int) -> tuple[Practising, str]:
        bag_path = self._place.path
        if bag_path is None:
            raise CaddieError(NOTHING_TO_MEASURE)
        if isinstance(self._now, Measuring):
            # Its journal is this program's own until it is left.
            self._now.leave()
        if wanted.go_on:
            path = unfinished()
            if path is None:
                raise CaddieError("no session waits to be gone on with")
            session = resume_range(path)
            if session.target is None:
                # It was over when its program was killed, and has still to be kept.
                over = Measuring(session, bag, bag_path)
                over.keep()
                return over, session.call
            return Measuring(session, bag, bag_path), f"Going on with the session of {session.date}."
        if wanted.order not in list(Order):
            raise CaddieError(f"choose {', '.join(Order)}")
        plan = plan_range(
            bag, wanted.balls, wanted.clubs, wanted.swings, Order(wanted.order), seed, None, wanted.sand
        )
        session, told = begin_range(plan, bag.player, datetime.now().astimezone())
        return Measuring(session, bag, bag_path), " ".join([*told, STOPPING_RULE])
