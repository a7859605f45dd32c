import math
from dataclasses import replace

import pytest

from contactfe.case.display import US
from contactfe.case.grades import ThicknessError
from contactfe.case.steels import grades, steel, widest
from contactfe.errors import InputError

KSI = 1000 * 0.45359237 * 9.80665 / 25.4**2  # MPa; exact definitions, common practice, no source
INCH = 25.4

# EN 10025-2, Table 7, minimum yield strength in MPa (seen in a public copy).
EN_10025_LIMITS = [16, 40, 63, 80, 100, 150, 200, 250, 400]
EN_10025 = {
    "S235": [235, 225, 215, 215, 215, 195, 185, 175, 165],
    "S275": [275, 265, 255, 245, 235, 225, 215, 205, 195],
    "S355": [355, 345, 335, 325, 315, 295, 285, 275, 265],
}


# The minimum tensile strength there: up to 100, 150, 250 and 400 mm (seen in the same copy).
EN_10025_ULTIMATE_LIMITS = [100, 150, 250, 400]
EN_10025_ULTIMATE = {
    "S235": [360, 350, 340, 330],
    "S275": [410, 400, 380, 380],
    "S355": [470, 450, 450, 450],
}


@pytest.mark.parametrize("grade", EN_10025)
def test_every_band_holds_from_just_over_one_limit_up_to_the_next(grade):
    over = 0.0
    for limit, strength in zip(EN_10025_LIMITS, EN_10025[grade], strict=True):
        for thickness in (over + 1e-3, limit - 1e-3, limit):
            assert steel(f"EN 10025-2 {grade}", thickness, "plate").yield_strength == strength
        over = limit


@pytest.mark.parametrize("grade", EN_10025_ULTIMATE)
def test_the_ultimate_strength_has_bands_of_its_own(grade):
    over = 0.0
    for limit, strength in zip(EN_10025_ULTIMATE_LIMITS, EN_10025_ULTIMATE[grade], strict=True):
        for thickness in (over + 1e-3, limit):
            assert steel(f"EN 10025-2 {grade}", thickness, "plate").ultimate_strength == strength
        over = limit


# EN 10210-1 by EN 1993-1-1, Table 3.1 (seen): yield and ultimate up to 40 mm and beyond.
@pytest.mark.parametrize(
    ("grade", "thin", "thick"),
    [
        ("S235H", (235, 360), (215, 340)),
        ("S275H", (275, 430), (255, 410)),
        ("S355H", (355, 510), (335, 490)),
    ],
)
def test_hollow_sections_lose_strength_over_40_mm(grade, thin, thick):
    assert _strengths(f"EN 10210-1 {grade}", 40.0) == thin
    assert _strengths(f"EN 10210-1 {grade}", 40.1) == thick
    assert _strengths(f"EN 10210-1 {grade}", 80.0) == thick


def _strengths(name: str, wall: float) -> tuple[float, float | None]:
    found = steel(name, wall, "tube")
    return found.yield_strength, found.ultimate_strength


# EN 10210-1 itself (from memory, not seen): yield and ultimate up to each wall.
@pytest.mark.parametrize(
    ("wall", "strengths"),
    [
        (16.0, (355, 470)),
        (40.0, (345, 470)),
        (63.0, (335, 470)),
        (80.0, (325, 470)),
        (100.0, (315, 470)),
        (120.0, (295, 450)),
    ],
)
def test_hollow_sections_by_the_bands_of_their_own_standard(wall, strengths):
    assert _strengths("EN 10210-1 S355H product bands", wall) == strengths


# ASTM minimum yield and tensile strengths, ksi: seen, but A500-21 Gr B from memory, not seen.
@pytest.mark.parametrize(
    ("name", "product", "inches", "yield_ksi", "ultimate_ksi"),
    [
        ("ASTM A36", "plate", 8, 36, 58),
        ("ASTM A36", "plate", 8.01, 32, 58),
        ("ASTM A36", "solid", 6, 36, 58),
        ("ASTM A572 Gr 50", "plate", 4, 50, 65),
        ("ASTM A992", "plate", 2, 50, 65),
        ("ASTM A500 Gr B round", "tube", 0.5, 42, 58),
        ("ASTM A500 Gr C round", "tube", 0.5, 46, 62),
        ("ASTM A500-21 Gr B", "tube", 0.5, 46, 58),
        ("ASTM A500-21 Gr C", "tube", 0.5, 50, 62),
        ("ASTM A53 Gr B", "tube", 0.5, 35, 60),
        ("ASTM A106 Gr B", "tube", 0.5, 35, 60),
        ("ASTM A106 Gr C", "tube", 0.5, 40, 70),
        ("ASTM A1085", "tube", 0.5, 50, 65),
    ],
)
def test_american_steels(name, product, inches, yield_ksi, ultimate_ksi):
    found = steel(name, inches * INCH, product)
    assert found.name == name
    assert found.yield_strength == pytest.approx(yield_ksi * KSI, rel=1e-12)
    assert found.ultimate_strength == pytest.approx(ultimate_ksi * KSI, rel=1e-12)
    assert found.young == pytest.approx(29000 * KSI, rel=1e-12)  # AISC 360, Table B4.1b
    assert found.poisson == 0.3


