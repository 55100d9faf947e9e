"""How the carries of a bag cover the ground: holes, overlaps, and what to practise or change.

Thresholds are common practice, no source: full swings ten to fifteen yards apart, and nothing farther apart
than that inside the wedge distances.
"""

import math
from enum import StrEnum
from itertools import pairwise

from caddie.bag.curve import SAND_SPREAD, expected_spread_m
from caddie.bag.models import Bag, Carry, Club, ClubKind
from caddie.bag.sand import SAND_WEDGE_DEG
from caddie.situation import FARTHEST_M, Frozen
from caddie.statistics import mean_interval, sd_interval, shrunk_variance
from caddie.units import YARD_M, Unit, from_metres, length_text

SHORTEST_M = 15.0
"""Below this carries are chips, chosen by landing spot rather than by swing length."""
GAP_M = 11.0 * YARD_M
WIDE_FULL_M = 17.0 * YARD_M
NARROW_FULL_M = 7.0 * YARD_M
OVERLAP_M = 2.5 * YARD_M
KNOWN_M, KNOWN_SHARE = 2.0 * YARD_M, 0.03
FEWEST_SHOTS = 5
LOOSE_TIMES = 1.35
"""A cell whose spread is this many times what the player's others promise is loose."""
SPREAD_PRIOR_SHOTS = 8.0
SHORTEST_SPLASH_M = 3.0


class GapKind(StrEnum):
    """What gapping can find."""

    HOLE = "hole"
    WIDE_CLUBS = "wide_clubs"
    NARROW_CLUBS = "narrow_clubs"
    OVERLAP = "overlap"
    UNSURE = "unsure"
    UNMEASURED = "unmeasured"
    LOOSE = "loose"


class GapFinding(Frozen):
    """One thing found, and what to do about it."""

    kind: GapKind
    cells: tuple[tuple[str, str], ...]
    """Club and swing, one or two."""
    sand: bool = False
    """About splashes out of a bunker."""
    size_m: float | None = None
    """The gap, the difference or the half-width of the interval."""
    text: str


class Span(Frozen):
    """A cell as it covers the ground."""

    club: str
    swing: str
    share: float
    sand: bool = False
    """Splashed out of a bunker."""
    shots: int
    carry_m: float
    sd_m: float
    low_m: float | None = None
    high_m: float | None = None
    """95 % interval of the mean; None for estimates and single balls."""

    @property
    def half_width_m(self) -> float | None:
        """Half the interval of the mean."""
        return None if self.low_m is None or self.high_m is None else (self.high_m - self.low_m) / 2


def well_known(carry_m: float, sd_m: float, shots: int, confidence: float = 0.95) -> bool:
    """The stopping rule: at least five balls, and the mean known to 2 yards or 3 %, whichever is more.

    Known means: half its 95 % interval (Student's t) is no wider than that.
    """
    if shots < FEWEST_SHOTS:
        return False
    low, high = mean_interval(carry_m, sd_m, shots, confidence)
    return (high - low) / 2 <= max(KNOWN_M, KNOWN_SHARE * carry_m)


def steady_sd(sd_m: float, shots: int, carry_m: float, handicap: float, sand: bool = False) -> float:
    """A cell's spread [m] drawn toward the expected one, so that few lucky balls do not look exact."""
    expected = (SAND_SPREAD if sand else 1.0) * float(expected_spread_m(carry_m, handicap)[0])
    return math.sqrt(shrunk_variance(sd_m**2, shots, expected**2, SPREAD_PRIOR_SHOTS))


def spans(bag: Bag, confidence: float = 0.95, sand: bool = False) -> tuple[Span, ...]:
    """Every cell of the bag from grass, or out of ``sand``, with its interval, shortest carry first."""
    shares = {swing.name: swing.share for swing in bag.swings}
    found = []
    for club in bag.clubs:
        for cell in club.cells(sand):
            low, high = (None, None)
            if cell.shots > 1:
                low, high = mean_interval(cell.carry_m, cell.sd_m, cell.shots, confidence)
            found.append(
                Span(
                    club=club.id,
                    swing=cell.swing,
                    share=shares[cell.swing],
                    sand=sand,
                    shots=cell.shots,
                    carry_m=cell.carry_m,
                    sd_m=cell.sd_m,
                    low_m=None if low is None else max(low, 0.0),
                    high_m=high,
                )
            )
    return tuple(sorted(found, key=lambda span: span.carry_m))


