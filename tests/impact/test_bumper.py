"""A bumper's dampers: force against velocity and back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.hand import damper
from contactfe.impact.bumper import Bumper, Damper

exponents = st.floats(0.1, 3.0)


@pytest.mark.parametrize("exponent", [0.3, 0.4, 1.0, 2.0])
def test_the_force_is_that_of_the_dampers(exponent):
    bumper = Bumper(1.0, 0.0, (Damper(1e6, 1000.0, exponent), Damper(3e5, 500.0, exponent)))
    expected = damper.damper_force(700.0, 1e6, 1000.0, exponent)
    expected += damper.damper_force(700.0, 3e5, 500.0, exponent)
    assert bumper.damper_force(700.0, 1e-3) == pytest.approx(expected, rel=1e-12)
    assert bumper.damper_force(-700.0, 1e-3) == pytest.approx(-expected, rel=1e-12)


@settings(deadline=None)  # the first root loads scipy
@given(st.floats(1e-2, 1e4), exponents, exponents, st.floats(1e-3, 1e3))
def test_velocity_is_the_inverse_of_force(velocity, one, other, share):
    bumper = Bumper(0.0, 0.0, (Damper(1e6, 1000.0, one), Damper(share * 1e6, 1000.0, other)))
    for w in (velocity, -velocity):
        force = bumper.damper_force(w, 1e-9)
        # 1e-9: the root is found to rounding, which an exponent of 0.1 magnifies tenfold.
        assert bumper.velocity(force) == pytest.approx(w, rel=1e-9)


def test_no_force_moves_nothing():
    assert Bumper(0.0, 0.0, (Damper(1e6, 1000.0, 0.4),)).velocity(0.0) == 0.0


def test_a_force_that_moves_it_by_next_to_nothing():
    bumper = Bumper(0.0, 0.0, (Damper(1e6, 1000.0, 0.0125), Damper(1e5, 1000.0, 0.02)))
    assert 0.0 <= bumper.velocity(115.0) < 1e-300


def test_near_rest_the_law_is_linear():
    bumper = Bumper(1.0, 0.0, (Damper(1e6, 1000.0, 0.4),))
    whole = bumper.damper_force(1e-3, 1e-3)
    assert whole == pytest.approx(1e6 * (1e-6) ** 0.4)
    assert bumper.damper_force(2.5e-4, 1e-3) == pytest.approx(whole / 4.0)
    assert bumper.damper_force(0.0, 1e-3) == 0.0


@pytest.mark.parametrize(
    ("mass", "spring", "dampers"),
    [
        (-1.0, 0.0, ()),
        (1.0, -1.0, ()),
        (0.0, 1.0, ()),
        (1.0, 0.0, (Damper(0.0, 1.0, 1.0),)),
        (1.0, 0.0, (Damper(1.0, 0.0, 1.0),)),
        (1.0, 0.0, (Damper(1.0, 1.0, 0.0),)),
    ],
)
def test_what_is_no_bumper_is_refused(mass, spring, dampers):
    with pytest.raises(ValueError, match=r"not allowed|needs a mass"):
        Bumper(mass, spring, dampers)


def test_what_holds_it():
    assert not Bumper(1.0, 0.0, ()).held
    assert Bumper(1.0, 2.0, ()).held
    assert Bumper(0.0, 0.0, (Damper(1.0, 1.0, 1.0),)).held
