"""The report's sentences: what each chart says, and what to work on."""

import math

import numpy as np

from caddie.bag.models import Family, Miss
from caddie.log.change import family_said
from caddie.log.pressure import Nerve
from caddie.log.shot import ROUNDS
from caddie.log.table import Table
from caddie.practice.kinds import LieGroup
from caddie.practice.next import Gain
from caddie.practice.putting_reads import ReadHabits
from caddie.report.figures import Figures, Leave, Mean, Rate, TrustRow
from caddie.situation import Strike
from caddie.units import Unit, from_metres

FEW = 10
"""Below this many shots a figure is called a hint."""
LEAST_LOST = 1e-3


def leave_unit(unit: Unit) -> Unit:
    """What leaves are told in: feet, for a player of metres metres."""
    return Unit.METRES if unit is Unit.METRES else Unit.FEET


def short_length(length_m: float, unit: Unit) -> str:
    """A leave: "9 ft", "2.7 m"."""
    value = from_metres(length_m, leave_unit(unit))
    return f"{value:.1f} m" if unit is Unit.METRES else f"{value:.0f} ft"


def rate_note(rate: Rate) -> str:
    """A rate as printed beside its dot."""
    return f"{rate.hits} of {rate.shots}" if rate.shots else "no shots"


def rate_words(rate: Rate) -> str:
    """A rate in a sentence, with its interval."""
    if not rate.shots:
        return f"{rate.name}: no shots"
    low, high = rate.interval
    return f"{rate.name}: {rate.share:.0%}, {rate.hits} of {rate.shots}, likely {low:.0%} to {high:.0%}"


def leave_words(leave: Leave, unit: Unit) -> str:
    """A leave in a sentence."""
    if not leave.shots:
        return f"{leave.name}: no shots"
    low, middle, high = (
        short_length(m, unit) for m in (leave.quarter_m, leave.median_m, leave.three_quarters_m)
    )
    return f"{leave.name}: half within {middle}, the middle half {low} to {high}, {leave.shots} shots"


def mean_words(mean: Mean) -> str:
    """Strokes against the table in a sentence."""
    if not mean.shots:
        return f"{mean.name}: no shots"
    return f"{mean.name}: {signed(mean.mean)} a shot{_likely(mean)}, {mean.shots} shots"


def signed(strokes: float) -> str:
    """Strokes with their sign: "+0.12", "−0.30".

    >>> signed(-0.3), signed(0.0)
    ('−0.30', '0.00')
    """
    text = f"{abs(strokes):.2f}"
    return text if text == "0.00" else ("+" if strokes > 0 else "−") + text


def name_of(family: str) -> str:
    """A shot family as a row's name."""
    return family_said(Family(family))


def work_on(table: Table, gains: list[Gain], count: int = 3) -> list[str]:
    """The things to work on, each with what usually goes wrong there."""
    shots = table.in_modes(*ROUNDS)
    costly = [gain for gain in gains if gain.strokes > LEAST_LOST][:count]
    return [f"{_capital(gain.sentence)}.{_usual(shots, gain)}" for gain in costly]


def trust_words(row: TrustRow) -> str:
    """What the log says about a trusted shot."""
    if row.trust is None:
        return ""
    low, high = row.came_off.interval
    if row.came_off.shots < FEW:
        return "too few shots to tell"
    if row.trust > high:
        return "trusted more than it has earned"
    if row.trust < low:
        return "better than it is trusted"
    return "trust and log agree"


def nerve_words(nerve: Nerve) -> str:
    """Quitting or rushing near trouble, in a sentence."""
    verb = {Miss.QUIT: "quitting on it", Miss.RUSH: "rushing it"}[nerve.miss]
    said = (
        f"{_capital(verb)} was reported {nerve.near} times in {nerve.near_shots} shots near trouble and "
        f"{nerve.clear} times in {nerve.clear_shots} without"
    )
    if nerve.under_pressure:
        return f"{said}: trouble brings it out ({nerve.low:.0%} to {nerve.high:.0%} more often)."
    return f"{said}: too little to say that trouble brings it out."


def reads_words(reads: ReadHabits) -> str:
    """How many putts speak of break and pace, and which way they missed; nothing when none does."""
    parts = []
    if reads.breaking:
        parts.append(
            f"Of {reads.breaking} breaking putts with a read, {reads.low} missed low and {reads.high} high"
        )
    if reads.short + reads.past:
        parts.append(f"{reads.short} putts stopped short and {reads.past} past the hole")
    return f"{'; '.join(parts)}." if parts else ""


def ends_words(ends: list[list[int]], holed: int | None = None) -> str:
    """Where balls ended, in a sentence."""
    total = sum(map(sum, ends))
    if not total:
        return "No shots with a side."
    long, short = sum(ends[0]), sum(ends[2])
    left, right = sum(row[0] for row in ends), sum(row[2] for row in ends)
    went_in = f"; {holed} went in" if holed is not None else ""
    return (
        f"Of {total} that missed, {long / total:.0%} ended long, {short / total:.0%} short, "
        f"{left / total:.0%} left and {right / total:.0%} right{went_in}."
    )


def period(figures: Figures) -> str:
    """What the report covers."""
    if figures.first is None or figures.last is None:
        return "no shots from a round yet"
    first, last = (f"{day.day} {day:%B %Y}" for day in (figures.first, figures.last))
    days = first if first == last else f"{first} to {last}"
    rounds = f"{figures.rounds} round{'s' if figures.rounds != 1 else ''}"
    return f"{days}: {rounds}, {figures.off_green} shots from off the green, {figures.putts} putts"


def _usual(shots: Table, gain: Gain) -> str:
    mine = shots.where(gain.kind.holds(shots) & shots.told)
    if len(mine) < FEW:
        return ""
    missed = mine.where(~mine.holed)
    ended = max(
        (int(there.sum()), name)
        for name, there in (
            ("short", missed.long < 0),
            ("long", missed.long > 0),
            ("left", missed.right < 0),
            ("right", missed.right > 0),
        )
    )
    if gain.kind.ground is not LieGroup.GREEN:
        struck = max(
            (int(mine.is_strike(Strike.HEAVY).sum()), "heavy"),
            (int(mine.is_strike(Strike.THIN, Strike.TOPPED).sum()), "thin"),
        )
        # A mishit tells more of a fault than a side does: it counts twice.
        if 2 * struck[0] > ended[0]:
            return f" Struck {struck[1]}: {struck[0]} of {len(mine)}."
    return f" Misses most often ended {ended[1]}: {ended[0]} of {len(missed)}." if ended[0] else ""


def _likely(mean: Mean) -> str:
    low, high = mean.interval
    return "" if math.isinf(low) else f", likely {signed(low)} to {signed(high)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def within(leaves: np.ndarray[tuple[int], np.dtype[np.float64]], unit: Unit) -> str:
    """The leave that half of the shots stay within."""
    left_m = leaves[~np.isnan(leaves)]
    return short_length(float(np.median(left_m)), unit) if len(left_m) else "–"
