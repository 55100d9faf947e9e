"""The bag as the page shows and edits it: through the same guarded writing as ``caddie bag``."""

import re
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from caddie.bag import Bag, Carry, Club
from caddie.bag.curve import expected_spread_m
from caddie.bag.file import Seen, bag_problems, explain, load_bag, previous, save_bag
from caddie.errors import CaddieError
from caddie.page import asked
from caddie.page.at_hand import at_hand
from caddie.page.bag_place import BagPlace
from caddie.range.csv_import import UnsaidError, Wishes, import_text
from caddie.range.csv_table import decoded
from caddie.range.gapping import Span, findings, spans
from caddie.range.sessions import fit_sessions, kept_sessions
from caddie.range.start_bag import bag_for, clubs_in, started_bag
from caddie.range.take_in import TakenIn, taken_in
from caddie.units import Unit, from_metres, to_metres

DEMO = "this is the demo bag: a table of your shots, dropped here, makes your own, which can be edited"
DEMO_AT_TABLE = (
    "The demo bag of an invented player answers. For your own, drop a table of your shots under Bag."
)
REJECTED_SHOWN = 10
LONGEST_TABLE_NAME = 60
_UNFIT_FOR_NAMES = re.compile(r"[^\w. -]+")
SHOTS_BY_HAND = 0
"""A carry typed in has no ball behind it until one is measured."""


class BagView:
    """A bag file, read anew for each look: it may be edited beside the page."""

    def __init__(self, place: BagPlace) -> None:
        """``place`` tells where the file is, if there is one."""
        self._place = place

    def bag(self) -> Bag:
        """The bag as it is now.

        Raises:
            CaddieError: if it cannot be read.
        """
        return load_bag(self._place.path)

    def whose(self) -> str:
        """What a player without a bag of their own is told before the first shot."""
        return "" if self._place.path else DEMO_AT_TABLE

    def state(self) -> dict[str, Any]:
        """The table of carries, with what gapping finds."""
        path = self._place.path
        seen = Seen.of(path) if path else None
        bag = self.bag()
        every = [*spans(bag), *spans(bag, sand=True)]
        return {
            "note": "" if path else DEMO,
            "digest": seen.digest if seen else None,
            "player": bag.player.name,
            "unit": bag.player.distances_in.value,
            "swings": [swing.name for swing in bag.swings],
            "clubs": [_club(club, every, bag) for club in bag.clubs],
            "findings": [at_hand(finding.text) for finding in findings(bag)],
            "undo": path is not None and previous(path).is_file(),
        }

    def picture(self) -> str:
        """The carries drawn, as SVG."""
        from caddie.reply.bag_picture import bag_picture

        return bag_picture(self.bag())

    def set_cell(self, wanted: asked.Cell) -> dict[str, Any]:
        """Write a carry in the player's unit, or take it out by None.

        Raises:
            CaddieError: if it cannot be, or the file is no longer the one that was shown.
        """
        path = self._own()
        seen = Seen(path, wanted.digest)
        bag = self.bag()
        owned = next((each for each in bag.clubs if each.id == wanted.club), None)
        if owned is None or wanted.swing not in (each.name for each in bag.swings):
            raise CaddieError("there is no such club or swing length in the bag")
        cells = _with_cell(bag, owned, wanted)
        clubs = tuple(owned.with_cells(cells, wanted.sand) if each is owned else each for each in bag.clubs)
        try:
            after = Bag.model_validate(bag.model_copy(update={"clubs": clubs}).model_dump())
        except ValidationError as error:
            raise CaddieError(f"that cannot be: {explain(error)}") from None
        save_bag(after, path, seen)
        return self.state()

    def undo(self, digest: str | None) -> dict[str, Any]:
        """Bring the bag back as it was before the last save; a second time brings it forth again.

        Raises:
            CaddieError: if there is no such version, or the file is no longer the one that was shown.
        """
        path = self._own()
        before = previous(path)
        if not before.is_file() or bag_problems(before):
            raise CaddieError("there is no version to go back to")
        save_bag(load_bag(before), path, Seen(path, digest))
        return self.state()

    def table_seen(self, sent: asked.TableSent) -> dict[str, Any]:
        """How a table of shots is understood, or what it leaves open; nothing is written.

        Raises:
            CaddieError: if it is no table with a carry column, or no row gives a shot.
        """
        seen = Seen.of(self._place.path or self._place.first)
        try:
            taken = self._taken(sent)
        except UnsaidError as unsaid:
            asks = {"question": unsaid.left_open, "wish": unsaid.wish, "choices": unsaid.choices}
            return {"asks": asks, "digest": seen.digest}
        read = taken.read
        return {
            "asks": None,
            "digest": seen.digest,
            "clubs": [
                f"{each.club.id}: loft {each.club.loft_deg:g}°{'' if each.loft_known else ', the usual one'}"
                for each in taken.started
            ],
            "columns": [
                f"{use.column.value}: {use.heading} {use.unit or ''}".strip() for use in read.columns
            ],
            "balls": [
                f"{club} {swing}{' out of sand' if sand else ''}: {count}"
                for (club, swing, sand), count in read.counts().items()
            ],
            "rejected": [f"line {row.line}: {row.reason}" for row in read.rejected[:REJECTED_SHOWN]],
            "rejects": len(read.rejected),
            "new": bool(taken.to_come),
        }

    def keep_table(self, sent: asked.TableSent) -> dict[str, Any]:
        """Keep the balls of a table beside the bag, as :meth:`table_seen` showed them.

        Raises:
            CaddieError: as there, or if the bag is no longer the one that was shown.
        """
        taken = self._taken(sent)
        taken.keep(Seen(taken.bag_path, sent.digest))
        return self.state()

    def fit_seen(self) -> dict[str, Any]:
        """What the bag would be, fitted to the kept sessions; nothing is written."""
        path = self._own()
        seen, before = Seen.of(path), self.bag()
        sessions = kept_sessions(path)
        if not sessions:
            return {"digest": seen.digest, "sessions": 0, "changes": []}
        after, _ = fit_sessions(sessions, before)
        return {"digest": seen.digest, "sessions": len(sessions), "changes": _changes(before, after)}

    def fit(self, digest: str | None, sessions: int) -> dict[str, Any]:
        """Write the bag as :meth:`fit_seen` showed it.

        Raises:
            CaddieError: if bag or sessions are no longer those that were shown.
        """
        path = self._own()
        kept = kept_sessions(path)
        if len(kept) != sessions or not kept:
            raise CaddieError("the sessions have changed meanwhile: look at the fit again")
        seen = Seen(path, digest)
        seen.refuse_changed()
        after, _ = fit_sessions(kept, self.bag())
        save_bag(after, path, seen)
        return self.state()

    def _taken(self, sent: asked.TableSent) -> TakenIn:
        # A name out of a browser is no path: only what is harmless in a file's name is left of it.
        name = _UNFIT_FOR_NAMES.sub("_", sent.name)[-LONGEST_TABLE_NAME:].strip(". ") or "table.csv"
        text = decoded(sent.content, name)
        try:
            wishes = Wishes.model_validate(sent.wishes)
        except ValidationError as error:
            raise CaddieError(f"that cannot be: {explain(error)}") from None
        path = self._place.path
        if path is not None:
            owned = self.bag()
            return taken_in(import_text(text, name, owned, wishes), owned, path, name)
        named = clubs_in(text, name, wishes)
        read = import_text(text, name, started_bag(named, Unit.YARDS), wishes)
        return taken_in(read, bag_for(named, read), self._place.first, name, named)

    def _own(self) -> Path:
        path = self._place.path
        if path is None:
            raise CaddieError(DEMO)
        return path


