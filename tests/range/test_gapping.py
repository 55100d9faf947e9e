from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
from scipy import stats

from caddie.bag import Bag, Carry, Club, ClubKind
from caddie.bag.slips import bag_notes
from caddie.range.gapping import GapKind, findings, spans, steady_sd, usefulness, well_known
from caddie.reply.bag_picture import bag_picture

YARD_M = 0.9144
SVG = "{http://www.w3.org/2000/svg}"


def bag_of(**clubs: dict[str, tuple[float, float, int]]) -> Bag:
    lofts = {"a": 60.0, "b": 56.0, "c": 50.0}
    return Bag(
        clubs=tuple(
            Club(
                id=name,
                name=name,
                kind=ClubKind.WEDGE,
                loft_deg=lofts[name],
                carries=tuple(
                    Carry(swing=swing, carry_m=carry * YARD_M, sd_m=sd * YARD_M, shots=shots)
                    for swing, (carry, sd, shots) in cells.items()
                ),
            )
            for name, cells in clubs.items()
        )
    )


def kinds(bag: Bag) -> list[tuple[GapKind, tuple[tuple[str, str], ...]]]:
    return [(finding.kind, finding.cells) for finding in findings(bag)]


def test_a_hole_and_what_would_fill_it() -> None:
    bag = bag_of(a={"chest": (46, 3, 30), "full": (70, 3, 30)})
    found = [finding for finding in findings(bag) if finding.kind is GapKind.HOLE]
    assert [finding.cells for finding in found] == [(("a", "chest"), ("a", "full"))]
    assert found[0].size_m == pytest.approx(24 * YARD_M)
    assert found[0].text == (
        "hole of 24 yards between a chest (46) and a full (70): practise a swing that carries about 58 yards"
    )
    closed = bag_of(a={"chest": (60, 3, 30), "full": (70, 3, 30)})
    assert GapKind.HOLE not in {kind for kind, _ in kinds(closed)}


def test_clubs_too_near_and_too_far_apart() -> None:
    near = bag_of(a={"full": (80, 4, 40)}, b={"full": (85, 4, 40)})
    assert (GapKind.NARROW_CLUBS, (("a", "full"), ("b", "full"))) in kinds(near)
    far = bag_of(a={"full": (70, 4, 40)}, b={"full": (92, 4, 40)})
    wide = next(finding for finding in findings(far) if finding.kind is GapKind.WIDE_CLUBS)
    assert "a wedge of about 58 degrees would fill it" in wide.text
    even = bag_of(a={"full": (80, 4, 40)}, b={"full": (92, 4, 40)})
    assert not {GapKind.NARROW_CLUBS, GapKind.WIDE_CLUBS} & {kind for kind, _ in kinds(even)}


def test_an_overlap_names_the_tighter_swing() -> None:
    bag = bag_of(a={"full": (70, 6, 30)}, b={"chest": (71, 3, 30)})
    overlap = next(finding for finding in findings(bag) if finding.kind is GapKind.OVERLAP)
    assert "b chest is the tighter one" in overlap.text


def test_unmeasured_unsure_and_loose_cells_are_to_be_practised() -> None:
    bag = bag_of(
        a={"hip": (20, 2, 20), "chest": (45, 8, 60), "shoulder": (58, 3, 0), "full": (70, 4, 6)},
        b={"hip": (24, 2, 20), "chest": (55, 3, 60), "shoulder": (75, 4, 60), "full": (88, 4, 60)},
    )
    found = kinds(bag)
    assert (GapKind.UNMEASURED, (("a", "shoulder"),)) in found
    assert (GapKind.UNSURE, (("a", "full"),)) in found
    assert (GapKind.LOOSE, (("a", "chest"),)) in found
    assert (GapKind.UNSURE, (("b", "full"),)) not in found


