"""Every kind of result goes through JSON, in Python's own numbers and booleans, whatever the case.

Cases are drawn over all tables. What has to be solved is solved for few of them, and small.
"""

import json
from dataclasses import asdict
from pathlib import Path

from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.compare import compare
from contactfe.assess.envelope import envelope
from contactfe.assess.impact import impact_force
from contactfe.assess.sizing.answers import bands, best, chosen, ratio
from contactfe.assess.sizing.candidates import catalogue, wall
from contactfe.assess.sizing.judge import Levels, Pair, judge
from contactfe.assess.sizing.record import Diameter, SizingResult, StockAnswer
from contactfe.assess.sizing.trial import attempt, checks_at
from contactfe.assess.stiffness import stiffness
from contactfe.assess.sweep.run import prepare, solve_samples
from contactfe.case import case_from_dict
from contactfe.case.sizing import CHECKS, Walls
from contactfe.case.specimen import specimen
from contactfe.errors import ContactfeError, InputError
from contactfe.report.document import document
from contactfe.report.envelope import envelope_document
from contactfe.report.hand_document import hand_document
from contactfe.report.impact import impact_document
from contactfe.report.scale_document import scale_document
from contactfe.report.sizing import sizing_document
from contactfe.report.stiffness import stiffness_document
from contactfe.report.verification import verification_document
from contactfe.verify import run_all
from contactfe.verify.rows import rows

STEEL = {"young": "205 GPa", "poisson": 0.3, "yield": "620 MPa", "ultimate": "750 MPa"}
GRADE = {
    "young": "205 GPa", "poisson": 0.3, "over": ["0 mm", "40 mm"], "yield": ["620 MPa", "560 MPa"],
    "ultimate": ["750 MPa", "700 MPa"], "largest": "300 mm", "source": "the certificate",
}  # fmt: skip
MOTION = {
    "motion": {
        "gap": "300 mm", "mass": "20 t", "displacement": "450 mm", "period": "3 s",
        "bumper_mass": "3 t",
        "damper": [{"force": "10 kN", "at_velocity": "1 m/s", "exponent": 0.4}],
    },
    "contact_law": {"law": "linear", "stiffness": "4 kN/mm"},
    "load": {"contact_length": "300 mm"},
}  # fmt: skip
SLIPS = {
    "title": "Invented stop in partial slip",
    "post": {"held_by": "beam shear", **STEEL},
    "plate": {"width": "200 mm", "thickness": "60 mm", "held_by": "rigid base", **STEEL},
    "load": {"line_load": "1200 N/mm"},
    "contact": {"friction": 0.1},
    "section": [{"name": "tube", "outside_diameter": "150 mm", "wall": "12 mm"}],
}
"""Its contact sticks in one place and slips in another, and two meshes differ by more there than is
stated at least: by so much that the difference counts."""


@st.composite
def tables(draw) -> dict:
    """The tables of a case that can be read: of every kind, present or not."""

    def one(*of):
        return draw(st.sampled_from(of))

    plate = {"width": one("300 mm", "400 mm"), "thickness": "60 mm", **STEEL}
    plate["held_by"] = one("rigid base", "simply supported", "clamped", "elastic supports")
    if plate["held_by"] == "elastic supports":
        plate["spring"] = "6 kN/mm/mm"
    section = {"name": "one", "outside_diameter": "150 mm"} | one(
        {}, {"wall": "30 mm"}, {"wall": "20 mm", "infill": {"young": "30 GPa", "poisson": 0.2,
                                                            "density": "2400 kg/m3"}},
    )  # fmt: skip
    data = {
        "title": "Invented stop",
        "post": {"held_by": one("beam shear", "diametral"), **one(STEEL, {"steel": "bar"})},
        "grade": {"bar": GRADE},
        "plate": plate,
        "load": one({"line_load": "900 N/mm"}, {"force": "240 kN", "contact_length": "300 mm"}),
        "contact": {"offset": one("0 mm", "-20 mm"), "friction": one(0.0, 0.1, 0.3)},
        "standards": {"apply": ["AISC", "AASHTO", "EN"], "method": one("LRFD", "ASD")},
        "model": {"state": one("plane strain", "plane stress")},
        "report": {"units": one("SI", "US customary")},
        "check": {"yield_margin": one(1.0, 1.5)},
        "section": [section],
    }
    if data["post"]["held_by"] == "beam shear" and draw(st.booleans()):
        data["contact"]["angle"] = one("10 deg", "-25 deg")
    if draw(st.booleans()):
        weld = {"weld_throat": "10 mm", "electrode_strength": "490 MPa"}
        data["cantilever"] = {"length": one("250 mm", "500 mm")} | one({}, weld)
        data["load"] = {"force": "240 kN", "contact_length": "300 mm"}
    if draw(st.booleans()) and data["post"]["held_by"] == "beam shear":
        length = {k: v for k, v in data["load"].items() if k == "contact_length"}
        data["corner"] = {"force": "90 kN", **length} if length else {"line_load": "300 N/mm"}
        data["contact"].pop("angle", None)
    return data


