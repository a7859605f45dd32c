"""Generated cases are read and worked out, or refused in words: no other end.

`python tests/attack.py` runs as many more as are asked for.
"""

from collections import Counter
from random import Random

import attack
import envelopes
import generated
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

EXAMPLES = {"valid": 60, "nearly valid": 120, "hostile": 120}
"""Of each kind, which CI has time for."""


@pytest.fixture(scope="module")
def folder():
    with attack.place() as at:
        yield at


@pytest.mark.parametrize("kind", EXAMPLES)
def test_a_case_is_worked_out_or_refused(folder, kind):
    @settings(
        max_examples=EXAMPLES[kind], derandomize=True, database=None, deadline=None,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(st.randoms(use_true_random=True))
    def holds(by):
        ended, text = attack.attack_of_case(kind, by, folder)
        assert not [one for one in ended if one.fault], text

    holds()


@pytest.mark.parametrize("kind", attack.FILES)
def test_a_file_with_mutated_bytes_is_read_or_refused(folder, kind):
    for number in range(8):
        ended, _ = attack.attack_of_file(kind, Random(f"{kind} {number}"), folder)
        assert not [one for one in ended if one.fault], f"{kind} {number}"


@pytest.mark.parametrize("command", ["hand", "scale", "impact", "sweep", "catalogue"])
def test_a_command_ends_with_a_status_that_it_names(folder, command):
    """Whole processes, of which each takes a second to start; the script runs every command."""
    ended, text = attack.attack_of_run(command, Random(f"{command} 1"), folder)
    assert not [one for one in ended if one.fault], text


FOUND = {
    "a parting that is not bracketed": (
        {
            "gap": "300 mm", "mass": "2000 t", "period": "3 s", "displacement": "450 mm",
            "damper": [
                {
                    "force": "1000 kN", "at_velocity": "1 m/s", "exponent": 3.230394346800539,
                    "count": 6,
                }
            ],
        },
        {"law": "linear", "stiffness": "5710.14715473 kip/in"},
    ),
    "a bumper on a spring alone, behind its middle at the end": (
        {
            "gap": "600 mm", "mass": "4000 t", "period": "2.4 s", "displacement": "900 mm",
            "damping": 0.15, "bumper_mass": "40 t", "bumper_spring": "6.25 kN/mm",
        },
        {"law": "linear", "stiffness": "400 kN/mm"},
    ),
}  # fmt: skip
"""Motions that the script found to end in a fault, and their contact laws."""


@pytest.mark.parametrize("name", FOUND)
def test_a_motion_that_was_found(folder, name):
    motion, contact_law = FOUND[name]
    path = folder / "cases" / "found.toml"
    tables = envelopes.DATA | {"motion": motion, "contact_law": contact_law}
    path.write_text(generated.text_of(tables))
    ended = {one.step: one.how for one in attack.attacked(path, "valid")}
    assert ended["read"] == "done"
    assert ended["impact"] in attack.RIGHT


def test_every_key_of_every_table_is_drawn():
    seen = Counter()
    for group in range(generated.GROUPS):
        by = Random(f"group {group}")
        data = generated.Drawn(by, frozenset(generated.PATHS[group :: generated.GROUPS])).table(
            generated.SCHEMA, ()
        )
        seen.update(set(generated.stated(data)))
    assert set(generated.PATHS) == set(seen)


def test_most_are_taken_with_every_table_among_them():
    drawn = [generated.valid(Random(f"coverage {k}")) for k in range(120)]
    taken = [data for data in drawn if not generated.at_fault(data)]
    assert len(taken) > 0.6 * len(drawn)
    tables = {path for path in generated.PATHS if len(path) == 1}
    stated = {path for data in taken for path in generated.stated(data)}
    assert tables <= stated
    assert len(stated & set(generated.PATHS)) > 0.9 * len(generated.PATHS)


def test_a_key_that_a_table_gains_is_drawn(monkeypatch):
    """As the schema is that of the models, nothing else has to know it."""
    gained = {"type": "string", "examples": ["3 kN"]}
    monkeypatch.setitem(generated.SCHEMA["$defs"]["Plate"]["properties"], "gained", gained)
    assert ("plate", "gained") in set(generated.paths())
    draw = generated.Drawn(Random(1), frozenset({("plate", "gained")}))
    assert draw.table(generated.SCHEMA, ())["plate"]["gained"].endswith(("kN", "kip"))


def test_a_fault_is_seen(folder, monkeypatch):
    """What is neither an answer nor a refusal, what takes too long, and what warns."""
    import warnings

    def ends(work, names=""):
        return attack.tried(work, 0.2, names)[1]

    def refuse(message):
        raise attack.InputError(message)

    def forever():
        while True:
            pass

    assert ends(lambda: 1) == "done"
    assert ends(lambda: 1 / 0) == "fault: ZeroDivisionError"
    assert ends(forever) == "too long"
    assert ends(lambda: warnings.warn("of a library", stacklevel=1)) == "fault: UserWarning"
    assert ends(lambda: refuse("plate: is wrong"), "plate") == "refused"
    for message in ("", "a\x1bb plate", "plate " * 1000, "plate\n" * 50, "some key is wrong"):
        assert ends(lambda message=message: refuse(message), "plate").startswith("odd refusal")
