"""The bag as the page shows and edits it: through the same guarded writing as ``caddie bag``."""

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from caddie.bag import Bag, Carry, Club
from caddie.bag.curve import expected_spread_m
from caddie.bag.file import Seen, bag_problems, explain, load_bag, previous, save_bag
from caddie.errors import CaddieError
from caddie.range.gapping import Span, findings, spans
from caddie.units import from_metres, to_metres

DEMO = "this is the demo bag: 'caddie bag new' makes your own, which can be edited here"
SHOTS_BY_HAND = 0
"""A carry typed in has no ball behind it until one is measured."""


class BagView:
    """A bag file, read anew for each look: it may be edited beside the page."""

    def __init__(self, path: Path | None) -> None:
        """``path`` is the player's file, or None for the demo bag, which is not edited."""
        self._path = path

    def bag(self) -> Bag:
        """The bag as it is now.

        Raises:
            CaddieError: if it cannot be read.
        """
        return load_bag(self._path)

    def state(self) -> dict[str, Any]:
        """The table of carries, with what gapping finds."""
        seen = Seen.of(self._path) if self._path else None
        bag = self.bag()
        every = [*spans(bag), *spans(bag, sand=True)]
        return {
            "note": "" if self._path else DEMO,
            "digest": seen.digest if seen else None,
            "player": bag.player.name,
            "unit": bag.player.distances_in.value,
            "swings": [swing.name for swing in bag.swings],
            "clubs": [_club(club, every, bag) for club in bag.clubs],
            "findings": [finding.text for finding in findings(bag)],
            "undo": self._path is not None and previous(self._path).is_file(),
        }

    def picture(self) -> str:
        """The carries drawn, as SVG."""
        from caddie.reply.bag_picture import bag_picture

        return bag_picture(self.bag())

    def set_cell(
        self, digest: str | None, club: str, swing: str, sand: bool, carry: float | None, spread: float | None
    ) -> dict[str, Any]:
        """Write a carry in the player's unit, or take it out by None.

        Raises:
            CaddieError: if it cannot be, or the file is no longer the one that was shown.
        """
        path = self._own()
        seen = Seen(path, digest)
        bag = self.bag()
        owned = next((each for each in bag.clubs if each.id == club), None)
        if owned is None or swing not in (each.name for each in bag.swings):
            raise CaddieError("there is no such club or swing length in the bag")
        cells = _with_cell(bag, owned, swing, sand, carry, spread)
        clubs = tuple(owned.with_cells(cells, sand) if each is owned else each for each in bag.clubs)
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

    def _own(self) -> Path:
        if self._path is None:
            raise CaddieError(DEMO)
        return self._path


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


def _with_cell(
    bag: Bag, club: Club, swing: str, sand: bool, carry: float | None, spread: float | None
) -> tuple[Carry, ...]:
    unit = bag.player.distances_in
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