def usefulness(bag: Bag, sand: bool = False) -> dict[tuple[str, str], float]:
    """How much ground [m] each cell is the nearest carry for, between 15 m (from sand 3 m) and 110 m.

    Where carries are sparse the choice of shot depends on each of them most.
    """
    ordered = spans(bag, sand=sand)
    shortest_m = SHORTEST_SPLASH_M if sand else SHORTEST_M
    found = {}
    for index, span in enumerate(ordered):
        below = (ordered[index - 1].carry_m + span.carry_m) / 2 if index else shortest_m
        above = (ordered[index + 1].carry_m + span.carry_m) / 2 if index + 1 < len(ordered) else FARTHEST_M
        low, high = max(below, shortest_m), min(above, FARTHEST_M)
        found[span.club, span.swing] = max(high - low, 0.0)
    return found


def findings(bag: Bag) -> tuple[GapFinding, ...]:
    """Holes, overlaps and weak figures, what matters most first."""
    unit = bag.player.distances_in
    return (
        *_holes(bag, unit),
        *_full_swings(bag, unit),
        *_overlaps(bag, unit),
        *_weak_figures(bag, unit),
        *_splashes(bag, unit),
    )


def _holes(bag: Bag, unit: Unit) -> list[GapFinding]:
    inside = [span for span in spans(bag) if SHORTEST_M <= span.carry_m <= FARTHEST_M]
    found = []
    for below, above in pairwise(inside):
        gap = above.carry_m - below.carry_m
        if gap > GAP_M:
            middle = length_text((above.carry_m + below.carry_m) / 2, unit)
            text = (
                f"hole of {length_text(gap, unit)} between {_name(below)} ({_at(below, unit)}) and "
                f"{_name(above)} ({_at(above, unit)}): practise a swing that carries about {middle}"
            )
            found.append(
                GapFinding(kind=GapKind.HOLE, cells=(_key(below), _key(above)), size_m=gap, text=text)
            )
    return sorted(found, key=lambda each: -(each.size_m or 0))


def _full_swings(bag: Bag, unit: Unit) -> list[GapFinding]:
    longest = max(bag.swings, key=lambda swing: swing.share).name
    full: list[tuple[Club, Carry]] = [
        (club, cell)
        for club in sorted(bag.clubs, key=lambda club: -club.loft_deg)
        if club.kind is not ClubKind.PUTTER
        for cell in club.carries
        if cell.swing == longest and cell.measured
    ]
    found = []
    for (higher, short), (lower, long) in pairwise(full):
        gap = long.carry_m - short.carry_m
        wedges = ClubKind.WEDGE in (higher.kind, lower.kind)
        cells = ((higher.id, longest), (lower.id, longest))
        between = f"{higher.id} and {lower.id}"
        if gap < NARROW_FULL_M:
            text = (
                f"{between} are only {length_text(max(gap, 0.0), unit)} apart at full swing: "
                "one of them may be spared, or their lofts spread"
            )
            found.append(GapFinding(kind=GapKind.NARROW_CLUBS, cells=cells, size_m=gap, text=text))
        elif gap > WIDE_FULL_M and wedges:
            loft = (higher.loft_deg + lower.loft_deg) / 2
            text = (
                f"{between} are {length_text(gap, unit)} apart at full swing: "
                f"a wedge of about {loft:.0f} degrees would fill it"
            )
            found.append(GapFinding(kind=GapKind.WIDE_CLUBS, cells=cells, size_m=gap, text=text))
    return found


def _overlaps(bag: Bag, unit: Unit) -> list[GapFinding]:
    inside = [span for span in spans(bag) if SHORTEST_M <= span.carry_m <= FARTHEST_M and span.shots]
    found = []
    for below, above in pairwise(inside):
        apart = above.carry_m - below.carry_m
        if below.club != above.club and apart < OVERLAP_M:
            surer = min((below, above), key=lambda span: span.sd_m)
            text = (
                f"{_name(below)} and {_name(above)} carry the same ({_at(below, unit)} and "
                f"{_at(above, unit)}): {_name(surer)} is the tighter one; keep the other for another flight"
            )
            found.append(
                GapFinding(kind=GapKind.OVERLAP, cells=(_key(below), _key(above)), size_m=apart, text=text)
            )
    return found


