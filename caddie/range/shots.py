"""Balls hit on a range, as data, what they carry in another air, and the project's own file of them.

A session file is UTF-8 text: lines ``# name: value`` with what holds for all balls (``date``,
``temperature_c``, ``altitude_m``), one line of headings, one line a ball::

    # caddie range session
    # date: 2026-05-02
    # temperature_c: 17
    # altitude_m: 60
    club,swing,carry (yd),side (yd),strike,note
    56,chest,64.1,-2.0,,
    56,chest,31,,heavy,

``club`` is an id, name or nickname of the bag, ``swing`` a swing length of it. Side is negative to the
left as the player looks. ``strike`` is clean, heavy, thin, topped, shank or nothing; a mishit needs no
carry. Further columns: lie (``bunker`` for a splash, or nothing), total (yd), ball speed
(mph), launch (deg), spin (rpm). Any unit may stand in the brackets.
"""

import csv
import io
import re
from collections.abc import Sequence
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike
from pydantic import Field

from caddie.arrays import Floats
from caddie.bag.models import Conditions
from caddie.printable import table_cell
from caddie.situation import Frozen, Strike
from caddie.units import Unit, from_metres

FARTHEST_CARRY_M = 350.0
SESSION_TITLE = "caddie range session"
_CARRIES_FLOWN = 9
_SHORTEST_M = 2.0
_SPLITTING = re.compile(r"[,;|\t]+")


class RangeBall(Frozen):
    """One ball: which club and swing, and what was measured of it."""

    club: Annotated[str, Field(min_length=1)]
    """The club's id in the bag."""
    swing: Annotated[str, Field(min_length=1)]
    """The swing length's name in the bag."""
    carry_m: Annotated[float, Field(ge=0, le=FARTHEST_CARRY_M)] | None = None
    """None for a mishit that nobody measured."""
    total_m: Annotated[float, Field(ge=0, le=FARTHEST_CARRY_M)] | None = None
    side_m: Annotated[float, Field(ge=-150, le=150)] | None = None
    """Where it landed across the line: left negative, right positive, as the player looks."""
    ball_speed_m_s: Annotated[float, Field(gt=0, le=95)] | None = None
    launch_deg: Annotated[float, Field(gt=-20, lt=85)] | None = None
    spin_rpm: Annotated[float, Field(ge=0, le=16000)] | None = None
    strike: Strike | None = None
    """As said by the player; None when nothing was said."""
    sand: bool = False
    """Splashed out of a bunker, from sand that the ball lay clean on; otherwise from grass or a mat."""
    note: str = ""
    line: int | None = None
    """Line of the file it was read from."""


class Session(Frozen):
    """Balls hit in one place on one day."""

    shots: tuple[RangeBall, ...] = ()
    conditions: Conditions | None = None
    """The air of that day; None when not said."""
    date: str | None = None


def carry_in(
    carry_m: ArrayLike,
    loft_deg: float,
    measured_in: Conditions,
    wanted_in: Conditions,
    splash: bool = False,
) -> Floats:
    """Carry [m] of the same strikes, or of the same splashes, in another air, any shape.

    The ball speed that explains a carry in ``measured_in`` is flown again in ``wanted_in``, at a few carries
    across the range, and joined between them. Carries under 2 m are left as they are.
    """
    from caddie.ball import air, fly, launch_for, speed_for_carry, splash_for

    carry = np.asarray(carry_m, dtype=np.float64)
    if measured_in == wanted_in or carry.size == 0 or carry.max() <= _SHORTEST_M:
        return carry.copy()
    there = air(measured_in.temperature_c, measured_in.altitude_m)
    here = air(wanted_in.temperature_c, wanted_in.altitude_m)
    # A misread carry may be one that no speed reaches with this loft; the nearest ratio serves for it.
    longest = max(min(float(carry.max()), 1.3 * float(np.median(carry))), _SHORTEST_M + 0.01)
    grid = np.linspace(max(min(float(carry.min()), longest - 0.01), _SHORTEST_M), longest, _CARRIES_FLOWN)
    loft_rad = np.radians(loft_deg)
    speed = speed_for_carry(grid, loft_rad, there, splash=splash)
    ratio = fly((splash_for if splash else launch_for)(loft_rad, speed), here).x_m / grid
    return np.asarray(np.where(carry < _SHORTEST_M, carry, carry * np.interp(carry, grid, ratio)))


def session_text(session: Session, unit: Unit = Unit.YARDS) -> str:
    """The session as a file of the form described above; only columns that hold something are written."""
    lines = [f"# {SESSION_TITLE}"]
    if session.date:
        # What splits cells would make a cell of its own out of the rest of the line.
        lines.append(f"# date: {' '.join(_SPLITTING.sub(' ', session.date).split())}")
    if session.conditions:
        lines.append(f"# temperature_c: {session.conditions.temperature_c:g}")
        lines.append(f"# altitude_m: {session.conditions.altitude_m:g}")
    short = {Unit.YARDS: "yd", Unit.METRES: "m", Unit.FEET: "ft"}[unit]
    columns = [
        (f"carry ({short})", [_length(shot.carry_m, unit) for shot in session.shots]),
        (f"total ({short})", [_length(shot.total_m, unit) for shot in session.shots]),
        (f"side ({short})", [_length(shot.side_m, unit) for shot in session.shots]),
        ("ball speed (m/s)", [_number(shot.ball_speed_m_s) for shot in session.shots]),
        ("launch (deg)", [_number(shot.launch_deg) for shot in session.shots]),
        ("spin (rpm)", [_number(shot.spin_rpm) for shot in session.shots]),
        ("lie", ["bunker" if shot.sand else "" for shot in session.shots]),
        ("strike", [shot.strike.value if shot.strike else "" for shot in session.shots]),
        ("note", [table_cell(" ".join(shot.note.split())) for shot in session.shots]),
    ]
    kept = [(name, cells) for name, cells in columns if name.startswith("carry") or any(cells)]
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(["club", "swing", *(name for name, _ in kept)])
    cells: Sequence[list[str]] = [cells for _, cells in kept]
    for index, shot in enumerate(session.shots):
        rows.writerow([table_cell(shot.club), table_cell(shot.swing), *(column[index] for column in cells)])
    return "\n".join(lines) + "\n" + text.getvalue()


def _length(length_m: float | None, unit: Unit) -> str:
    return "" if length_m is None else _number(from_metres(length_m, unit))


def _number(value: float | None) -> str:
    return "" if value is None else f"{round(value, 3):.10g}"
