"""Sources and reasons that rows of several modules give, worded once."""

JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, {}: from memory, not seen"
NORTON = "R. L. Norton, Machine Design, 4th ed., example 7-2: seen in a public extract"
SMITH_LIU = "J. O. Smith and C. K. Liu, J. Appl. Mech. 20 (1953): from memory, not seen"
PARTIAL_SLIP = (
    "C. Cattaneo, Rend. Acc. Lincei 27 (1938); R. D. Mindlin, J. Appl. Mech. 16 (1949);"
    " K. L. Johnson, Contact Mechanics, 1985, section 7.2: from memory, not seen"
)
TIMOSHENKO = (
    "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., {}: from memory, not seen"
)
ROARK_CONTACT = (
    "W. C. Young and R. G. Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1"
    " case 2: from memory, not seen"
)
HERTZ_ON_A_FLAT = "Hertz pressure on a flat (K. L. Johnson, Contact Mechanics, 1985, eq. 4.45)"
COMPUTED = "; computed here"
VALUE_COMPUTED = "; value computed here"
HERTZ_FIELD = JOHNSON.format("section 4.2 and eqs 4.43 to 4.47") + COMPUTED
EXACT_ROUND = "exact field of a solid round, derived here (contactfe.hand.approach)"
EXACT_LAYER = "exact field of a layer, derived here (contactfe.hand.approach)"
RING_SERIES = (
    "exact series of a thick ring, derived here (contactfe.hand.thick_ring); computed here"
)

LAST_PRINTED = "last printed digit"
VALUE_DIGIT = "last digit of the value"
GIVEN_DIGIT = "last digit given"
COMPUTED_DIGIT = "last digit of the value computed"
MESH = "standard FE mesh"
FINITE_ROUND = "finite round: q/(πR)"


def half_a_digit(printed: str) -> float:
    """Half a unit of the last digit of a printed number.

    >>> half_a_digit("105"), half_a_digit("14.3")
    (0.5, 0.05)
    """
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])
