"""The post as a cantilever: the exact flexure, energy, superposition."""

import numpy as np
import pytest
from circles import over_the_section
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import cantilever, round_section
from contactfe.hand.flexure import flexure_shear
from contactfe.hand.formula import OutOfRangeWarning

F, L, D, d, E, NU = 100e3, 600.0, 150.0, 100.0, 200e3, 0.3
ratios = st.floats(0.0, 0.98)
poissons = st.floats(0.0, 0.5)


@pytest.mark.parametrize("bore", [0.0, d, 140.0])
class TestSection:
    @pytest.mark.parametrize("slender", [0.2, 0.6, 0.9, 1.2, 4.0])
    @pytest.mark.parametrize("poisson", [0.0, 0.3, 0.5])
    def test_von_mises_at_the_root_is_the_greatest_of_the_section(self, bore, poisson, slender):
        length = slender * D
        r = np.linspace(bore / 2, D / 2, 60)[:, None]
        a = np.linspace(0, 2 * np.pi, 73)
        x, y = r * np.cos(a), r * np.sin(a)
        tau = np.hypot(*flexure_shear(x, y, F, D / 2, bore / 2, poisson))
        sigma = F * length * y / round_section.second_moment(D, bore)
        greatest = np.sqrt(sigma**2 + 3 * tau**2).max()
        found = cantilever.root_von_mises.plain(F, length, D, bore, poisson)
        assert found == pytest.approx(greatest)
        bends = cantilever.bending_stress.plain(F, length, D, bore)
        assert (found > bends * (1 + 1e-9)) == (greatest > bends * (1 + 1e-9))
        # Shear governs only in a post shorter than its diameter, as stated.
        assert slender < 1 or found == bends


class TestShear:
    def test_coefficient_of_solid_and_thin_rounds(self):
        for nu in (0.0, 0.3, 0.5):
            solid = cantilever.shear_coefficient(D, 0.0, nu)
            assert solid == pytest.approx(6 * (1 + nu) / (7 + 6 * nu))
            thin = cantilever.shear_coefficient(D, (1 - 1e-7) * D, nu)
            assert thin == pytest.approx(2 * (1 + nu) / (4 + 3 * nu), rel=1e-6)

    @given(st.floats(0.1, 0.98))  # at the bore of a pinhole Gauss's points are too few
    def test_without_poissons_effect_the_coefficient_is_by_energy(self, ratio):
        """For ν = 0 Cowper's is F²/(A ∫τ² dA) of the exact shear: 6/7 (solid) to 1/2 (thin)."""
        energy = over_the_section(
            lambda r, a: sum(
                t**2
                for t in flexure_shear(r * np.cos(a), r * np.sin(a), F, D / 2, ratio * D / 2, 0.0)
            ),
            D,
            ratio * D,
        )
        by_energy = F**2 / (round_section.area(D, ratio * D) * energy)
        assert cantilever.shear_coefficient(D, ratio * D, 0.0) == pytest.approx(by_energy)


class TestDeflection:
    @given(st.floats(0.0, 2.0), ratios)
    def test_spread_over_the_contact_by_superposition(self, share, ratio):
        bore, c = ratio * D, share * L
        bend = E * round_section.second_moment(D, bore)
        shear = E / 2.6 * round_section.area(D, bore) * cantilever.shear_coefficient(D, bore, NU)

        def at_the_middle(s):
            """Deflection at L under a unit force at s: textbook cantilever."""
            near, far = min(s, L), max(s, L)
            return near**2 * (3 * far - near) / (6 * bend) + near / shear

        spread = F * at_the_middle(L)
        if c > 1e-3:
            lo, hi = L - c / 2, L + c / 2
            spread = F / c * sum(quad(at_the_middle, *part)[0] for part in ((lo, L), (L, hi)))
        found = cantilever.deflection(F, L, D, bore, E, NU, c)
        assert found == pytest.approx(spread, rel=1e-6)

    @given(ratios)
    def test_work_is_the_energy_stored(self, ratio):
        bore = ratio * D
        bent = quad(lambda x: (F * x) ** 2, 0, L)[0] / (E * round_section.second_moment(D, bore))
        kappa = cantilever.shear_coefficient(D, bore, NU)
        sheared = F**2 * L / (kappa * E / 2.6 * round_section.area(D, bore))
        assert F * cantilever.deflection(F, L, D, bore, E, NU) == pytest.approx(bent + sheared)

    @given(ratios)
    def test_stiffness_is_force_over_deflection(self, ratio):
        w = cantilever.deflection(F, L, D, ratio * D, E, NU)
        assert cantilever.stiffness(L, D, ratio * D, E, NU) == pytest.approx(F / w)


