"""A stated contact law beside the contact that was solved: by energy, and what it leaves open."""

from dataclasses import replace

import pytest
from alignments import bent, case
from motions import moving

from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.compare import compare
from contactfe.assess.open_items import open_items
from contactfe.assess.softness import softness
from contactfe.hand import cantilever

MOTION = {
    "gap": "300 mm", "mass": "2000 t", "displacement": "450 mm", "period": "3 s",
}  # fmt: skip


def law(stiffness, **other):
    return {"contact_law": {"law": "linear", "stiffness": f"{stiffness} N/mm"} | other}


@pytest.fixture(scope="module")
def solved():
    of = moving(load={"force": "700 kN", "contact_length": "1200 mm"})
    return compare(of)


def stiffness_of(comparison):
    """Secant of the first section's contact at the load, N/mm."""
    section = comparison.sections[0]
    return section.line_load * comparison.case.contact_length / section.approach.value


def law_item(of, found):
    items = open_items(of, of.sections, (), (), found)
    return next((item for item in items if item.key == "law"), None)


@pytest.mark.parametrize(("softer", "said"), [(0.5, False), (1.0, False), (1.2, True)])
def test_a_law_is_held_against_the_contact_by_the_energy_up_to_the_load(solved, softer, said):
    # F²/(2k) of a spring as stiff as the secant is half of F through its approach.
    of = moving(
        load={"force": "700 kN", "contact_length": "1200 mm"},
        **law(stiffness_of(solved) / softer),
    )
    found = softness(of, solved.sections)
    assert found[solved.sections[0].section.name] == pytest.approx(softer, rel=1e-9)
    # Open it is whatever it is: that a law is hard enough is not known without the contact's own.
    assert law_item(of, found).why == (max(found.values()) if said else None)


def test_the_bending_of_the_post_is_in_the_energy_where_it_shares_the_load():
    # By hand: a cantilever under an even load. The governing tilt moves the force nearer its root.
    (section,) = bent().sections
    of = case(motion=MOTION, **law(1e6))
    with_post, alone = (
        150e3**2 / 2e6 / softness(of, [one])[section.section.name]
        for one in (section, replace(section, length=None))
    )
    bending = 0.5 * 150e3 * cantilever.deflection.plain(150e3, 450.0, 150.0, 0.0, 210e3, 0.3, 160.0)
    assert with_post - alone == pytest.approx(bending, rel=0.25)


def test_without_a_contact_solved_a_stated_law_is_open_and_the_sections_own_is_not():
    assert law_item(moving(), None).why is None
    assert "law" in {item.key for item in by_hand(moving()).open_items}
    own = moving(
        contact_law={"law": "section"}, load={"force": "700 kN", "contact_length": "1200 mm"}
    )
    assert law_item(own, None) is None
    assert softness(own, ()) == {}


def test_the_softest_law_counts_and_sections_that_none_was_held_against_are_open():
    of = moving()
    assert law_item(of, {"a": 2.0, "b": 3.0, "c": 1.0}).why == 3.0
    assert law_item(of, {}).why is None  # as in a corner
    assert law_item(moving(load={"line_load": "9 kN/mm"}), {}) is None  # no force follows


def test_in_a_corner_the_law_is_held_against_no_contact(solved):
    load = {"force": "700 kN", "contact_length": "1200 mm"}
    assert softness(moving(load=load), solved.sections)
    assert softness(moving(load=load, corner={"line_load": "300 N/mm"}), solved.sections) == {}
