"""What holds the plate, against statics and the exact layer; with a bent post's uneven load."""

from dataclasses import replace

import numpy as np
import pytest
from alignments import bent
from scipy.integrate import quad

from contactfe.assess.plate_hold import plate_holds
from contactfe.report.document import document
from contactfe.report.plate_hold import holding_the_plate


@pytest.mark.parametrize("of", ["comparison", "corner", "oblique"])
def test_the_places_take_the_contact_load(of, request):
    found = request.getfixturevalue(of)
    case = found.case
    for result in found.sections:
        for hold, patch in zip(plate_holds(case, result), result.patches, strict=True):
            q, T = patch.line_load, patch.tangential_load.value
            state = result.reading.state.patches[hold.number]
            assert hold.total.normal == pytest.approx(q, rel=1e-9)
            assert hold.total.along == pytest.approx(T, rel=1e-9, abs=1e-9 * q)
            # About the plate's middle: the pressure at its lever, the friction at half the depth.
            at = case.offsets[hold.number] + float(state.weight @ (state.pressure * state.x)) / q
            lever = case.plate.thickness / 2.0
            expected = -q * at - T * lever
            size = q * case.plate.width
            assert hold.total.moment == pytest.approx(expected, abs=1e-9 * size)
            assert hold.total.x * hold.total.normal == pytest.approx(-expected, abs=1e-9 * size)
            # Levers from the contact are those from the middle, shifted alike.
            shift = {round(one.x - one.lever, 9) for one in (*hold.places, hold.total)}
            assert len(shift) == 1
            assert hold.peak_ratio == pytest.approx(1.0)


def test_a_base_pulls_as_an_infinite_layer_does(comparison):
    """Of a plate that reaches three thicknesses and more beyond the load."""

    def pressure(x):
        def of(k):
            return 2 * (np.sinh(k) + k * np.cosh(k)) / (np.sinh(2 * k) + 2 * k) * np.cos(k * x)

        return quad(of, 1e-9, 60.0, limit=200)[0] / np.pi

    x = np.linspace(0.0, 6.0, 241)
    p = np.array([pressure(at) for at in x])
    assert 2.0 * np.trapezoid(p, x) == pytest.approx(1.0, abs=2e-3)
    pulls = -2.0 * np.trapezoid(np.minimum(p, 0.0), x)
    (hold,) = plate_holds(comparison.case, comparison.sections[0])
    assert hold.total.pull / hold.total.normal == pytest.approx(pulls, rel=0.05)


def test_an_uneven_load_has_its_mean_as_a_whole_and_its_peak_per_length():
    found = bent()
    case, (result, *_) = found.case, found.sections
    (hold,) = plate_holds(case, result)
    assert hold.peak_ratio > 1.05
    assert hold.peak_ratio == pytest.approx(result.length.peak_over_mean)
    assert hold.total.normal == pytest.approx(result.length.peak_line_load)
    force = case.line_load * case.contact_length
    assert hold.over_the_length(hold.total.normal) == pytest.approx(force)
    z, q = np.array(result.length.z), np.array(result.length.line_load)
    middle = np.trapezoid(q * z, z) / np.trapezoid(q, z)
    assert hold.towards_tip == pytest.approx(middle - case.cantilever.length, rel=0.02)
    (table,) = holding_the_plate(case, found.sections)
    assert {len(row) for group in table.groups for row in group} == {len(table.columns)}
    data = document(found)["sections"][0]["plate_hold"][0]
    assert data["total"]["whole_normal"] == pytest.approx(force)


def test_friction_that_was_not_solved_is_told_as_at_the_root():
    """A square contact sticks; the root's table counts friction times the force either way."""
    found = bent()
    (table,) = holding_the_plate(found.case, found.sections)
    assert "slide" not in table.note
    case = replace(found.case, contact=replace(found.case.contact, friction=0.2))
    (table,) = holding_the_plate(case, found.sections)
    force = case.display.force.text(0.2 * case.line_load * case.contact_length)
    assert f"0.2 of the normal force, {force} as a whole" in table.note
