import subprocess
import sys
from pathlib import Path

import pytest
import sweeps
from motions import moving

import contactfe
from contactfe.assess.envelope import EnvelopeResult
from contactfe.assess.impact import ImpactResult
from contactfe.assess.overload.result import OverloadResult
from contactfe.assess.results import Comparison
from contactfe.assess.sizing.record import SizingResult
from contactfe.assess.stiffness import StiffnessResult
from contactfe.assess.sweep.result import SweepResult
from contactfe.report import output as saving

MILL_HOUSE = Path(__file__).parents[1] / "cases" / "mill-house-stop.toml"


def test_importing_the_package_loads_nothing_heavy():
    code = (
        "import sys, contactfe\n"
        "print(sorted({'numpy', 'skfem', 'gmsh', 'matplotlib', 'pint'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_names_on_offer_exist_and_others_do_not():
    for name in contactfe.__all__:
        assert getattr(contactfe, name) is not None
    with pytest.raises(AttributeError, match="no_such"):
        _ = contactfe.no_such


def test_completion_offers_every_name():
    # In a process of its own, as names that were used are there anyway.
    code = "import contactfe; print(set(contactfe.__all__) <= set(dir(contactfe)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "True"
    assert "__version__" in dir(contactfe)


def kinds_of_result():
    return {
        f"{made.__module__}.{made.__qualname__}": made
        for made in (
            Comparison, ImpactResult, EnvelopeResult, SizingResult, StiffnessResult, OverloadResult,
            SweepResult,
        )
    }  # fmt: skip


def test_save_writes_an_impact_and_a_sweep_as_their_own_names_do(tmp_path, monkeypatch):
    # Ink is slow, and that of the figure is tested where it is drawn.
    drawn = "contactfe.report.impact_output.save_figures"
    monkeypatch.setattr(drawn, lambda _, folder: (folder / "impact.png").write_bytes(b"ink"))
    found = contactfe.impact_force(moving())
    there, own = contactfe.save(found, tmp_path / "d"), contactfe.save_impact(found, tmp_path / "o")
    assert [p.name for p in there] == [p.name for p in own]
    assert all(p.parent == tmp_path / "d" and p.stat().st_size for p in there)
    table = contactfe.save(sweeps.result([sweeps.row()] * 4), tmp_path / "swept.csv")
    assert table == [tmp_path / "swept.csv"]


@pytest.mark.parametrize("name", sorted(kinds_of_result()))
def test_save_hands_each_kind_to_its_own_writer(name, monkeypatch):
    """Of a subclass too; a kind that was moved or named anew would be found by nobody."""
    kind = kinds_of_result()[name]
    writer = f"contactfe.report.{saving.SHOWN[name].save}"
    monkeypatch.setattr(writer, lambda result, folder: (type(result), folder))
    for of in (kind, type("Mine", (kind,), {})):
        assert contactfe.save(object.__new__(of), "here") == [of, "here"]
    assert {of for of, shows in saving.SHOWN.items() if shows.save} == set(kinds_of_result())


def test_save_refuses_what_is_no_result_in_one_line(tmp_path):
    for other in (contactfe.read_case(MILL_HOUSE), None, {}):
        with pytest.raises(TypeError, match=f"^save takes .*, not {type(other).__name__}$"):
            contactfe.save(other, tmp_path / "x")
    assert not (tmp_path / "x").exists()


def test_compare_runs_off_the_main_thread():
    # Notebooks and servers call from other threads; gmsh must not want the main one. In a process
    # of its own, as the mesher starts gmsh once.
    code = (
        "import threading, contactfe\n"
        "case = contactfe.case_from_dict({'title': 't', 'post': {'held_by': 'diametral', 'steel':"
        " 'ASTM A36'}, 'plate': {'width': '300 mm', 'thickness': '40 mm', 'held_by': 'rigid base',"
        " 'steel': 'ASTM A36'}, 'load': {'line_load': '300 N/mm'},"
        " 'section': [{'name': 's', 'outside_diameter': '100 mm', 'wall': '20 mm'}]})\n"
        "out = []\n"
        "t = threading.Thread(target=lambda: out.append(contactfe.compare(case)))\n"
        "t.start(); t.join(); print(out[0].least_concentration)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "s"
