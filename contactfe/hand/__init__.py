"""Closed forms that stand beside the finite element figures: pure functions of numbers.

Units are N, mm and MPa throughout, angles are radians. Tension is positive; a contact pressure is
positive in compression. Nothing here knows a mesh, a solver or the rest of the package.

======================  ==========================================================================
:mod:`.hertz`           line contact of a round on a flat: size, pressure, field, first yield
:mod:`.stress`          von Mises stress and greatest shear of a plane state
:mod:`.flexure`         how beam shear spreads over a solid or hollow round
:mod:`.ring`            thin ring and curved beam: hoop stress of a tube under a line load
:mod:`.thick_ring`      the exact plane-elastic field of the same tube, or of a solid disc
======================  ==========================================================================
"""
