"""AISC 360: the two methods and their factors, and the strengths listed."""

import math

import pytest

from contactfe.codes import aisc_360


@pytest.mark.parametrize(
    ("checked", "phi", "omega"),
    [
        (lambda method: aisc_360.roller(1.0, 150.0, 345.0, method), 0.75, 2.0),
        (lambda method: aisc_360.round_hss_flexure(1.0, 150.0, 20.0, 345.0, method), 0.9, 1.67),
        (lambda method: aisc_360.solid_round_flexure(1.0, 150.0, 345.0, method), 0.9, 1.67),
        (lambda method: aisc_360.plate_flexure(1.0, 40.0, 345.0, method), 0.9, 1.67),
        (
            lambda method: aisc_360.round_hss_shear(1.0, 150.0, 20.0, 500.0, 345.0, method),
            0.9,
            1.67,
        ),
        (lambda method: aisc_360.solid_round_shear(1.0, 150.0, 345.0, method), 0.9, 1.67),
        (lambda method: aisc_360.fillet_weld(1.0, 480.0, method), 0.75, 2.0),
    ],
)
def test_the_factor_stands_in_the_resistance_as_its_own(checked, phi, omega):
    design, allowable = checked("LRFD"), checked("ASD")
    assert design.resistance.given["factor"].symbol == "φ"
    assert design.resistance.given["factor"].value == phi
    assert allowable.resistance.given["factor"].symbol == "Ω"
    assert allowable.resistance.given["factor"].value == omega
    assert design.resistance.value == pytest.approx(phi * design.steps[-1].value)
    assert allowable.resistance.value == pytest.approx(design.steps[-1].value / omega)
    assert design.resistance.symbol.startswith("φ")
    assert allowable.resistance.symbol.endswith("/Ω")


@pytest.mark.parametrize("method", ["lrfd", "", "LSD"])
def test_an_unknown_method_is_refused(method):
    with pytest.raises(ValueError, match=r"method = .* must be one of 'LRFD', 'ASD'"):
        aisc_360.roller(1.0, 150.0, 345.0, method)


def test_the_design_wall_is_its_share_of_the_nominal():
    assert aisc_360.design_wall(10.0, 0.93) == pytest.approx(9.3)
    assert aisc_360.design_wall(10.0, 1.0) == 10.0


@pytest.mark.parametrize("share", [0.0, -0.1, 1.001, math.nan])
def test_a_share_lies_between_none_and_all(share):
    with pytest.raises(ValueError, match=r"share = .* must lie in \(0, 1\]"):
        aisc_360.design_wall(10.0, share)
    with pytest.raises(ValueError, match=r"share = .* must lie in \(0, 1\]"):
        aisc_360.round_hss_flexure(1.0, 150.0, 10.0, 345.0, design_share=share)


def test_the_largest_strength_listed_is_in_scope():
    """100, 65 and 50 ksi, rounded, for plates, bars and hollow sections."""
    assert aisc_360.plate_flexure(1.0, 40.0, 690.0).satisfied is True
    for strength, satisfied in ((448.0, True), (550.0, None)):
        assert aisc_360.solid_round_flexure(1.0, 150.0, strength).satisfied is satisfied
    for strength, satisfied in ((345.0, True), (360.0, None)):
        assert aisc_360.round_hss_flexure(1.0, 150.0, 20.0, strength).satisfied is satisfied
