"""[overload], and which cases loads beyond first yield are not worked out for."""

import pickle
from dataclasses import asdict

import pytest
from pydantic import TypeAdapter

from contactfe.case import case_from_dict
from contactfe.case.overload import FACTORS, Overload, check_overload
from contactfe.case.scaling import scaled
from contactfe.case.table import HELD
from contactfe.errors import InputError

INFILL = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}


def with_factors(data, factors):
    return case_from_dict(data | {"overload": {"factors": factors}}).overload.factors


@pytest.mark.parametrize("table", [{}, {"overload": {}}])
def test_there_are_factors_without_it(data, table):
    assert case_from_dict(data | table).overload == Overload((1.2, 2.0, 3.0))
    assert with_factors(data, list(FACTORS)) == FACTORS


@pytest.mark.parametrize(
    "factors", [[1.0], [4], [1, 2, 3], [1.0, 1.001, 4.0], [1.5, 2.0, 2.5, 3.0, 3.5, 4.0]]
)
def test_what_is_stated(data, factors):
    found = with_factors(data, factors)
    assert found == tuple(factors)
    assert all(type(factor) is float for factor in found)


@pytest.mark.parametrize(
    ("factors", "line"),
    [
        ([], "factors: must hold at least one value"),
        ([1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0], "factors: must hold at most 6 values, not 7"),
        ([0.999], "factors, entry 1 = 0.999: must be a number from 1 to 4"),
        ([2.0, 4.01], "factors, entry 2 = 4.01: must be a number from 1 to 4"),
        ([float("nan")], "factors, entry 1 = nan: must be a number from 1 to 4"),
        ([2, True], "factors, entry 2 = true: must be a number without quotes"),
        (["2"], 'factors, entry 1 = "2": must be a number without quotes'),
        ([3.0, 2.0], "factors: each must be greater than the one before"),
        ([2.0, 2.0], "factors: each must be greater than the one before"),
        (2.0, "factors = 2.0: must be a list such as [1.2, 2.0, 3.0]"),
        ({"from": 1, "to": 2, "count": 3}, "factors: must be a list such as [1.2, 2.0, 3.0]"),
    ],
)
def test_a_fault_of_the_factors_is_one_line(refusal, factors, line):
    assert refusal(overload={"factors": factors}) == f"cases/x.toml: [overload] {line}"


def test_a_key_that_it_has_not(refusal):
    assert refusal(overload={"factor": [2.0]}) == (
        "cases/x.toml: [overload] factor: is not known here; did you mean factors? allowed: factors"
    )


def test_a_specimen_is_loaded_to_as_many_times_its_first_yield(data):
    case = case_from_dict(data | {"overload": {"factors": [1.1, 3]}})
    assert scaled(case, 0.25).overload == case.overload == Overload((1.1, 3.0))


def test_it_goes_to_other_processes_and_through_a_record(data):
    case = case_from_dict(data | {"overload": {"factors": [1.1, 3]}})
    assert pickle.loads(pickle.dumps(case)) == case
    kind = TypeAdapter(Overload)
    held = kind.validate_python(asdict(case.overload), context=HELD)
    assert held == case.overload


def refused(data):
    with pytest.raises(InputError) as caught:
        check_overload(case_from_dict(data, "cases/x.toml"))
    return str(caught.value).splitlines()


def test_what_is_covered(data):
    data["contact"] = {"offset": "40 mm", "angle": "0 deg", "friction": 0.0}
    data["envelope"] = {"angle": ["10 deg"], "friction": [0.2]}  # which it does not try
    data["model"] = {"state": "plane strain"}
    check_overload(case_from_dict(data))


@pytest.mark.parametrize(
    ("tables", "start"),
    [
        (
            {"model": {"state": "plane stress"}},
            '[model] state = "plane stress": must be "plane strain" ',
        ),
        ({"contact": {"friction": 0.001}}, "[contact] friction = 0.001: must be 0 "),
        ({"contact": {"angle": "-15 deg"}}, '[contact] angle = "-15 deg": must be 0 '),
        ({"contact": {"angle": "1 mrad"}}, '[contact] angle = "0.057296 deg": must be 0 '),
        ({"corner": {"line_load": "1 kN/mm"}}, "[corner]: must not be stated "),
    ],
)
def test_what_is_not_is_told_on_one_line(data, tables, start):
    (line,) = refused(data | tables)
    assert line.startswith(f"cases/x.toml: {start}")


def test_an_infill_is_told_with_its_section(data):
    data["section"][1]["infill"] = INFILL
    (line,) = refused(data)
    assert line.startswith('cases/x.toml: section 2 "tube 150 x 25", infill: must not be stated ')


def test_each_has_a_line_of_its_own(data):
    data |= {"model": {"state": "plane stress"}, "contact": {"friction": 0.2, "angle": "5 deg"}}
    data["section"].append({**data["section"][1], "name": "filled", "infill": INFILL})
    lines = refused(data)
    assert len(lines) == 4
    assert all(line.startswith("cases/x.toml: ") for line in lines)
