import re
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from bodies import case

from contactfe.assess.compare import compare
from contactfe.report.remarks import remark


def reason_of(compared, results, best) -> str:
    """The reason with these in place of the sections, one of them the best."""
    return replace(compared, sections=tuple(results), by_concentration=(best,)).reason


def reason(sections, **changes) -> str:
    return compare(case(sections, **changes)).reason


def test_a_single_section_is_not_compared():
    text = reason([(150.0, None)])
    assert text.startswith("“solid 150” is the only section, K = 46.9.")
    assert "a solid round bends little" in text
    # Hertz has 0.70 for this steel; where stress is flat, the nodes round it to the next of 0.01.
    assert re.search(r"lies in the contact zone, 0\.(69|70|71) half-widths deep", text)
    assert "less than" not in text


def test_without_a_solid_the_next_best_is_the_measure():
    found = compare(case([(150.0, 12.0), (150.0, 30.0), (150.0, 20.0)]))
    text = found.reason
    assert "“150 x 30” has the least stress concentration" in text
    assert "less than “150 x 20”" in text
    assert (
        "A thinner wall bends more: in “150 x 20” ring bending adds 239 MPa of hoop compression,"
        " and what governs" in text
    )
    share = SimpleNamespace(axial=25.0, peak_ratio=1.5)
    bent = replace(found, sections=tuple(replace(r, length=share) for r in found.sections))
    assert (
        "in “150 x 20”, at 1.50 times the mean line load, ring bending adds 239 MPa of hoop"
        " compression and bending of the post 25 MPa of tension along it, and what governs"
        in bent.reason
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
    text = reason([(one, None), (two, 30.0)], held_by="diametral")
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
            in_si, said = (
                remark(of.case, r, check) for of, r, check in ((si, one, hand), (us, other, again))
            )
            assert "MPa" not in said
            if "MPa" in in_si:
                remarks.append(said)
                (added,) = re.findall(f"{figure}MPa", in_si)
                (in_us,) = re.findall(f"{figure}ksi", said)
                assert float(in_us) == pytest.approx(float(added) / KSI, abs=0.05 + 0.5 / KSI)
                assert in_us[0] == added[0] in "+-"
    assert remarks


INFILL = {"young": "30 GPa", "poisson": 0.2, "density": "2300 kg/m3"}


def test_friction_is_not_said_to_be_bending():
    text = reason([(150.0, 25.0)], friction=0.2, angle=20.0)
    assert re.search(r"would give \d+ MPa \(Hertz, full sliding\); bending of the ring adds", text)
    assert "and the peak there is" in text
    for cause in ("lowers", "raises", "leaves"):
        assert cause not in text


def test_a_contact_that_sticks_shares_the_strain_of_the_plate():
    compared = compare(
        case([(150.0, 25.0)], friction=0.4, angle=1.8, plate_held="elastic supports", spring=2e4)
    )
    (r,) = compared.sections
    still, sliding = r.hand_value("hertz_peak_von_mises"), r.hand_value("sliding_peak_von_mises")
    assert sliding > still
    assert r.patch.motion == "partial slip"
    assert (
        f"would give {still:.0f} MPa without friction and {sliding:.0f} MPa in full sliding"
        " (Hertz), and here it is in partial slip; bending of the ring and the plate that sticks"
        " to it add"
    ) in compared.reason


def test_what_an_infill_and_a_core_change_is_told_of_the_same_tube():
    tube = (150.0, 25.0)
    compared = compare(
        case(
            [
                tube,
                (*tube, {"name": "filled", "infill": INFILL}),
                (*tube, {"name": "core", "held_by": "rigid core"}),
                (140.0, 25.0, {"name": "other", "infill": INFILL}),
            ]
        )
    )
    plain, filled, core, _ = compared.sections
    assert compared.least_concentration == "150 x 25"
    for r, what in ((filled, "with an infill"), (core, "on a rigid core")):
        assert (
            f"“{r.section.name}” is the same tube as “150 x 25”, but {what}:"
            f" {abs(r.added_hoop.value):.0f} MPa of hoop"
        ) in compared.reason
        assert (
            f"instead of {abs(plain.added_hoop.value):.0f} MPa of hoop compression, and the peak is"
            f" {r.member.peak.value:.0f} MPa instead of {plain.member.peak.value:.0f} MPa."
        ) in compared.reason
    assert compared.reason.count("the same tube") == 2
    steel = replace(filled.member.material, young=190e3)
    unlike = replace(filled, member=replace(filled.member, material=steel))
    assert "the same tube" not in reason_of(compared, [plain, unlike], "150 x 25")
    lengths = {"length": SimpleNamespace(axial=9.0)}, {"length": SimpleNamespace(axial=25.0)}
    bent = [replace(r, **length) for r, length in zip((plain, filled), lengths, strict=True)]
    assert (
        f"instead of {abs(plain.added_hoop.value):.0f} MPa of hoop compression, bending of the post"
        " adds 25 MPa instead of 9.0 MPa of tension along it, and the peak is"
        in reason_of(compared, bent, "150 x 25")
    )


def test_a_filled_tube_bends_as_one():
    text = reason([(150.0, 25.0, {"name": "filled", "infill": INFILL})])
    assert "bending of the filled tube adds" in text
    text = reason([(150.0, 25.0, {"name": "core", "held_by": "rigid core"})])
    assert "bending of the tube about its rigid core adds" in text


def test_a_section_drawn_elsewhere_is_no_ring():
    compared = compare(case([(150.0, 25.0)]))
    (r,) = compared.sections
    own = replace(r, section=replace(r.section, wall=None, mesh=Path("drawn.msh")))
    text = reason_of(compared, [own], r.section.name)
    assert "bending of the section adds" in text
    assert "ring" not in text


def test_both_contacts_of_a_corner_are_told_of():
    compared = compare(case([(150.0, 25.0)], corner=2000.0))
    (r,) = compared.sections
    first, second = (r.hand_value(f"hertz_peak_von_mises{end}") for end in ("", "_second"))
    assert (
        f"Contact alone would give {first:.0f} MPa (Hertz); bending of the ring under both loads"
        in (compared.reason)
    )
    assert (
        f"Contact alone at the second plate would give {second:.0f} MPa (Hertz)" in compared.reason
    )
    depth = r.member.peak.at.depth / r.patches[1].half_width.value
    assert re.search(
        rf"at the (contact zone|edge of contact) at the second plate, {depth:.2f} half-widths deep",
        compared.reason.replace("in the", "at the"),
    )


def test_a_thinner_wall_is_said_to_bend_more_only_where_it_does():
    compared = compare(case([(150.0, 25.0), (150.0, 20.0)]))
    best, thin = compared.sections

    def said(thin):
        return "A thinner wall bends more" in reason_of(compared, [best, thin], "150 x 25")

    state, patch = thin.reading.state, thin.patch
    bore = tuple(replace(held, place="bore") for held in state.member_reactions)
    held = replace(thin.reading, state=replace(state, member_reactions=bore))
    assert said(thin)
    assert not said(
        replace(thin, values={**thin.values, "added_hoop": replace(thin.added_hoop, value=-1.0)})
    )
    assert not said(replace(thin, patches=(replace(patch, motion="sticking"),)))
    assert not said(replace(thin, reading=held))
