"""At the ends of what can be stated: an answer whose ± holds the closed form, or a refusal.

`python tests/attack.py --extremes 500` draws as many more as are asked for.
"""

from random import Random

import extremes
import pytest
from extremes import E, Extreme, R, judged

HARD, SOFT = (
    {"young": 31.6 * E, "plate_young": E / 31.6},
    {"young": E / 31.6, "plate_young": 31.6 * E},
)
FOIL = (100.0, 0.4)  # the slimmest plate, mm

ENDS = {
    "post 1000 times as stiff": (Extreme(None, 5.0, **HARD), "covered"),
    "plate 1000 times as stiff": (Extreme(None, 5.0, **SOFT), "covered"),
    "Poisson's ratio 0": (Extreme(poisson=0.0, plate_poisson=0.0, line_load=50.0), "covered"),
    "0.46": (Extreme(poisson=0.46, plate_poisson=0.46, line_load=50.0), "covered"),
    "0.499": (Extreme(poisson=0.499, line_load=50.0), "refused"),
    "the thinnest wall": (Extreme(0.01 * R, 0.05), "covered"),
    "thinner": (Extreme(0.0099 * R, 0.05), "refused"),
    "a bore of 1 %": (Extreme(0.99 * R, 300.0), "covered"),
    "the least load": (Extreme(line_load=1.3e-5), "covered"),
    "less": (Extreme(line_load=1e-6), "refused"),
    "the most load": (Extreme(line_load=6e4), "in balance"),
    "more": (Extreme(line_load=1.5e5), "refused"),
    "foil on a base": (Extreme(line_load=0.5, plate=FOIL), "covered"),
    "foil that spans": (Extreme(line_load=5.0, plate=FOIL, plate_held="clamped"), "refused"),
    "a block": (Extreme(line_load=50.0, plate=(3000.0, 6000.0)), "covered"),
}  # fmt: skip


@pytest.mark.parametrize("name", ENDS)
def test_an_end_is_covered_or_refused(name):
    of, expected = ENDS[name]
    how, why = judged(of)
    assert how == expected, why


@pytest.mark.parametrize("kind", extremes.EXTREMES)
def test_between_the_ends(kind):
    of = extremes.EXTREMES[kind](Random(f"{kind} 3"))
    how, why = judged(of)
    assert how in {"covered", "in balance", "refused"}, why


def test_what_is_off_is_not_covered(monkeypatch):
    """By one part in fifty."""
    monkeypatch.setattr(extremes.hertz, "peak_pressure", lambda *_: 1.02 * 55.0)
    of = Extreme(line_load=10.0)
    assert judged(of)[0] == "not covered"
