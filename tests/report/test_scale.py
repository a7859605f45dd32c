"""The page of a specimen, its document, its file, and what a comparison tells of it."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from restated import restated
from saying import only, said
from specimens import CORNER

from contactfe.case import case_from_dict, read_case
from contactfe.case.specimen import specimen
from contactfe.errors import InputError
from contactfe.report.at_scale import at_scale, at_scale_json
from contactfe.report.document import document
from contactfe.report.page import WIDEST, as_text
from contactfe.report.scale import CAUTIONS, remarks, scale_page, unscaled_clauses
from contactfe.report.scale_document import scale_document
from contactfe.report.specimen import scaled_number
from contactfe.report.specimen_file import check_new, write_specimen
from contactfe.report.table import comparison_page

DATA = CORNER | {
    "motion": CORNER["motion"]
    | {"damper": [{"force": "900 kN", "at_velocity": "1 m/s", "exponent": a} for a in (0.4, 1.0)]}
}


@pytest.fixture
def found(tmp_path):
    return specimen(case_from_dict(DATA, "stop.toml"), DATA, 0.25, tmp_path)


def _cells(text, key):
    """What stands right of a key, cell by cell."""
    (line,) = (line for line in text.splitlines() if line.startswith(f"{key} "))
    return [cell.strip() for cell in line.removeprefix(key).split("  ") if cell.strip()]


class TestPage:
    def test_each_quantity_stands_beside_that_of_the_specimen(self, found):
        text = as_text(scale_page(found), WIDEST)
        assert text.startswith("Invented stop, specimen 1:4\n")
        expected = {
            "[plate] width": ["400 mm", "100 mm", "0.2500", "S"],
            "[plate] spring": ["4 kN/mm/mm", "4 kN/mm/mm", "1.000", "1"],
            "[load] force": ["90 kip", "5.625 kip", "0.06250", "S²"],
            "[corner] line_load": ["300 N/mm", "75 N/mm", "0.2500", "S"],
            "[motion] velocity": ["0.7 m/s", "0.35 m/s", "0.5000", "√S"],
            "[motion] mass": ["2000 t", "125 t", "0.06250", "S²"],
            "[contact_law] stiffness": ["500 kN/mm", "125 kN/mm", "0.2500", "S"],
            "[grade.bar] over": ["0 mm, 40 mm", "0 mm, 10 mm", "0.2500", "S"],
            'section 1 "solid", outside_diameter': ["150 mm", "37.5 mm", "0.2500", "S"],
        }
        for key, cells in expected.items():
            assert _cells(text, key) == cells

    def test_the_factors_of_results_and_of_each_damper(self, found):
        text = as_text(scale_page(found), WIDEST)
        assert _cells(text, "stress, pressure, yield strength") == ["1.000", "1"]
        assert _cells(text, "energy") == ["0.01562", "S³"]
        assert _cells(text, "frequency") == ["2.000", "1/√S"]
        damper = "damper coefficient C of F = C·v^α, α = "
        assert _cells(text, f"{damper}0.4") == ["0.08247", "S^(2 − α/2)"]
        assert _cells(text, f"{damper}1") == ["0.1250", "S^(2 − α/2)"]

    def test_it_says_what_does_not_scale_and_what_is_made_otherwise(self, found):
        page = scale_page(found)
        for text in (*CAUTIONS, *remarks(found)):
            assert only(page, text)
        assert said(remarks(found), "S355", "thickness")
        assert "from memory, not seen" in as_text(page, WIDEST)

    def test_without_a_damper_the_rule_stands_alone(self):
        case = case_from_dict(CORNER)
        text = as_text(scale_page(specimen(case, CORNER, 0.5, Path())), WIDEST)
        assert _cells(text, "damper coefficient C of F = C·v^α, for any α") == ["S^(2 − α/2)"]


def test_the_document_tells_the_same(found):
    content = json.loads(json.dumps(scale_document(found), allow_nan=False))
    assert (content["scale"], content["ratio"]) == (0.25, "1:4")
    stated = {tuple(row["place"]): row for row in content["stated"]}
    assert stated["motion", "mass"] == {
        "place": ["motion", "mass"], "dimension": "mass", "prototype": "2000 t",
        "specimen": "125 t", "factor": 1 / 16, "rule": "S²",
    }  # fmt: skip
    factors = {row["dimension"]: (row["factor"], row["rule"]) for row in content["factors"]}
    assert factors["time"] == (0.5, "√S")
    assert [row["exponent"] for row in content["damper_coefficients"]] == [0.4, 1.0]


class TestFile:
    def test_it_reads_back_and_says_in_front_what_it_is(self, found, tmp_path):
        path = tmp_path / "specimen.toml"
        write_specimen(found, path)
        lines = path.read_text("utf-8").splitlines()
        assert "1:4 of stop.toml" in lines[0]
        assert all(f"# {text}" in lines for text in CAUTIONS)
        case = read_case(path)
        assert (case.title, case.scale) == ("Invented stop, specimen 1:4", None)
        assert case.motion.mass == 125.0

    def test_a_file_that_is_there_is_left_alone(self, found, tmp_path):
        path = tmp_path / "specimen.toml"
        path.write_text("mine")
        for write in (check_new, lambda p: write_specimen(found, p)):
            with pytest.raises(InputError, match=r"--write .*specimen\.toml: is there"):
                write(path)
        assert path.read_text() == "mine"

    def test_a_folder_that_is_not_there_is_named(self, tmp_path):
        with pytest.raises(InputError, match="there is no folder"):
            check_new(tmp_path / "none" / "specimen.toml")


class TestComparison:
    """Solved once; the scale changes what is said of it and nothing else."""

    def test_prototype_and_specimen_stand_one_above_the_other(self, us):
        scaled = replace(us, case=restated(us.case, scale=0.25, contact_length=200.0))
        text = as_text(at_scale(scaled, scaled.sections), WIDEST)
        assert text.startswith("At test scale 1:4")
        assert max(map(len, text.splitlines())) <= WIDEST
        solid = us.sections[0]
        rows = [line.split() for line in text.splitlines() if "prototype" in line or "1:4" in line]
        big = rows[1][rows[1].index("prototype") + 1 :]
        small = rows[2][rows[2].index("1:4") + 1 :]
        # Ø, line load, force, half-width, approach, then three stresses; a solid has no wall.
        assert len(big) == len(small) == 8
        for one, other, by in zip(big, small, [4, 4, 16, 4, 4, 1, 1, 1], strict=True):
            assert float(other) == pytest.approx(float(one) / by, rel=2e-4)
        assert float(big[0]) == pytest.approx(120 / 25.4, rel=1e-4)
        assert float(big[2]) == pytest.approx(1200 * 200 / 4448.22, rel=1e-3)
        assert float(big[3]) == pytest.approx(solid.half_width.value / 25.4, rel=1e-4)
        assert float(big[6]) == pytest.approx(
            solid.member.peak_von_mises.value / 6.894757, abs=0.06
        )

    def test_without_a_scale_there_is_nothing(self, comparison):
        assert list(at_scale(comparison, comparison.sections)) == []
        assert at_scale_json(comparison) is None
        assert document(comparison)["specimen"] is None
        assert "At test scale" not in as_text(comparison_page(comparison), WIDEST)

    def test_page_and_document_have_it(self, comparison):
        scaled = replace(comparison, case=replace(comparison.case, scale=0.25))
        assert "At test scale 1:4" in as_text(comparison_page(scaled), WIDEST)
        found = document(scaled)["specimen"]
        tube = comparison.sections[1]
        assert (found["scale"], found["ratio"]) == (0.25, "1:4")
        assert found["sections"][0]["wall"] is None
        assert found["sections"][0]["force"] is None
        of = found["sections"][1]
        assert (of["name"], of["outside_diameter"], of["wall"]) == (tube.section.name, 30.0, 5.0)
        assert of["line_load"] == 300.0
        assert of["half_width"] == tube.half_width.value / 4
        assert of["approach"] == tube.approach.value / 4
        assert of["peak_contact_pressure"] == tube.peak_contact_pressure.value
        assert of["peak_von_mises"] == tube.member.peak_von_mises.value
        assert of["peak_von_mises_plate"] == tube.plate.peak_von_mises.value


def test_a_figure_of_the_specimen_in_the_unit_shown(us):
    assert scaled_number(4448.2216152605 * 64, "force", 0.25, us.case.display) == "4.000"
    assert scaled_number(0.65, None, 0.25, us.case.display) == "0.6500"


class TestClauses:
    """AISC 360 J7 for rollers is the one clause whose strength has a root of the diameter in it."""

    @staticmethod
    def said(*diameters, units="SI", scale=0.25, apply=("AISC", "EN")):
        data = CORNER | {
            "report": {"units": units},
            "standards": {"apply": list(apply)},
            "section": [{"name": d, "outside_diameter": d, "wall": "40 mm"} for d in diameters],
        }
        return " ".join(unscaled_clauses(case_from_dict(data), scale))

    @pytest.mark.parametrize(
        ("units", "large", "small", "bound"),
        [("SI", "700 mm", "630 mm", "630 mm"), ("US customary", "28 in", "25 in", "25 in")],
    )
    def test_a_section_above_the_bound_is_named_with_what_its_ratio_becomes(
        self, units, large, small, bound
    ):
        text = self.said(large, small, units=units)
        assert f"“{large}”" in text
        assert f"“{small}”" not in text
        assert f" {bound} " in text

    def test_the_share_is_that_of_the_two_forms(self):
        # By hand: q S / (1.2 S d) over q / (30.2 √d), d = 900 mm, so 30.2/(1.2 √900).
        assert only(self.said("900 mm"), f" {30.2 / (1.2 * 30):.3f} of", "“900 mm”")
        # Both above: √S.
        assert " 0.866 of" in self.said("900 mm", scale=0.75)

    def test_it_is_silent_where_the_clause_scales_or_is_not_applied(self):
        assert self.said("150 mm") == ""
        assert self.said("900 mm", apply=("EN",)) == ""

    def test_page_document_and_file_say_it(self, tmp_path):
        data = CORNER | {"section": [{"name": "big", "outside_diameter": "220 mm"}]}
        case = case_from_dict(data, "stop.toml")
        big = replace(case, sections=(replace(case.sections[0], outside_diameter=900.0),))
        found = replace(specimen(case, data, 0.5, tmp_path), case=big)
        (clause,) = unscaled_clauses(big, 0.5)
        assert "J7(b)" in clause
        assert only(scale_page(found), clause)
        assert clause in scale_document(found)["remarks"]
        write_specimen(found, tmp_path / "s.toml")
        assert "# AISC 360, J7(b)" in (tmp_path / "s.toml").read_text("utf-8")
