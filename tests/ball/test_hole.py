import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.ball.hole import CAPTURE, HOLE_RADIUS_M, captured, free_fall, holmes
from caddie.errors import CaddieError


@given(st.sampled_from(sorted(CAPTURE)), st.floats(0, 0.06), st.floats(0, 0.02))
def test_capture_speed_falls_off_centre_and_is_symmetric(model: str, offset: float, more: float) -> None:
    assert CAPTURE[model](offset + more) <= CAPTURE[model](offset)
    assert CAPTURE[model](-offset) == CAPTURE[model](offset)
    assert not captured(0.5, HOLE_RADIUS_M + more, model)


def test_free_fall_through_the_centre() -> None:
    """The ball falls its radius while it crosses 2R - r: 1.313 m/s (computed)."""
    assert free_fall(0.0) == pytest.approx(1.313, abs=0.002)


def test_free_fall_never_captures_more_than_holmes_near_the_centre() -> None:
    offsets = np.linspace(0, 0.03, 20)
    assert np.all(free_fall(offsets) < holmes(offsets))


def test_unknown_model_is_refused() -> None:
    with pytest.raises(CaddieError, match="holmes"):
        captured(1.0, 0.0, "magic")
