import re
import tomllib
from functools import cache

import pytest
from saying import only

from contactfe.case.steels import grades
from contactfe.case.stock import BORED_BARS, sizes
from contactfe.errors import InputError
from contactfe.report.catalogue import catalogue_answer, catalogue_page
from contactfe.report.page import WIDEST, as_text


@cache
def _page(like: str | None = None) -> str:
    return as_text(catalogue_page(like), WIDEST)


def _cells(text: str, first: str) -> list[str]:
    """The words of the one line that begins so, after that beginning."""
    (line,) = (line for line in text.splitlines() if line.startswith(f"{first} "))
    return line.removeprefix(first).split()


def test_the_samples_of_the_answer_are_lines_of_a_case_and_name_what_there_is():
    text = as_text(catalogue_answer(), 80)
    found = [tomllib.loads(line) for line in re.findall(r'\w+ = [^\n]*["\]]', text)]
    steels = [grade.name for grade in grades()]
    stock = [size.designation for size in sizes()]
    assert {key for one in found for key in one} == {"steel", "designation", "stock"}
    for one in found:
        ((key, name),) = one.items()
        assert (
            name in {"steel": steels, "designation": stock, "stock": [[b] for b in BORED_BARS]}[key]
        )
    standards = {" ".join(name.split()[:2]) for name in steels}
    assert len(found) == len(standards) + len({size.listed_in for size in sizes()}) + len(
        BORED_BARS
    )


def test_nothing_is_cut():
    assert "…" not in _page()
    assert max(map(len, _page().splitlines())) <= WIDEST


def test_every_grade_with_every_band():
    text = _page()
    for grade in grades():
        assert any(line.startswith(grade.name.split(" product")[0]) for line in text.splitlines())
    strengths = [line.split() for line in text.splitlines() if "up to" in line]
    bands = sum(1 for g in grades() for _ in g.bands)
    open_ended = sum(1 for g in grades() if max(g.largest.values()) == float("inf"))
    assert len(strengths) == bands - open_ended + 1  # and one line of the head


def test_bands_strengths_and_source_in_both_units():
    text = _page()
    S355 = " ".join(_cells(text, "EN 10025-2 S355"))
    assert "250 (9.84) up to 16 (0.630) 355 51.5 470 68.2 Table 7 (seen" in S355
    # ASTM A36: 36 and 58 ksi up to 8 in, 32 ksi beyond; ksi are 6.894757 MPa (exact definitions)
    assert "up to 203.2 (8.00) 248 36.0 400 58.0" in " ".join(_cells(text, "ASTM A36"))
    assert "over 203.2 (8.00) 221 32.0 400 58.0" in " ".join(text.split())
    A106 = " ".join(_cells(text, "ASTM A106 Gr C"))
    assert A106.startswith("tube any 276 40.0 483 70.0 seen, edition")
    for of, E, source in (
        ("EN", "210000 MPa (30458 ksi)", "EN 1993-1-1, 3.2.6"),
        ("ASTM", "199948 MPa (29000 ksi)", "AISC 360, Table B4.1b"),
    ):
        assert only(catalogue_page(), f"{of} grades", f"E {E}, ν 0.3", source)


def test_every_size_once():
    lines = _page().splitlines()
    for size in sizes():
        assert sum(line.startswith(f"{size.designation} ") for line in lines) == 1


def test_a_size_in_both_units():
    # 53.2 lb/ft: 10.69 (D - t) t (common practice, no source)
    size = " ".join(_cells(_page("NPS 6"), "ASME B36.10M NPS 6 XXS"))
    assert size == "168.3 6.625 21.95 0.864 0.739 19.20 24.58 79.20 53.22"


def test_only_what_is_like_a_text_with_its_list_and_note():
    text = _page("168.3 x 12.5")
    assert sum(line.startswith("EN 10") and "168.3" in line for line in text.splitlines()) == 1
    for part in ("EN 10210-2 CHS:", "(seen in", "Tolerance by EN 10210-2", "-12.5 %"):
        assert part in text
    assert "ASME B36.10M:" not in text


def test_a_text_like_a_grade_alone_lists_no_sizes_and_one_like_a_size_no_steels():
    steel, size = _page("A106"), _page("NPS 6")
    assert "ASTM A106 Gr C" in steel
    assert "ASTM A36" not in steel
    assert "bore / Ø" not in steel
    assert "Built-in steels" not in size


def test_nothing_like_a_text():
    with pytest.raises(InputError, match='"tin"'):
        _page("tin")


def test_bored_bars_are_listed_by_their_outermost_bores_and_all_when_asked_for():
    page, asked = _page(), _page("bored inch 8")
    for text, bores in ((page, ["2", "6"]), (asked, ["2", "2.5", "5.5", "6"])):
        lines = text.splitlines()
        for bore in bores:
            name = f"bored inch bar 8, bore {bore} in "
            assert sum(line.startswith(name) for line in lines) == 1
    assert "bored inch bar 8, bore 5.5 in" not in page
    size = " ".join(_cells(asked, "bored inch bar 8, bore 5.5 in"))
    # 53.2 lb/ft: 10.69 (D - t) t (common practice, no source): 90.2
    assert size == "203.2 8.000 31.75 1.250 0.688 134.2 90.21"
    assert "bored bar 200, bore 120 mm " in _page("bored bar 200 120")
    assert only(catalogue_page(), '[sizing] stock = ["bored bar"]', '["bored inch bar"]')
    assert "common practice, no source" in asked
