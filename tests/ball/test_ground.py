import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.ball.ground import Ground, Patch, Strip, Surface, flat
from caddie.errors import CaddieError

slopes = st.floats(-0.3, 0.3)


@st.composite
def strips(draw: st.DrawFn) -> list[Strip]:
    starts = sorted(draw(st.lists(st.integers(-20, 80), min_size=1, max_size=8, unique=True)))
    return [Strip(float(start), Surface.GREEN, slope=draw(slopes)) for start in starts]


@given(strips())
def test_height_is_nothing_at_the_ball_and_continuous_along_the_line(rows: list[Strip]) -> None:
    ground = Ground.of_strips(rows)
    assert ground.height_m(0.0, 0.0) == pytest.approx(0.0, abs=1e-9)
    x = np.linspace(-30, 100, 4001)
    assert np.abs(np.diff(ground.height_m(x, 0 * x))).max() < 0.31 * (x[1] - x[0])


@given(strips(), st.floats(-30, 100), st.floats(-20, 20))
def test_slope_is_the_change_of_height(rows: list[Strip], x: float, y: float) -> None:
    ground = Ground.of_strips([*rows[:-1], Strip(rows[-1].start_m, Surface.GREEN, 0.1, 0.05, funnel=0.02)])
    if np.abs(ground.start_m - x).min() < 1e-3 or abs(y) < 1e-3:
        return
    along, across = ground.slope_at(x, y)
    step = 1e-4
    assert float(along) == pytest.approx(
        float(ground.height_m(x + step, y) - ground.height_m(x, y)) / step, abs=1e-6
    )
    assert float(across) == pytest.approx(
        float(ground.height_m(x, y + step) - ground.height_m(x, y)) / step, abs=1e-6
    )
    normal = np.array(ground.normal_on(ground.strip_at(np.array([x])), np.array([y])))[:, 0]
    assert np.linalg.norm(normal) == pytest.approx(1.0)
    assert normal @ [1.0, 0.0, along] == pytest.approx(0.0, abs=1e-12)


def test_surfaces_by_strip_side_and_patch() -> None:
    ground = Ground.of_strips(
        [
            Strip(0, Surface.FAIRWAY),
            Strip(30, Surface.GREEN, left_m=8, right_m=6, beside=Surface.HEAVY_ROUGH),
        ],
        patches=(Patch(32, 36, 7, 12, Surface.SAND),),
    )
    x, y = np.array([-50, 10, 31, 31, 31, 33, 33, 500]), np.array([0, 99, 7.9, 8.1, -6.1, 7.5, 12.1, 0])
    fairway, green, rough, sand = Surface.FAIRWAY, Surface.GREEN, Surface.HEAVY_ROUGH, Surface.SAND
    assert ground.surface_at(x, y).tolist() == [fairway, fairway, green, rough, rough, sand, rough, green]


@given(st.integers(17, 60))
def test_many_strips_are_found_as_few_are(count: int) -> None:
    ground = Ground.of_strips([Strip(float(i), Surface.GREEN) for i in range(count)])
    x = np.array([-3.0, 0.0, 0.99, 5.0, count - 1.0, 1e6])
    assert ground.strip_at(x).tolist() == [0, 0, 0, 5, count - 1, count - 1]


def test_flat_is_level() -> None:
    assert np.all(flat().height_m([-5.0, 70.0], [3.0, -3.0]) == 0)


@pytest.mark.parametrize(
    ("strip", "extra", "words"),
    [
        ({"slope": 2.0}, {}, "slope must be -0.6 to 0.6"),
        ({"cross_slope": -0.7}, {}, "cross_slope"),
        ({"firmness": 2.5}, {}, "firmness must be 0 to 2"),
        ({"left_m": -1.0}, {}, "left_m"),
        ({"slope": np.nan}, {}, "slope"),
        ({"surface": 42}, {}, "unknown surface"),
        ({"start_m": np.inf}, {}, "start_m"),
        ({}, {"stimp_ft": 40.0}, "stimp_ft must be 3 to 16"),
        ({}, {"stimp_ft": 1.0}, "stimp_ft"),
    ],
)
def test_nonsense_is_refused_by_name_and_range(strip: dict, extra: dict, words: str) -> None:
    with pytest.raises(CaddieError, match=words):
        Ground.of_strips([Strip(**{"start_m": 0.0, "surface": Surface.GREEN, **strip})], **extra)


def test_unordered_empty_or_inside_out_is_refused() -> None:
    with pytest.raises(CaddieError, match="ascend"):
        Ground.of_strips([Strip(5.0, Surface.GREEN), Strip(5.0, Surface.FRINGE)])
    with pytest.raises(CaddieError, match="no strips"):
        Ground.of_strips([])
    with pytest.raises(CaddieError, match="x0_m < x1_m"):
        Patch(3, 1, 0, 1, Surface.SAND)