# AISC 360-22, B4.2 (seen in a public copy): the nominal wall of A1085, 0.93 of that of every other
# standard for hollow sections or pipe. Grades of bar and plate make tubes that are bored.
def test_the_share_of_the_wall_that_counts_in_tubes():
    for grade in grades():
        rolled = set(grade.largest) == {"tube"} and grade.name != "ASTM A1085"
        for product in grade.largest:
            share = 0.93 if rolled else 1.0
            assert steel(grade.name, 10.0, product).design_wall == share, (grade.name, product)
    assert steel("ASTM A106 Gr B", 10.0, "tube").design_wall == 0.93
    tubes = next(grade for grade in grades() if grade.name == "ASTM A53 Gr B")
    bored = replace(tubes, largest={"solid": 100.0})
    assert bored.material(50.0, "solid").design_wall == 1.0


# ASTM A434-04, Table 1, A193 B7 and EN 10083-3 +QT (seen): diameter up to which, yield, tensile.
BARS = {
    "ASTM A434 BB": [(1.5, 90, 110), (2.5, 80, 105), (4, 75, 100), (7, 75, 95), (9.5, 65, 90)],
    "ASTM A434 BC": [(1.5, 110, 130), (2.5, 105, 125), (4, 95, 115), (7, 85, 110), (9.5, 80, 105)],
    "ASTM A434 BD": [
        (1.5, 130, 155), (2.5, 120, 150), (4, 110, 140), (7, 105, 135), (9.5, 100, 130),
    ],
    "ASTM A193 B7": [(2.5, 105, 125), (4, 95, 115), (7, 75, 100)],
    "ASTM A572 Gr 42": [(6, 42, 60)],
    "EN 10083-3 42CrMo4+QT": [
        (16, 900, 1100), (40, 750, 1000), (100, 650, 900), (160, 550, 800), (250, 500, 750),
    ],
}  # fmt: skip


@pytest.mark.parametrize("name", BARS)
def test_heavy_bars_by_their_diameter(name):
    length, strength = (1.0, 1.0) if name.startswith("EN") else (INCH, KSI)
    over = 0.0
    for limit, fy, fu in BARS[name]:
        for diameter in (over + 1e-3, limit):
            found = steel(name, diameter * length, "solid")
            assert found.yield_strength == pytest.approx(fy * strength)
            assert found.ultimate_strength == pytest.approx(fu * strength)
            assert found.other_material is (name != "ASTM A572 Gr 42")
        over = limit
    with pytest.raises(ThicknessError):
        steel(name, 1.01 * over * length, "solid")
    with pytest.raises(InputError, match="not as tube"):
        steel(name, 20.0, "tube")


def test_a_tube_wider_than_its_standard_covers():
    assert widest("ASTM A500-21 Gr C") == pytest.approx(88 * INCH / math.pi, rel=1e-4)
    assert widest("ASTM A53 Gr B") == widest("of my own") == math.inf


def test_a_wall_thicker_than_a500_makes_is_refused():
    for name, largest in (("ASTM A500 Gr C round", 0.875), ("ASTM A500-21 Gr C", 1.0)):
        assert steel(name, largest * INCH, "tube").yield_strength > 0.0
        with pytest.raises(ThicknessError, match="listed as tube up to"):
            steel(name, 1.01 * largest * INCH, "tube")


def test_european_constants_and_source():
    found = steel("EN 10025-2 S355", 150.0, "solid")
    # EN 1993-1-1, 3.2.6 (values seen in public data, clause from memory)
    assert (found.young, found.poisson) == (210e3, 0.3)
    assert found.source == (
        "EN 10025-2 S355: Table 7 (seen, edition not recorded), row for over 100 mm; "
        "elastic constants: EN 1993-1-1, 3.2.6 (values seen, clause from memory)"
    )


@pytest.mark.parametrize("name", ["ASTM A500-21 Gr B", "EN 10210-1 S275H product bands"])
def test_what_nobody_has_seen_says_so(name):
    assert "from memory, not seen" in steel(name, 20.0, "tube").source.split(";")[0]


