"""The case file of a specimen: it reads back as the specimen of the case."""

import copy
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest
from specimens import CORNER, STATED

from contactfe.case import case_from_dict
from contactfe.case.measured import measured
from contactfe.case.reader import read_tables
from contactfe.case.scaling import scaled
from contactfe.case.specimen import OF_THE_PROTOTYPE, asked_scale, specimen
from contactfe.errors import InputError

ROOT = Path(__file__).parents[2]
CASES = sorted((ROOT / "cases").glob("*.toml"))
STOPS = {ROOT / "stated.toml": STATED, ROOT / "corner.toml": CORNER}


def _specimen(data, scale=0.25, source=ROOT / "stop.toml", folder=ROOT):
    case = case_from_dict(data, str(source))
    return case, specimen(case, data, scale, folder)


def _alike(found, expected, at="case"):
    """The same records, but for the last digits, names of steels and what is said of sources."""
    if is_dataclass(expected):
        assert type(found) is type(expected), at
        for field in fields(expected):
            if field.name not in {"source", "steel", "grades"}:
                inside = f"{at}.{field.name}"
                _alike(getattr(found, field.name), getattr(expected, field.name), inside)
    elif isinstance(expected, tuple):
        assert len(found) == len(expected), at
        for k, (one, other) in enumerate(zip(found, expected, strict=True)):
            _alike(one, other, f"{at}[{k}]")
    elif isinstance(expected, float):
        # Twelve digits are written; a load that follows from a motion is integrated to 1e-10.
        assert found == pytest.approx(expected, rel=1e-9), at
    else:
        assert found == expected, at


class TestTables:
    @pytest.mark.parametrize("source", [*STOPS, *CASES], ids=lambda path: path.stem)
    @pytest.mark.parametrize("scale", [0.25, 0.3])
    def test_they_are_the_specimen_of_the_case(self, source, scale):
        data = STOPS.get(source) or read_tables(source)
        case, found = _specimen(data, scale, source, source.parent)
        read = case_from_dict(found.tables, str(source))
        expected = scaled(case, scale)
        _alike(read, expected)
        for section, small in zip(expected.sections, read.sections, strict=True):
            known = expected.post_material(section)
            made = read.post_material(small)
            _alike(replace(made, name=""), replace(known, name=""))
        _alike(replace(read.plate_material, name=""), replace(expected.plate_material, name=""))

    def test_the_prototypes_tables_are_left_as_they_are(self):
        data = copy.deepcopy(STATED)
        _specimen(data)
        assert data == STATED

    def test_a_mesh_is_named_from_where_the_file_lies(self, tmp_path):
        _, found = _specimen(STATED, folder=tmp_path)
        own = found.tables["section"][3]
        assert not Path(own["mesh"]).is_absolute()
        assert (tmp_path / own["mesh"]).resolve() == ROOT / "meshes" / "ribbed-tube.msh"
        assert own["mesh_unit"] == "0.25 mm"

    def test_what_does_not_change_stays_as_it_was_written(self):
        data = STATED | {"contact": STATED["contact"] | {"angle": "10.00 deg"}}
        assert _specimen(data)[1].tables["contact"]["angle"] == "10.00 deg"

    def test_quantities_keep_their_unit(self):
        _, found = _specimen(STATED)
        assert found.tables["load"] == {"force": "5.625 kip", "contact_length": "3 in"}
        assert found.tables["plate"]["spring"] == "4 kN/mm/mm"
        assert found.tables["section"][2]["outside_diameter"] == "42.06875 mm"


class TestSteels:
    def test_a_steel_by_thickness_becomes_a_grade_of_the_file(self):
        _, found = _specimen(STATED)
        name = f"EN 10025-2 S355, {OF_THE_PROTOTYPE}"
        assert found.tables["post"]["steel"] == name
        assert found.tables["grade"][name]["over"][:3] == ["0 mm", "4 mm", "10 mm"]
        assert found.tables["grade"][name]["yield"][:3] == ["355 MPa", "345 MPa", "335 MPa"]
        assert any("EN 10025-2 S355 goes by thickness" in remark for remark in found.remarks)

    def test_a_steel_that_is_as_strong_when_thin_stays(self):
        _, found = _specimen(STATED)
        assert found.tables["section"][2]["steel"] == "ASTM A106 Gr C"
        assert not any("A106" in remark for remark in found.remarks)

    def test_a_steel_in_one_band_at_both_sizes_stays(self):
        data = copy.deepcopy(CORNER)
        for section in data["section"]:
            section["outside_diameter"] = "15 mm"
            section.pop("bore", None)
            section.pop("infill", None)
        data["post"]["steel"] = data["plate"]["steel"] = "EN 10025-2 S275"
        data["plate"]["thickness"] = "12 mm"
        assert _specimen(data)[1].tables["post"]["steel"] == "EN 10025-2 S275"

    @pytest.mark.parametrize(
        ("post", "plate", "section"),
        [
            ("S355", "S355", None),  # the plate of 12 mm is in one band at both sizes, the bar not
            ("S275", "S275", "S355"),
            ("S355", "S275", "S355"),
        ],
    )
    def test_every_body_keeps_its_strengths(self, post, plate, section):
        data = copy.deepcopy(CORNER)
        data["post"]["steel"] = f"EN 10025-2 {post}"
        data["plate"] |= {"steel": f"EN 10025-2 {plate}", "thickness": "12 mm"}
        if section is not None:
            data["section"][0]["steel"] = f"EN 10025-2 {section}"
        case, found = _specimen(data)
        read = case_from_dict(found.tables)
        for of in (lambda c: c.post_material(c.sections[0]), lambda c: c.plate_material):
            big, small = of(case), of(read)
            assert small.yield_strength == big.yield_strength
            assert small.ultimate_strength == big.ultimate_strength

    def test_bands_of_the_cases_own_grades_are_scaled(self):
        _, found = _specimen(STATED)
        bar = found.tables["grade"]["bar"]
        assert (bar["over"], bar["largest"]) == (["0 mm", "10 mm"], "75 mm")
        assert bar["yield"] == STATED["grade"]["bar"]["yield"]


