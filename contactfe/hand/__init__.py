"""Closed forms that stand beside the finite element figures: pure functions of numbers.

Units are N, mm and MPa throughout, angles are radians. Tension is positive; a contact pressure is
positive in compression. Nothing here knows a mesh, a solver or the rest of the package.

======================  ==========================================================================
:mod:`.hertz`           line contact of a round on a flat: size, pressure, field, first yield
:mod:`.sliding`         the same contact while it slides: field, peak, first yield
:mod:`.partial_slip`    the same contact pushed sideways by less than full friction
:mod:`.shakedown`       the pressure up to which repeated strikes cease to yield the contact
:mod:`.stress`          von Mises stress and greatest shear of a plane state
:mod:`.flexure`         how beam shear spreads over a solid or hollow round
:mod:`.ring`            thin ring and curved beam: hoop stress of a tube under a line load
:mod:`.thick_ring`      the exact plane-elastic field of the same tube, or of a solid disc
:mod:`.strip`           a plate held along two edges: bending, deflection and stress at the back
:mod:`.search`          the greatest value of a stress measure below the contact
======================  ==========================================================================
"""