@pytest.mark.parametrize("grade", grades(), ids=lambda grade: grade.name)
def test_thicker_is_never_stronger_and_no_steel_breaks_before_it_yields(grade):
    yields = [band.yield_strength for band in grade.bands]
    ultimates = [band.ultimate_strength for band in grade.bands]
    assert yields == sorted(yields, reverse=True)
    assert ultimates == sorted(ultimates, reverse=True)
    assert all(fy < fu for fy, fu in zip(yields, ultimates, strict=True))
    overs = [band.over for band in grade.bands]
    assert overs[0] == 0.0
    assert overs == sorted(set(overs))
    assert overs[-1] < max(grade.largest.values())


def test_the_greatest_thickness_that_is_listed_survives_rounding():
    # As of a wall found from outside diameter and bore.
    for size in (4 * INCH * (1 + 1e-12), 4 * INCH):
        assert steel("ASTM A572 Gr 50", size, "plate").yield_strength == pytest.approx(50 * KSI)
    with pytest.raises(InputError, match=r"up to 101\.6 mm thick, not 101\.7 mm"):
        steel("ASTM A572 Gr 50", 101.7, "plate")


def test_a_limit_in_inches_survives_rounding():
    assert steel("ASTM A36", 8 * INCH * (1 + 1e-12), "plate").yield_strength > 35 * KSI


@pytest.mark.parametrize(
    ("name", "thickness", "product", "message"),
    [
        # Over 250 mm the table lists flat products only.
        (
            "EN 10025-2 S355",
            300.0,
            "solid",
            '"EN 10025-2 S355" is listed as solid up to 250 mm thick, not 300 mm',
        ),
        ("EN 10025-2 S355", 400.1, "plate", "up to 400 mm thick, not 400.1 mm"),
        ("EN 10210-1 S355H", 80.1, "tube", "as tube up to 80 mm thick, not 80.1 mm"),
        ("ASTM A572 Gr 50", 110.0, "plate", "up to 101.6 mm thick, not 110 mm"),
        (
            "ASTM A1085",
            150.0,
            "solid",
            '"ASTM A1085" is listed as tube, not as solid; name another steel',
        ),
        ("EN 10210-1 S355H", 20.0, "plate", "is listed as tube, not as plate"),
    ],
)
def test_refuses_what_the_standard_does_not_list(name, thickness, product, message):
    with pytest.raises(InputError) as refusal:
        steel(name, thickness, product)
    assert message in str(refusal.value)


def test_an_unknown_steel_lists_all_the_known():
    with pytest.raises(InputError) as refusal:
        steel("St 52", 20.0, "plate")
    assert str(refusal.value) == (
        'is not a known steel; allowed: "EN 10025-2 S235", "EN 10025-2 S275", "EN 10025-2 S355", '
        '"EN 10210-1 S235H", "EN 10210-1 S275H", "EN 10210-1 S355H", '
        '"EN 10210-1 S235H product bands", "EN 10210-1 S275H product bands", '
        '"EN 10210-1 S355H product bands", "ASTM A36", "ASTM A572 Gr 50", "ASTM A572 Gr 42", '
        '"ASTM A992", '
        '"ASTM A500 Gr B round", "ASTM A500 Gr C round", "ASTM A500-21 Gr B", '
        '"ASTM A500-21 Gr C", "ASTM A53 Gr B", "ASTM A1085", "ASTM A106 Gr B", "ASTM A106 Gr C", '
        '"ASTM A434 BB", "ASTM A434 BC", "ASTM A434 BD", "ASTM A193 B7", '
        '"EN 10083-3 42CrMo4+QT"'
    )


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("astm a36", '"ASTM A36"'),
        ("S355H", '"EN 10210-1 S355H" or "EN 10210-1 S355H product bands"'),
        ("A572 Gr. 50", '"ASTM A572 Gr 50"'),
    ],
)
def test_a_steel_written_otherwise_is_recognised_and_named(written, meant):
    with pytest.raises(InputError, match=f"did you mean {meant}\\?"):
        steel(written, 20.0, "plate")


def test_the_row_of_a_source_is_in_the_units_of_the_case():
    """Table 7 of EN 10025-2 steps at 63 mm, 2.4803 in."""
    assert "row for over 63 mm;" in steel("EN 10025-2 S355", 70.0, "plate").source
    found = steel("EN 10025-2 S355", 70.0, "plate", units=US).source
    assert "row for over 2.4803 in;" in found
    assert "row for over 0 in;" in steel("EN 10025-2 S355", 5.0, "plate", units=US).source
