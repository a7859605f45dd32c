"""Partial slip of a line contact beside the printed formulas, evaluated apart.

Cattaneo, Rend. Accad. Lincei 27 (1938); Mindlin, J. Appl. Mech. 16 (1949); Johnson, Contact
Mechanics, 1985, section 7.2: from memory, not seen.
"""

import pytest

from contactfe.hand import partial_slip


@pytest.mark.parametrize(
    ("mobilised", "stick", "middle", "at_stick", "edge"),
    [
        (0.25, 0.8660, 0.1340, 0.5000, 1.0000),
        (0.50, 0.7071, 0.2929, 0.7071, 1.4142),
        (0.75, 0.5000, 0.5000, 0.8660, 1.7321),
        (1.00, 0.0000, 1.0000, 1.0000, 2.0000),
    ],
)
def test_printed_formulas(mobilised, stick, middle, at_stick, edge):
    """c/a = √(1 − Q/(µq)); traction over µp0 at 0 and c; edge stress over µp0 by superposition."""
    c = partial_slip.stick_half_width(1.0, mobilised)
    half = 5.1e-5
    assert c == pytest.approx(stick, abs=half)
    found = partial_slip.traction([0.0, c], 1.0, 1.0 / 0.3, 0.3, mobilised)
    assert tuple(found) == (pytest.approx(middle, abs=half), pytest.approx(at_stick, abs=half))
    assert partial_slip.edge_stress(1.0 / 0.3, 0.3, mobilised) == pytest.approx(edge, abs=half)