def read(data):
    """The case of these tables, or None where they do not go together."""
    try:
        return case_from_dict(data)
    except InputError:
        assume(False)


def leaves(content):
    if type(content) is dict:
        assert all(type(key) is str for key in content)
        content = list(content.values())
    if type(content) in (list, tuple):
        for one in content:
            yield from leaves(one)
    else:
        yield content


def holds(content) -> None:
    """It is of Python's own kinds, and JSON gives it back."""
    for leaf in leaves(content):
        assert type(leaf) in {str, int, float, bool, type(None)}, (leaf, type(leaf))
    back = json.loads(json.dumps(content, allow_nan=False))
    assert list(leaves(back)) == list(leaves(content))


drawn = settings(
    deadline=None, derandomize=True, suppress_health_check=[HealthCheck.filter_too_much]
)
few = settings(drawn, max_examples=1)


@settings(drawn, max_examples=60)
@given(tables())
def test_by_hand(data):
    case = read(data)
    holds(hand_document(by_hand(case)))
    holds([asdict(check) for check in checks_at(case, case.sections[0], 0)])


@settings(drawn, max_examples=20)
@given(tables(), st.sampled_from([0.25, 1 / 3, 1]), st.booleans())
def test_scaled(data, scale, draw_motion):
    data |= {"scale": 0.5, "sizing": {"least_bore": "20 mm"}}
    if "corner" not in data and draw_motion:
        data |= MOTION
    case = read(data)
    holds(scale_document(specimen(case, data, scale, Path())))


@few
@example(SLIPS)
@given(tables())
def test_compared(data):
    case = read(data)
    try:
        found = compare(case)
    except ContactfeError:
        assume(False)
    holds(document(found))


@few
@example(SLIPS)
@given(tables())
def test_enveloped(data):
    data = {key: value for key, value in data.items() if key != "corner"}
    case = read(data | {"envelope": {"friction": [0.1]}})
    try:
        found = envelope(case, processes=1)
    except ContactfeError:
        assume(False)
    holds(envelope_document(found))


@few
@example(SLIPS)
@given(tables())
def test_sized(data):
    """Two walls, of which one is solved on both levels and the other carried over from it."""
    case = read(data)
    bodies = Bodies(case)
    thin, thick = (attempt(case, wall(150.0, share), bodies) for share in (0.08, 0.1))
    assume(not thin.error and not thick.error)
    pairs = [Pair(thin, attempt(case, thin.candidate, bodies, thin)), Pair(thick)]
    walls = tuple(judge(case, pair, Levels(pairs), CHECKS) for pair in pairs)
    closest = best(walls, ratio, lambda _: 0.0)
    found = Diameter(
        outside_diameter=150.0, least_bore=20.0, walls=walls, unchanging_checks=walls[0].checks,
        passing=bands(walls), least_concentration=closest, closest_to_passing=closest,
        load_factor_to_pass=None,
        stock=StockAnswer((), *chosen(())), catalogue=catalogue(150.0),
    )  # fmt: skip
    holds(sizing_document(SizingResult(case, Walls(), CHECKS, 1, (found,), 2, 1, (), ())))


@settings(drawn, max_examples=20)
@given(tables())
def test_impact(data):
    data = {key: value for key, value in data.items() if key != "corner"}
    case = read(data | MOTION)
    try:
        found = impact_force(case)
    except ContactfeError:
        assume(False)
    holds(impact_document(found))


@few
@example(SLIPS | {"load": {"force": "240 kN", "contact_length": "300 mm"}})
@given(tables())
def test_followed(data):
    data = {key: value for key, value in data.items() if key != "corner"}
    case = read(data | {"contact": {"friction": 0.0}})
    try:
        found = stiffness(case)
    except ContactfeError:
        assume(False)
    holds(stiffness_document(found))


@few
@example(SLIPS)
@given(tables())
def test_swept(data):
    over = {"plate.thickness": ["50 mm"]}
    try:
        prepared = prepare(data | {"sweep": {"over": over, "levels": 2}})
    except InputError:
        assume(False)
    holds([asdict(sample) for sample in solve_samples(prepared, processes=1)])


def test_verified():
    """Of the rows those by hand, which are quick."""
    quick = [row for row in rows() if row.kind in {"hand formula", "standard"}]
    holds(verification_document(list(run_all(quick))))
