"""Similitude at equal stress: the exponents against the laws of mechanics that they must keep."""

from typing import get_args

import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import damper, hertz, similitude, stop
from contactfe.hand.quantities import Dimension
from contactfe.hand.similitude import factor

scales = st.floats(0.01, 1.0)


class TestFactor:
    def test_every_dimension_of_a_formula_has_one(self):
        assert set(get_args(Dimension)) < set(similitude.FORCE_LENGTH_TIME)

    @pytest.mark.parametrize(
        ("dimension", "at_a_quarter"),
        # Krawinkler and Moncarz, ACI SP-73 (1982): from memory, not seen.
        [
            ("length", 1 / 4), ("stress", 1.0), ("acceleration", 1.0), ("time", 1 / 2),
            ("velocity", 1 / 2), ("force", 1 / 16), ("mass", 1 / 16), ("line load", 1 / 4),
            ("stiffness", 1 / 4), ("energy", 1 / 64), ("moment", 1 / 64), ("frequency", 2.0),
            ("line stiffness", 1.0), ("bedding", 4.0), ("moment per length", 1 / 16),
            ("bending stiffness", 1 / 64), ("angle", 1.0), (None, 1.0), ("density", 1.0),
            ("mass per length", 1 / 16), ("area", 1 / 16), ("section modulus", 1 / 64),
            ("second moment of area", 1 / 256),
        ],
    )  # fmt: skip
    def test_at_a_quarter(self, dimension, at_a_quarter):
        assert factor(dimension, 0.25) == at_a_quarter

    @given(scales)
    def test_newtons_law_and_the_spring_hold_in_the_specimen(self, s):
        accelerated = factor("mass", s) * factor("acceleration", s)
        assert accelerated == pytest.approx(factor("force", s))
        assert factor("stiffness", s) * factor("length", s) == pytest.approx(factor("force", s))
        kinetic = factor("mass", s) * factor("velocity", s) ** 2
        assert kinetic == pytest.approx(factor("energy", s))
        assert factor("frequency", s) * factor("time", s) == pytest.approx(1.0)

    @given(scales, scales, st.sampled_from(sorted(similitude.FORCE_LENGTH_TIME)))
    def test_a_specimen_of_a_specimen_is_one_of_the_prototype(self, s, t, dimension):
        both = factor(dimension, s) * factor(dimension, t)
        assert factor(dimension, s * t) == pytest.approx(both)

    @given(scales)
    def test_an_impact_on_a_spring_keeps_to_it(self, s):
        v, k, m = 700.0, 500e3, 2000.0
        model = (v * factor("velocity", s), k * factor("stiffness", s), m * factor("mass", s))
        force = stop.linear_peak_force(v, k, m) * factor("force", s)
        assert stop.linear_peak_force(*model) == pytest.approx(force)
        time = stop.linear_duration(k, m) * factor("time", s)
        assert stop.linear_duration(*model[1:]) == pytest.approx(time)

    @given(scales)
    def test_hertz_pressure_stays(self, s):
        q, R, E_star = 1500.0, 75.0, 115385.0
        model = (q * factor("line load", s), R * factor("length", s), E_star)
        assert hertz.peak_pressure(*model) == pytest.approx(hertz.peak_pressure(q, R, E_star))
        width = hertz.half_width(q, R, E_star) * factor("length", s)
        assert hertz.half_width(*model) == pytest.approx(width)

    @pytest.mark.parametrize("scale", [0.0, -0.25, 1.01, float("nan")])
    def test_a_scale_out_of_range_is_refused(self, scale):
        with pytest.raises(ValueError, match="scale = "):
            factor("force", scale)


class TestRule:
    @pytest.mark.parametrize(
        ("dimension", "written"),
        [
            ("length", "S"), ("second moment of area", "S⁴"), ("velocity", "√S"), ("time", "√S"),
            ("frequency", "1/√S"), ("bedding", "1/S"), ("stress", "1"), (None, "1"),
            ("acceleration", "1"), ("mass per length", "S²"),
        ],
    )  # fmt: skip
    def test_written(self, dimension, written):
        assert similitude.rule(dimension) == written


class TestDamper:
    @given(scales, st.floats(0.1, 2.0), st.floats(1.0, 2000.0))
    def test_its_force_scales_as_a_force_whatever_the_exponent(self, s, alpha, v):
        # C = F1/v1^α of a damper of 900 kN at 1 m/s.
        C = 900e3 / 1000.0**alpha
        model = damper.damper_force.plain(
            v * factor("velocity", s), C * similitude.damper_factor(s, alpha), 1.0, alpha
        )
        force = damper.damper_force.plain(v, 900e3, 1000.0, alpha) * factor("force", s)
        assert model == pytest.approx(force)

    def test_values(self):
        # S^(2 − α/2) at S = 1/4, computed by hand: 2^-4 · 2^α.
        assert similitude.damper_factor(0.25, 1.0) == pytest.approx(1 / 8)
        assert similitude.damper_factor(0.25, 0.4) == pytest.approx(0.0824692, rel=1e-6)

    @pytest.mark.parametrize(("scale", "alpha"), [(0.0, 1.0), (1.5, 1.0), (0.25, 0.0)])
    def test_bad_arguments_are_named(self, scale, alpha):
        named = "exponent = " if alpha == 0.0 else "scale = "
        with pytest.raises(ValueError, match=named):
            similitude.damper_factor(scale, alpha)


@pytest.mark.parametrize(
    "worked",
    [
        similitude.similitude_factor.worked(0.25, 1.0, -1.0, 2.0),
        similitude.damper_factor.worked(0.25, 0.4),
    ],
)
def test_forms_compute_to_the_values(worked):
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.source
