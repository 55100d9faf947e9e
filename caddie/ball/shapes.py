"""Shapes of ground laid over strips: a slope between two distances, and the ridges and tiers made of it."""

from collections.abc import Sequence
from dataclasses import replace

from caddie.ball.ground import Strip
from caddie.errors import CaddieError


def sloped(
    strips: Sequence[Strip],
    from_m: float,
    to_m: float,
    slope: float = 0.0,
    cross: float = 0.0,
    funnel: float = 0.0,
) -> list[Strip]:
    """The strips with ``slope``, ``cross`` slope and ``funnel`` added between two distances along the line.

    Raises:
        CaddieError: ``from_m`` not before ``to_m``.
    """
    if not from_m < to_m:
        raise CaddieError(
            f"ground: a slope from {from_m:g} m to {to_m:g} m has no length: give from_m < to_m"
        )
    cut = list(strips)
    if from_m <= cut[0].start_m:
        cut.insert(0, replace(cut[0], start_m=from_m - 1.0))
    for at in (from_m, to_m):
        for index in range(len(cut) - 1, -1, -1):
            if cut[index].start_m < at:
                cut.insert(index + 1, replace(cut[index], start_m=at))
                break
            if cut[index].start_m == at:
                break
    return [
        replace(
            strip,
            slope=strip.slope + slope,
            cross_slope=strip.cross_slope + cross,
            funnel=strip.funnel + funnel,
        )
        if from_m <= strip.start_m < to_m
        else strip
        for strip in cut
    ]


def ridge(strips: Sequence[Strip], top_m: float, height_m: float, length_m: float) -> list[Strip]:
    """A ridge across the line: up and down again over ``length_m``, its top at ``top_m``."""
    half = length_m / 2
    risen = sloped(strips, top_m - half, top_m, height_m / half)
    return sloped(risen, top_m, top_m + half, -height_m / half)


def swale(strips: Sequence[Strip], bottom_m: float, depth_m: float, length_m: float) -> list[Strip]:
    """A hollow across the line: a ridge upside down."""
    return ridge(strips, bottom_m, -depth_m, length_m)


def tier(strips: Sequence[Strip], top_m: float, height_m: float, length_m: float = 2.0) -> list[Strip]:
    """A step up to a higher level that begins at ``top_m`` (down for a negative height)."""
    return sloped(strips, top_m - length_m, top_m, height_m / length_m)


def false_front(
    strips: Sequence[Strip], edge_m: float, length_m: float = 4.0, slope: float = 0.12
) -> list[Strip]:
    """The first ``length_m`` of green from its front ``edge_m`` falling back toward the player."""
    return sloped(strips, edge_m, edge_m + length_m, slope)


def funnel(strips: Sequence[Strip], from_m: float, to_m: float, slope: float = 0.06) -> list[Strip]:
    """Ground that gathers balls to the line from both sides."""
    return sloped(strips, from_m, to_m, funnel=slope)
