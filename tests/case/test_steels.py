import pytest

from contactfe.case.steels import steel
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


@pytest.mark.parametrize("grade", EN_10025)
def test_every_band_holds_from_just_over_one_limit_up_to_the_next(grade):
    over = 0.0
    for limit, strength in zip(EN_10025_LIMITS, EN_10025[grade], strict=True):
        for thickness in (over + 1e-3, limit - 1e-3, limit):
            assert steel(f"EN 10025-2 {grade}", thickness, "plate").yield_strength == strength
        over = limit


# EN 10210-1 by EN 1993-1-1, Table 3.1 (seen).
@pytest.mark.parametrize(
    ("grade", "thin", "thick"), [("S235H", 235, 215), ("S275H", 275, 255), ("S355H", 355, 335)]
)
def test_hollow_sections_lose_strength_over_40_mm(grade, thin, thick):
    name = f"EN 10210-1 {grade}"
    assert steel(name, 40.0, "tube").yield_strength == thin
    assert steel(name, 40.1, "tube").yield_strength == thick
    assert steel(name, 80.0, "tube").yield_strength == thick


# ASTM minimum yield strengths, ksi: seen, but A36 over 8 in and A106 from memory, not seen.
@pytest.mark.parametrize(
    ("name", "product", "inches", "ksi"),
    [
        ("ASTM A36", "plate", 8, 36),
        ("ASTM A36", "plate", 8.01, 32),
        ("ASTM A36", "solid", 6, 36),
        ("ASTM A572 Gr 50", "plate", 4, 50),
        ("ASTM A500 Gr B round", "tube", 0.5, 42),
        ("ASTM A500 Gr C round", "tube", 0.5, 46),
        ("ASTM A53 Gr B", "tube", 0.5, 35),
        ("ASTM A106 Gr B", "tube", 0.5, 35),
        ("ASTM A1085", "tube", 0.5, 50),
    ],
)
def test_american_steels(name, product, inches, ksi):
    found = steel(name, inches * INCH, product)
    assert found.name == name
    assert found.yield_strength == pytest.approx(ksi * KSI, rel=1e-12)
    assert found.young == pytest.approx(29000 * KSI, rel=1e-12)  # AISC 360 (from memory, not seen)
    assert found.poisson == 0.3


def test_european_constants_and_source():
    found = steel("EN 10025-2 S355", 150.0, "solid")
    # EN 1993-1-1, 3.2.6 (values seen in public data, clause from memory)
    assert (found.young, found.poisson) == (210e3, 0.3)
    assert found.source == (
        "EN 10025-2 S355: Table 7 (seen, edition not recorded), row for over 100 mm; "
        "elastic constants: EN 1993-1-1, 3.2.6 (values seen, clause from memory)"
    )


def test_what_nobody_has_seen_says_so():
    assert "from memory, not seen" in steel("ASTM A106 Gr B", 20.0, "tube").source.split(";")[0]


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
        '"EN 10210-1 S235H", "EN 10210-1 S275H", "EN 10210-1 S355H", "ASTM A36", '
        '"ASTM A572 Gr 50", "ASTM A500 Gr B round", "ASTM A500 Gr C round", "ASTM A53 Gr B", '
        '"ASTM A1085", "ASTM A106 Gr B"'
    )


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("astm a36", '"ASTM A36"'),
        ("S355H", '"EN 10210-1 S355H"'),
        ("A572 Gr. 50", '"ASTM A572 Gr 50"'),
    ],
)
def test_a_steel_written_otherwise_is_recognised_and_named(written, meant):
    with pytest.raises(InputError, match=f"did you mean {meant}\\?"):
        steel(written, 20.0, "plate")