def _club(club: Club, every: list[Span], bag: Bag) -> dict[str, Any]:
    cells = {(span.swing, span.sand): span for span in every if span.club == club.id}
    return {
        "id": club.id,
        "name": club.name,
        "loft": club.loft_deg,
        "kind": club.kind.value,
        "cells": [
            {"swing": swing, "sand": sand, **_cell(span, bag)} for (swing, sand), span in cells.items()
        ],
    }


def _changes(before: Bag, after: Bag) -> list[str]:
    """Each carry that is another, as the list shows it."""
    unit = before.player.distances_in
    held = {(club.id, sand, cell.swing): cell for club, sand, cell in _cells(before)}
    changes = []
    for club, sand, cell in _cells(after):
        old = held.get((club.id, sand, cell.swing))
        if old != cell:
            was = f"{from_metres(old.carry_m, unit):.1f}" if old else "none"
            sure = f"{cell.shots} balls" if cell.shots else "an estimate"
            name = f"{club.id} {cell.swing}{' out of sand' if sand else ''}"
            changes.append(f"{name}: {was} to {from_metres(cell.carry_m, unit):.1f} {unit.value}, {sure}")
    return changes


def _cells(bag: Bag) -> list[tuple[Club, bool, Carry]]:
    return [(club, sand, cell) for club in bag.clubs for sand in (False, True) for cell in club.cells(sand)]


def _cell(span: Span, bag: Bag) -> dict[str, Any]:
    unit = bag.player.distances_in

    def length(value_m: float | None) -> float | None:
        return None if value_m is None else round(from_metres(value_m, unit), 1)

    return {
        "carry": length(span.carry_m),
        "spread": length(span.sd_m),
        "shots": span.shots,
        "low": length(span.low_m),
        "high": length(span.high_m),
    }


def _with_cell(bag: Bag, club: Club, wanted: asked.Cell) -> tuple[Carry, ...]:
    unit = bag.player.distances_in
    swing, sand, carry, spread = wanted.swing, wanted.sand, wanted.carry, wanted.spread
    others = tuple(cell for cell in club.cells(sand) if cell.swing != swing)
    if carry is None:
        return others
    old = next((cell for cell in club.cells(sand) if cell.swing == swing), None)
    carry_m = to_metres(carry, unit)
    if spread is not None:
        sd_m = to_metres(spread, unit)
    else:
        sd_m = old.sd_m if old else float(expected_spread_m(max(carry_m, 1.0), bag.player.handicap)[0])
    # Balls measured a carry that the player now says is another: they no longer stand behind it.
    same = old is not None and round(from_metres(old.carry_m, unit), 1) == round(carry, 1)
    try:
        new = Carry(
            swing=swing,
            carry_m=old.carry_m if old and same else carry_m,
            sd_m=sd_m,
            shots=old.shots if old and same else SHOTS_BY_HAND,
            side_sd_m=old.side_sd_m if old else None,
            run_bias_m=old.run_bias_m if old else 0.0,
        )
    except ValidationError as error:
        raise CaddieError(f"that cannot be: {explain(error)}") from None
    shares = {each.name: each.share for each in bag.swings}
    return tuple(sorted((*others, new), key=lambda cell: shares[cell.swing]))
