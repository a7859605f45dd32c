"""What is refused before a page is served, in one line."""

import socket
import subprocess
import sys

import pytest
from commands import SMALL, run


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SMALL)
    return path


def refused(done, *parts):
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    for part in parts:
        assert part in done.stderr


def test_without_its_library_it_says_what_to_install(small):
    code = (
        "import sys; sys.modules['panel'] = None\n"
        "sys.argv = ['contactfe', 'explore', 'small.toml', '--no-open']\n"
        "from contactfe.cli import main\n"
        "main()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=small.parent, capture_output=True, text=True, check=False
    )
    refused(done, "contactfe[explore]")


@pytest.mark.parametrize("address", ["0.0.0.0", "::", "localhost", "192.0.2.1", "a b"])
def test_it_is_served_on_one_address_of_the_machine_alone(small, address):
    pytest.importorskip("panel")
    words = "explore", small, "--no-open", "--address", address
    refused(run(*words, cwd=small.parent), "--address", address)


def test_a_port_that_is_taken_is_named(small):
    pytest.importorskip("panel")
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        refused(run("explore", small, "--no-open", "--port", port, cwd=small.parent), port)


def test_a_case_at_fault_is_refused_before_anything_is_served(small):
    small.write_text(SMALL.replace("young", "youngs", 1))
    refused(run("explore", small, "--no-open", cwd=small.parent), "youngs")
