import re

import pytest
from bodies import case

from contactfe.assess.compare import compare


def reason(sections, **changes) -> str:
    return compare(case(sections, **changes)).reason


def test_a_single_section_is_not_compared():
    text = reason([(150.0, None)])
    assert text.startswith("“solid 150” is the only section, K = 46.9.")
    assert "a solid round bends little" in text
    assert "lies in the contact zone, 0.70 half-widths deep" in text
    assert "less than" not in text


def test_without_a_solid_the_next_best_is_the_measure():
    text = reason([(150.0, 20.0), (150.0, 30.0), (150.0, 12.0)])
    assert "“150 x 30” has the least stress concentration" in text
    assert "less than “150 x 20”" in text
    assert (
        "A thinner wall bends more: in “150 x 20” ring bending adds 239 MPa of hoop compression"
        in text
    )


def test_a_solid_can_be_best_and_the_governing_bore_is_named_once():
    text = reason([(150.0, None), (150.0, 8.0)])
    assert text.startswith("“solid 150” has the least")
    assert text.count("bore") == 1
    assert "lies at the bore under the load line" in text


def test_a_bore_that_changes_nothing_is_said_to_change_nothing():
    text = reason([(150.0, None), (150.0, 70.0)])
    assert "within the numerical uncertainty of" in text
    assert "leaves the peak there at" in text


@pytest.mark.parametrize(("diameters", "said"), [((150.0, 100.0), True), ((150.0, 150.0), False)])
def test_unlike_diameters_are_pointed_out(diameters, said):
    one, two = diameters
    text = reason([(one, None), (two, 30.0)], held_by="opposed")
    assert ("The outside diameters differ" in text) is said


KSI = 4448.2216152605 / 25.4**2
"""One ksi in MPa, exact by definition (common practice, no source)."""


def test_in_us_units_the_same_is_said_in_ksi():
    sections, remarks = [(150.0, None), (150.0, 25.0), (150.0, 16.0), (160.0, 25.0)], []
    si, us = (compare(case(sections, units=u)) for u in ("SI", "US customary"))
    figure = r"([+-]?\d+(?:\.\d+)?) "
    in_mpa = [float(v) for v in re.findall(f"{figure}MPa", si.reason)]
    in_ksi = [float(v) for v in re.findall(f"{figure}ksi", us.reason)]
    assert len(in_mpa) >= 8
    assert "MPa" not in us.reason
    # Half of the last digits, a whole MPa and a tenth of a ksi.
    assert in_ksi == pytest.approx([v / KSI for v in in_mpa], abs=0.05 + 0.5 / KSI)
    assert re.sub(f"{figure}ksi", "#", us.reason) == re.sub(f"{figure}MPa", "#", si.reason)
    for one, other in zip(si.sections, us.sections, strict=True):
        for hand, again in zip(one.hand, other.hand, strict=True):
            assert (again.hand, again.computed) == (hand.hand, hand.computed)
            assert "MPa" not in again.remark
            if "MPa" in hand.remark:
                remarks.append(again.remark)
                (added,) = re.findall(f"{figure}MPa", hand.remark)
                (in_us,) = re.findall(f"{figure}ksi", again.remark)
                assert float(in_us) == pytest.approx(float(added) / KSI, abs=0.05 + 0.5 / KSI)
                assert in_us[0] == added[0] in "+-"
    assert remarks
