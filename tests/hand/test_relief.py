"""The best wall and its relief by formula, against the table of solves that they are fitted to."""

import csv
from importlib.resources import files
from math import pi, sqrt

import pytest
from forms import evaluate

from contactfe.hand import flexure, hertz, relief
from contactfe.hand.formula import OutOfRangeWarning


def rows() -> list[dict[str, str]]:
    text = files("contactfe").joinpath("docs", "relief_chart.csv").read_text("utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


FINITE = [row for row in rows() if row["c/D"] != "long"]
SIZES = [(float(row["a/R"]), 1.0, 2.0 * float(row["c/D"])) for row in FINITE]


def test_the_table_covers_the_range_of_the_formulas():
    loads, lengths = ({float(row[key]) for row in FINITE} for key in ("a/R", "c/D"))
    assert (min(loads), max(loads)) == (relief.NARROWEST, relief.WIDEST)
    assert (min(lengths), max(lengths)) == (relief.SHORTEST, relief.LONGEST)
    assert len(FINITE) == len(loads) * len(lengths)


@pytest.mark.parametrize(("row", "sizes"), list(zip(FINITE, SIZES, strict=True)))
def test_formulas_keep_to_the_table_as_closely_as_they_say(row, sizes):
    assert relief.best_wall.plain(*sizes) == pytest.approx(float(row["wall/R"]), rel=0.0065)
    saved = relief.relief_of_best_wall.plain(*sizes)
    assert saved == pytest.approx(float(row["relief"]), abs=4.5e-3)


def test_a_wall_of_the_formula_is_as_good_as_the_best():
    for row, sizes in zip(FINITE, SIZES, strict=True):
        wall = relief.best_wall.plain(*sizes)
        assert float(row["thinnest/R"]) < wall < float(row["thickest/R"])


@pytest.mark.parametrize(
    ("product", "shares"), [(relief.MOST_SHEAR, (0.84, 1.01)), (0.08, (0.99, 1.19))]
)
def test_shear_of_the_post_is_as_much_as_the_contact_at_the_limit(product, shares):
    """That of a post of radius 1 that carries the force to one root, by the formulas by hand."""
    E_star = 1.0
    for long, share in zip((1.0, 4.0), shares, strict=True):
        narrow = product / long
        load = pi * narrow**2 * E_star / 4.0
        contact, _ = hertz.peak_von_mises.plain(narrow * E_star / 2.0, 0.3, "plane strain")
        sizes = narrow, 1.0, 2.0 * long
        bore = 2.0 * (1.0 - relief.best_wall.plain(*sizes))
        shear = flexure.tube_shear_stress.plain(load * 2.0 * long, 2.0, bore, 0.3)
        peak = contact * (1.0 - relief.relief_of_best_wall.plain(*sizes))
        assert sqrt(3.0) * shear / peak == pytest.approx(share, abs=0.01)


@pytest.mark.parametrize("formula", [relief.best_wall, relief.relief_of_best_wall])
def test_form_and_scale(formula):
    worked = formula.worked(1.5, 75.0, 150.0)
    assert worked.within_range
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert formula(3.0, 150.0, 300.0) == pytest.approx(worked.value, rel=1e-12)


@pytest.mark.parametrize("formula", [relief.best_wall, relief.relief_of_best_wall])
@pytest.mark.parametrize(
    ("sizes", "what"),
    [
        ((0.3, 75.0, 150.0), "a/R"),
        ((6.1, 75.0, 75.0), "a/R"),
        ((1.5, 75.0, 74.0), "c/D"),
        ((0.75, 75.0, 601.0), "c/D"),
        ((1.5, 75.0, 500.0), r"\(a/R\)·\(c/D\), by the shear of the post"),
    ],
)
def test_beyond_the_range_of_the_solves(formula, sizes, what):
    """Each limit alone: D is 150 mm."""
    with pytest.warns(OutOfRangeWarning, match=rf"outside its range, {what} = "):
        formula(*sizes)
    assert len(formula.worked(*sizes).exceeded) == 1


def test_limits_for_contacts_without_end():
    """A contact that grows longer comes to the wall and the relief of one that is long."""
    for formula in (relief.best_wall, relief.relief_of_best_wall):
        long = [float(formula.plain(1.5, 75.0, 150.0 * times)) for times in (4.0, 40.0, 400.0)]
        assert long[1] == pytest.approx(long[0], rel=0.02)
        assert long[2] == pytest.approx(long[1], rel=0.002)
