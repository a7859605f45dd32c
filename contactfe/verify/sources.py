"""Sources and reasons that solved rows give, worded once; those of tables too, from there."""

from contactfe.verify.table import shared

_SOURCES, _ = shared()
JOHNSON, TIMOSHENKO, NORTON, PARTIAL_SLIP, EXACT_ROUND, EXACT_LAYER = (
    _SOURCES[name].text
    for name in ("johnson", "timoshenko", "norton", "partial-slip", "exact-round", "exact-layer")
)
COMPUTED = "; computed here"
HERTZ_FIELD = JOHNSON.format("section 4.2 and eqs 4.43 to 4.47") + COMPUTED
RING_SERIES = (
    "exact series of a thick ring, derived here (contactfe.hand.thick_ring); computed here"
)

MESH = "standard FE mesh"
FINITE_ROUND = "finite round: q/(πR)"