def test_the_stopping_rule_is_the_half_width_of_students_interval() -> None:
    """Against scipy.stats.t: 2 yards or 3 % of the carry, whichever is more, and five balls at least."""
    for carry, sd, shots in [(40, 3, 9), (40, 3, 12), (100, 4, 8), (100, 4, 9), (100, 5, 12), (40, 0.1, 4)]:
        half = stats.t.ppf(0.975, shots - 1) * sd / np.sqrt(shots)
        expected = shots >= 5 and half <= max(2 * YARD_M, 0.03 * carry)
        assert well_known(carry, sd, shots) == expected


def test_few_lucky_balls_do_not_look_exact() -> None:
    assert steady_sd(0.5, 5, 60, 14) > 2.5
    assert steady_sd(4.0, 500, 60, 14) == pytest.approx(4.0, rel=0.02)


def test_usefulness_shares_out_the_ground_between_the_carries(bag: Bag) -> None:
    useful = usefulness(bag)
    assert sum(useful.values()) == pytest.approx(110 - 15)
    assert min(useful.values()) >= 0
    dense = usefulness(bag_of(a={"hip": (20, 2, 9), "chest": (60, 3, 9), "shoulder": (62, 3, 9)}))
    assert dense["a", "chest"] == pytest.approx(21 * YARD_M)


def test_spans_are_in_order_with_intervals(bag: Bag) -> None:
    ordered = spans(bag)
    assert all(one.carry_m <= other.carry_m for one, other in pairwise(ordered))
    half_56 = next(span for span in ordered if (span.club, span.swing) == ("56", "chest"))
    low, high = stats.t.interval(0.95, 29, 65 * YARD_M, 3.2 * YARD_M / np.sqrt(30))
    assert (half_56.low_m, half_56.high_m) == pytest.approx((low, high))


def test_the_picture_says_in_words_what_it_shows(bag: Bag) -> None:
    root = ElementTree.fromstring(bag_picture(bag))
    assert root.get("role") == "img"
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert desc is not None
    assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert "56 chest 65 yards, mean between 64 and 66, spread 3, 30 balls" in (desc.text or "")
    assert "hole of" in (desc.text or "")
    cells = [group.find(f"{SVG}title") for group in root.iter(f"{SVG}g")]
    assert len(cells) == sum(len(club.carries) for club in bag.clubs)


def test_the_picture_stays_inside_its_frame_and_marks_estimates() -> None:
    drawn = bag_picture(bag_of(a={"hip": (20, 2, 1), "full": (70, 4, 0)}, b={"full": (88, 4, 12)}))
    root = ElementTree.fromstring(drawn)
    _, _, width, height = map(float, root.get("viewBox", "").split())
    for box in root.iter(f"{SVG}rect"):
        x, y = float(box.get("x", 0)), float(box.get("y", 0))
        if box.get("width") != "10":
            assert 0 <= x <= x + float(box.get("width", 0)) <= width
            assert 0 <= y <= y + float(box.get("height", 0)) <= height
    assert sum("stroke-dasharray" in box.attrib for box in root.iter(f"{SVG}rect")) == 1
    assert "a full about 70 yards, an estimate" in drawn


def test_names_with_markup_do_no_harm() -> None:
    bag = bag_of(a={"full": (70, 4, 12)})
    club = bag.clubs[0].model_copy(update={"id": "<b>&"})
    ElementTree.fromstring(bag_picture(bag.model_copy(update={"clubs": (club,)})))


def test_notes_on_what_looks_like_a_slip(bag: Bag) -> None:
    assert bag_notes(bag) == ()
    odd = bag_of(a={"full": (95, 0.5, 9)}, b={"full": (90, 40, 9)})
    odd = odd.model_copy(update={"clubs": (odd.clubs[0], odd.clubs[1].model_copy(update={"said": ("a",)}))})
    text = "\n".join(bag_notes(odd))
    assert "clubs a and b: both are called 'a'" in text
    assert "a has more loft and yet carries farther at full" in text
    assert "club a: carries.full: a spread of 1% of the carry is very narrow" in text
    assert "club b: carries.full: a spread of 44% of the carry is very wide" in text
    assert "no putter" in text