def _weak_figures(bag: Bag, unit: Unit) -> list[GapFinding]:
    kinds = {club.id: club.kind for club in bag.clubs}
    handicap = bag.player.handicap
    reach = [span for span in spans(bag) if span.carry_m <= FARTHEST_M]
    measured = [span for span in reach if span.shots]
    ratios = sorted(span.sd_m / float(expected_spread_m(span.carry_m, handicap)[0]) for span in measured)
    usual = ratios[len(ratios) // 2] if ratios else 1.0
    found = []
    for span in reach:
        wedge = kinds[span.club] is ClubKind.WEDGE
        promised = usual * float(expected_spread_m(span.carry_m, handicap)[0])
        if span.shots and wedge and not well_known(span.carry_m, span.sd_m, span.shots):
            found.append(_unsure(span, unit))
        if span.shots > 1 and wedge and sd_interval(span.sd_m, span.shots, 0.8).low > LOOSE_TIMES * promised:
            text = (
                f"{_name(span)} scatters by {_number(span.sd_m, unit)}, others of that length by "
                f"{_number(promised, unit)}: practise it, or play another club there"
            )
            found.append(GapFinding(kind=GapKind.LOOSE, cells=(_key(span),), size_m=span.sd_m, text=text))
    return found + _unmeasured(bag)


def _splashes(bag: Bag, unit: Unit) -> list[GapFinding]:
    """Splashes that few balls stand behind; where none is measured, the club to begin with."""
    found = []
    for span in spans(bag, sand=True):
        if span.shots and not well_known(span.carry_m, span.sd_m, span.shots):
            found.append(_unsure(span, unit))
    sandy = [club for club in bag.clubs if club.kind is ClubKind.WEDGE and club.carries]
    if not any(club.splash for club in bag.clubs) and sandy:
        club = min(sandy, key=lambda club: abs(club.loft_deg - SAND_WEDGE_DEG))
        text = (
            f"no bunker splash is measured: hit some with the {club.id} from a practice bunker "
            "(caddie practice range --sand)"
        )
        cells = tuple((club.id, cell.swing) for cell in club.carries)
        found.append(GapFinding(kind=GapKind.UNMEASURED, cells=cells, sand=True, text=text))
    return found


def _unmeasured(bag: Bag) -> list[GapFinding]:
    found = []
    for club in bag.clubs:
        measured = {cell.swing for cell in club.carries if cell.measured}
        open_ = [swing.name for swing in bag.swings if swing.name not in measured]
        if open_ and club.kind is ClubKind.WEDGE:
            text = f"{club.id}: nobody measured {', '.join(open_)}: hit ten balls with each"
            cells = tuple((club.id, swing) for swing in open_)
            found.append(GapFinding(kind=GapKind.UNMEASURED, cells=cells, text=text))
    return found


def _unsure(span: Span, unit: Unit) -> GapFinding:
    more = _balls_to_know(span)
    balls = f"{more} more ball{'' if more == 1 else 's'} or so"
    half = span.half_width_m
    known = f"known to ± {_number(half, unit)}" if half is not None else "one ball"
    text = f"{_name(span)} ({_at(span, unit)}) is {known}: {balls} will settle it"
    return GapFinding(kind=GapKind.UNSURE, cells=(_key(span),), sand=span.sand, size_m=half, text=text)


def _balls_to_know(span: Span) -> int:
    """Balls that are still needed for the stopping rule if the spread stays what it is."""
    more = 1
    while more < 200 and not well_known(span.carry_m, span.sd_m, span.shots + more):
        more += 1
    return more


def _name(span: Span) -> str:
    return f"{span.club} {span.swing}{' out of sand' if span.sand else ''}"


def _key(span: Span) -> tuple[str, str]:
    return span.club, span.swing


def _at(span: Span, unit: Unit) -> str:
    return f"{from_metres(span.carry_m, unit):.0f}"


def _number(length_m: float, unit: Unit) -> str:
    return f"{from_metres(length_m, unit):.1f} {unit.value}"
