"""The search for first yield, on peaks that are known by formula at every load."""

import math
from types import SimpleNamespace

import pytest

from contactfe.assess.places import BORE_UNDER_LOAD, CONTACT
from contactfe.assess.sizing import early_yield as module
from contactfe.assess.sizing.early_yield import early_yield
from contactfe.errors import SolveError

LEVEL = SimpleNamespace(scale=3.0, case=None, section=None)
POST, PLATE = 300.0, 250.0  # peaks at the case's load, MPa


def reading(load, power, zone=CONTACT):
    """Where the load is e^load times the case's: peaks grow by a power that itself grows."""
    grown = [math.exp(of * load + 0.05 * load**2) for of in power]
    return SimpleNamespace(
        load=load,
        member_peaks=[SimpleNamespace(zone=zone, von_mises=POST * grown[0])],
        patches=[
            SimpleNamespace(peaks=[SimpleNamespace(von_mises=PLATE / 2)]),
            SimpleNamespace(peaks=[SimpleNamespace(von_mises=PLATE * grown[1])]),
        ],
    )


def first(monkeypatch, post, plate, power=(0.5, 0.5), guess=1.0, zone=CONTACT, most=math.inf):
    """First yield, for strengths of so much; loads up to ``most`` times are within its range."""
    reads = []

    def at(bodies, levels, before, times, step, scale):
        assert scale == 6.0  # twice that of the level
        reads.append(times)
        return levels[0], reading(math.log(times), power, zone)

    def room(_, one):  # half-widths grow as the root of the load
        return math.sqrt(most / math.exp(one.load))

    monkeypatch.setattr(module, "read_beyond", at)
    monkeypatch.setattr(module, "room", room)
    monkeypatch.setattr(module, "within", lambda *of: room(*of) >= 1.0)
    return early_yield(None, LEVEL, reading(0.0, power, zone), post, plate, guess), reads


def root(strength, peak, power):
    """e^x where power·x + x²/20 is the logarithm of strength over peak."""
    c = math.log(strength / peak)
    return math.exp((math.sqrt(power**2 + 0.2 * c) - power) / 0.1)


@pytest.mark.parametrize("guess", [1.0, 1.5, 6.0])
@pytest.mark.parametrize(
    ("post", "plate", "body"), [(600.0, 900.0, "post"), (900.0, 450.0, "plate")]
)
def test_the_body_that_yields_first_to_the_accuracy_that_is_stated(
    monkeypatch, guess, post, plate, body
):
    found, reads = first(monkeypatch, post, plate, (0.6, 0.5), guess)
    factors = {"post": root(post, POST, 0.6), "plate": root(plate, PLATE, 0.5)}
    assert min(factors, key=factors.get) == found.body == body
    assert found.factor == pytest.approx(factors[body], rel=2e-3)
    assert len(reads) <= 4  # few are needed


def test_it_may_lie_below_the_load(monkeypatch):
    found, _ = first(monkeypatch, 200.0, 900.0, (1.0, 0.5), zone=BORE_UNDER_LOAD)
    assert (found.factor, found.body) == (pytest.approx(root(200.0, POST, 1.0), rel=2e-3), "post")


@pytest.mark.parametrize("guess", [1.0, 2.0, 3.44])
def test_what_the_model_does_not_carry_is_not_told(monkeypatch, guess):
    """The post yields at 3.43 times the load."""
    assert root(600.0, POST, 0.5) == pytest.approx(3.43, abs=0.01)
    assert first(monkeypatch, 600.0, 900.0, guess=guess, most=4.0)[0] is not None
    for most in (3.42, 3.2, 2.0):
        assert first(monkeypatch, 600.0, 900.0, guess=guess, most=most)[0] is None


def test_a_contact_that_is_not_solved_has_none(monkeypatch):
    def fails(*_):
        raise SolveError("no mesh held")

    monkeypatch.setattr(module, "room", lambda *_: 10.0)
    monkeypatch.setattr(module, "read_beyond", fails)
    assert early_yield(None, LEVEL, reading(0.0, (0.5, 0.5)), 600.0, 900.0) is None