def test_the_root_yields_at_its_yield_strength():
    assert not cantilever.yield_limits(345.0, 345.0)[0].exceeded
    assert cantilever.yield_limits(-345.1, 345.0)[0].exceeded


WORKED = [
    (cantilever.root_moment, (F, L)),
    (cantilever.bending_stress, (F, L, D, d)),
    (cantilever.bending_stress, (F, L, D)),
    (cantilever.root_von_mises, (F, L, D, d, 0.28)),
    (cantilever.root_von_mises, (F, 0.3 * D, D, d, 0.28)),
    (cantilever.root_von_mises, (F, 0.3 * D, D, 0.0, 0.28)),
    (cantilever.shear_coefficient, (D, d, 0.28)),
    (cantilever.deflection, (F, L, D, d, E, 0.28)),
    (cantilever.deflection, (F, L, D, 0.0, E, 0.28, 250.0)),
    (cantilever.stiffness, (L, D, d, E, 0.28)),
]


@pytest.mark.parametrize(("formula", "arguments"), WORKED)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula.plain(*arguments)


def test_without_a_bore_it_is_solid():
    assert cantilever.bending_stress(F, L, D) == cantilever.bending_stress(F, L, D, 0.0)


@pytest.mark.parametrize(
    ("formula", "rest"),
    [
        (cantilever.bending_stress, (F,)),
        (cantilever.root_von_mises, (F,)),
        (cantilever.deflection, (F,)),
        (cantilever.stiffness, ()),
    ],
)
def test_a_short_post_is_marked(formula, rest):
    after = {"bending_stress": (D,), "root_von_mises": (D, d, NU)}
    tail = after.get(formula.__name__, (D, d, E, NU))
    assert formula.worked(*rest, 2.0 * D, *tail).within_range
    assert [limit.what for limit in formula.worked(*rest, 1.9 * D, *tail).exceeded] == ["L/D"]
    with pytest.warns(OutOfRangeWarning, match="L/D"):
        formula(*rest, 1.9 * D, *tail)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: cantilever.root_moment(-1.0, L), "force = -1.0"),
        (lambda: cantilever.bending_stress(F, 0.0, D), "length = 0.0"),
        (lambda: cantilever.yield_limits(1.0, 0.0), "yield_strength = 0.0"),
        (lambda: cantilever.slenderness_limits(0.0, D), "length = 0.0"),
        (lambda: cantilever.shear_coefficient(D, 151.0, 0.3), "bore = 151.0"),
        (lambda: cantilever.shear_coefficient(D, d, 0.6), "poisson = 0.6"),
        (lambda: cantilever.deflection(-1.0, L, D, d, E, NU), "force = -1.0"),
        (lambda: cantilever.deflection(F, L, D, d, 0.0, NU), "young = 0.0"),
        (lambda: cantilever.deflection(F, L, D, d, E, NU, 1201.0), "contact_length = 1201.0"),
        (lambda: cantilever.deflection(F, L, D, d, E, NU, -1.0), "contact_length = -1.0"),
        (lambda: cantilever.stiffness(0.0, D, d, E, NU), "length = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