class TestRemarks:
    def test_what_is_left_out_is_said(self):
        data = STATED | {"sweep": {"over": {"plate.thickness": ["40 mm", "60 mm"]}}}
        _, found = _specimen(data)
        text = " ".join(found.remarks)
        for words in ("“pipe” of the specimen", "lists of stock sizes", "[sweep] is left out"):
            assert words in text
        assert "sweep" not in found.tables
        assert "stock" not in found.tables["sizing"]

    @pytest.mark.parametrize(
        ("changed", "said"),
        [
            ({}, False),  # its built-in steel has the share in the specimen as well
            ({"steel": "bar"}, True),
            ({"steel": "bar", "designation": None, "outside_diameter": "6 in", "wall": "0.8 in"},
             False),  # made to order, of which the whole wall counts
            # Of a built-in steel that goes by thickness the file has a grade of its own.
            ({"steel": "EN 10210-1 S355H", "designation": None, "outside_diameter": "150 mm",
              "wall": "45 mm"}, True),
        ],
    )  # fmt: skip
    def test_a_wall_that_counts_in_part_in_the_prototype_alone(self, changed, said):
        data = copy.deepcopy(STATED)
        pipe = data["section"][2] | changed
        data["section"][2] = {key: value for key, value in pipe.items() if value is not None}
        case, found = _specimen(data)
        read = case_from_dict(found.tables, str(ROOT / "stop.toml"))
        shares = [c.post_material(c.sections[2]).design_wall for c in (case, read)]
        assert (shares[0] < shares[1]) == said
        assert any("B4.2" in remark and "“pipe”" in remark for remark in found.remarks) == said
        unapplied = data | {"standards": {"apply": ["EN"]}}
        assert not any("B4.2" in remark for remark in _specimen(unapplied)[1].remarks)

    def test_nothing_is_said_of_what_is_not_there(self):
        data = {**CORNER, "post": CORNER["post"] | {"steel": "ASTM A106 Gr C"}}
        data["section"] = [
            {"name": "tube", "outside_diameter": "150 mm", "wall": "20 mm"},
        ]
        assert _specimen(data)[1].remarks == ()


class TestMeasured:
    def test_the_places_of_a_file(self):
        found = {q.place: (q.text, q.dimension) for q in measured(STATED)}
        assert found["motion", "damper", 1, "at_velocity"] == ("40 in/s", "velocity")
        assert found["envelope", "offset", "from"] == ("-50 mm", "length")
        assert found["envelope", "angle", 1] == ("0.1 rad", "angle")
        assert found["grade", "bar", "yield", 1] == ("580 MPa", "stress")
        assert found["section", 1, "infill", "density"] == ("2400 kg/m3", "density")
        assert found["sizing", "wall", "to"] == ("40 mm", "length")
        # What is no quantity, though it may look like one, is not among them.
        assert ("title",) not in found
        assert len([place for place in found if place[0] == "section"]) == 7


class TestAskedScale:
    def test_the_commands_comes_before_the_cases(self):
        case = case_from_dict(STATED, str(ROOT / "stop.toml"))
        assert (asked_scale(case, None), asked_scale(case, 0.5)) == (0.25, 0.5)

    def test_none_at_all_is_refused(self):
        case = case_from_dict(CORNER, "here.toml")
        with pytest.raises(InputError, match=r"here.toml: states no scale; write scale = 0.25"):
            asked_scale(case, None)

    @pytest.mark.parametrize("scale", [0.0, 0.009, 1.1, float("nan")])
    def test_one_out_of_bounds_is_refused(self, scale):
        case = case_from_dict(CORNER)
        with pytest.raises(InputError, match=r"--to .*: must be a number from 0.01 to 1"):
            asked_scale(case, scale)
