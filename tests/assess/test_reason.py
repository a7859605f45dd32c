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
    assert "A thinner wall bends more: in “150 x 20” ring bending adds -239 MPa" in text


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
