import subprocess
import sys
from pathlib import Path

import pytest

import contactfe

MILL_HOUSE = Path(__file__).parents[1] / "cases" / "mill-house-stop.toml"


def test_five_lines_do_what_the_command_does(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "case.toml").write_text(MILL_HOUSE.read_text())
    case = contactfe.read_case("case.toml")
    answer = contactfe.compare(case)
    files = contactfe.save(answer, "results")
    assert answer.least_concentration in answer.reason
    assert contactfe.document(answer)["least_concentration"] == answer.least_concentration
    assert all(f.exists() for f in files)
    assert answer.least_concentration in answer._repr_html_()


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


def test_compare_runs_off_the_main_thread():
    # Notebooks and servers call from other threads; gmsh must not want the main one. In a process
    # of its own, as the mesher starts gmsh once.
    code = (
        "import threading, contactfe\n"
        "case = contactfe.case_from_dict({'title': 't', 'post': {'held_by': 'opposed', 'steel':"
        " 'ASTM A36'}, 'plate': {'width': '300 mm', 'thickness': '40 mm', 'held_by': 'bedded',"
        " 'steel': 'ASTM A36'}, 'load': {'line_load': '300 N/mm'},"
        " 'section': [{'name': 's', 'outside_diameter': '100 mm', 'wall': '20 mm'}]})\n"
        "out = []\n"
        "t = threading.Thread(target=lambda: out.append(contactfe.compare(case)))\n"
        "t.start(); t.join(); print(out[0].least_concentration)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "s"
