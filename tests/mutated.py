"""Files of every kind that contactfe reads, with some of their bytes changed, and what it makes of
them: a mesh or a case is read or refused, and of a record nothing comes back but what was written.
"""

import tempfile
from collections.abc import Callable
from contextlib import redirect_stderr
from functools import cache
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any

import envelopes
import folders
import meshio
import sizings
import sweeps

from contactfe.assess.sizing.run import size
from contactfe.assess.sweep.result import Sample
from contactfe.errors import InputError
from contactfe.report.envelope_record import ROWS, row_record
from contactfe.report.sizing_record import TRIALS, trial_record
from contactfe.report.sweep_record import sweep_record
from contactfe.section.files import load_mesh, named_cells, read_mesh
from contactfe.section.foreign import read_section

ROOT = Path(__file__).parents[1]
CASES = sorted((ROOT / "cases").glob("*.toml"))
RADIUS = 75.0  # mm, of the tubes in meshes/

ODD = b"\x00\xff\n\"'[]{}=,.-+eE#<>/\\ 0123456789"


def mutated(by: Random, content: bytes) -> bytes:
    """The content with one to three places flipped, dropped, doubled, spliced or cut off."""
    made = bytearray(content)
    for _ in range(by.choice([1, 1, 2, 3])):
        at, length = by.randrange(len(made) + 1), by.choice([1, 1, 1, 4, 40, 400])
        match by.choice(["flip", "flip", "odd", "drop", "double", "insert", "cut", "splice"]):
            case "flip" if at < len(made):
                made[at] ^= 1 << by.randrange(8)
            case "odd" if at < len(made):
                made[at] = by.choice(ODD)
            case "drop":
                del made[at : at + length]
            case "double":
                made[at:at] = made[at : at + length]
            case "insert":
                made[at:at] = by.randbytes(length)
            case "cut" if at:
                del made[at:]
            case "splice":
                other = by.randrange(len(made) + 1)
                made[at : at + length] = made[other : other + length]
    return bytes(made)


# Meshes.


@cache
def meshes() -> dict[str, bytes]:
    """Meshes by file name: those of this repository, one in the other format that stands alone."""
    found = {path.name: path.read_bytes() for path in (ROOT / "meshes").glob("*.msh")}
    mesh = load_mesh(ROOT / "meshes" / "ribbed-tube.msh")
    groups = {name: [part.astype(int) for part in of] for name, of in named_cells(mesh).items()}
    with tempfile.TemporaryDirectory() as made, redirect_stderr(StringIO()):
        at = Path(made) / "ribbed-tube.vtu"
        meshio.write(at, meshio.Mesh(mesh.points, mesh.cells, cell_data=groups), binary=False)
        return found | {at.name: at.read_bytes()}


def mesh_read(by: Random, folder: Path) -> tuple[Callable[[], object], str]:
    """What reads a mutated mesh."""
    name = by.choice(sorted(meshes()))
    path = folder / name
    path.write_bytes(mutated(by, meshes()[name]))

    def read() -> None:
        if name.startswith("plate"):
            read_mesh(path)
        else:
            read_section(path, 1.0, RADIUS)

    return read, name


# Records.


@cache
def _envelope() -> tuple[Any, list[Any]]:
    case = envelopes.case(offset=["0 mm", "9 mm"], angle=["0 deg", "3 deg"], sections=2)
    one, two = (section.name for section in case.sections)
    contacts = case.envelope.contacts
    rows = [envelopes.row(one, at, 0.1 * k) for k, at in enumerate(contacts, 1)]
    return case, [*rows, envelopes.failed(two, contacts[0]), envelopes.row(two, contacts[3])]


@cache
def _sizing() -> tuple[Any, list[Any]]:
    from unittest.mock import patch

    case, new = sizings.case(wall={"from": 0.1, "to": 0.4, "count": 5}), []
    with patch("contactfe.assess.sizing.run.Crew", lambda of, _, tell: sizings.Instead(of, tell)):
        size(case, 1, None, (), new.append)
    return case, new


@cache
def _sweep() -> tuple[Any, list[Any]]:
    made = sweeps.prepared()
    samples = [Sample(k, (sweeps.row(150.0 + k),)) for k in range(made.plan.count)]
    return made, [*samples[:-1], Sample(made.plan.count - 1, (sweeps.failed(),))]


RECORDS: dict[str, tuple[Callable[[], tuple[Any, list[Any]]], Any, str]] = {
    "rows": (_envelope, row_record, ROWS),
    "trials": (_sizing, trial_record, TRIALS),
    "samples": (_sweep, sweep_record, "sweep.jsonl"),
}
"""What makes the answers of a case, opens their record, and its file."""


def record_read(kind: str, by: Random, folder: Path) -> Callable[[], object]:
    """What reads a mutated record: nothing but what was written comes back, and the rest is found
    anew and kept.
    """
    make, opened, name = RECORDS[kind]
    of, written = make()
    place = folder / f"of-{kind}"
    place.mkdir(exist_ok=True)
    path = place / name
    path.unlink(missing_ok=True)
    at = path if kind == "samples" else place
    with opened(of, at) as record:
        for answer in written:
            record.add(answer)
    path.write_bytes(mutated(by, path.read_bytes()))

    def read() -> None:
        known = {repr(answer) for answer in written}
        with opened(of, at) as record:
            found = [repr(answer) for answer in record]
            assert len(found) == len(set(found)) <= len(written), "an answer came back twice"
            assert set(found) <= known, "an answer came back that was not written"
            for answer in written:
                if repr(answer) not in found:
                    record.add(answer)
        with opened(of, at) as record:
            assert {repr(answer) for answer in record} == known, "an answer was not kept"

    return read


# Results.


def results_read(by: Random, folder: Path) -> Callable[[], object]:
    """What writes results into a folder of which a file is mutated: no other's are written over."""
    place = folder / "of-results"
    place.mkdir(exist_ok=True)
    for path in place.iterdir():
        path.unlink()
    of = folders.of_case(folder)
    folders.fill(of, place)
    path = by.choice(sorted(place.iterdir()))
    before = path.read_bytes()
    after = mutated(by, before)
    path.write_bytes(after)

    def write() -> None:
        there = folders.content(place)
        try:
            folders.fill(of, place, "second")
        except InputError:
            assert folders.content(place) == there, "a refusal changed something"
            raise
        own = after == before or path.name == folders.KIND.document
        assert own, "what was changed since was written over"
        assert all(b"second" in text for name, text in folders.content(place).items()
                   if name != folders.KIND.document), "not all was written anew"  # fmt: skip

    return write
