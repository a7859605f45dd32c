"""Closed forms that stand beside the finite element figures: pure functions of numbers.

Units are N, mm and MPa throughout, angles are radians; what moves is in coherent units with them, s
and t (N s²/mm). Tension is positive; a contact pressure is positive in compression. Nothing here
knows a mesh, a solver or the rest of the package.

=========================  ========================================================================
:mod:`.formula`            a function that can be worked out: form, numbers, source, range
:mod:`.typeset`            its form, from its syntax tree
:mod:`.quantities`         what its annotations say: dimension, unit, range
:mod:`.check`              arguments that a formula cannot take are refused by name
:mod:`.hertz`              line contact of a round on a flat: size, pressure, field, first yield
:mod:`.sliding`            the same contact while it slides: field, peak, first yield
:mod:`.partial_slip`       the same contact pushed sideways by less than full friction: traction
:mod:`.shakedown`          the pressure up to which repeated impacts cease to yield the contact
:mod:`.approach`           how far one body gives way under a line contact
:mod:`.approach_pair`      how far a post and its plate come together, and how stiff that is
:mod:`.approach_hold`      how far a post's hold comes, in place of its middle
:mod:`.crowning`           how far the ends of a contact stand back to bear no more than the rest
:mod:`.search`             the greatest value of a stress measure below the contact
:mod:`.stress`             plane constants, and the von Mises stress of a plane state
:mod:`.resultant`          the force on the post from what each plate exerts on it
:mod:`.roughness`          how rough surfaces may be for the contact of smooth ones
:mod:`.round_section`      area, second moment and moduli of a solid or hollow round
:mod:`.flexure`            how beam shear spreads over a solid or hollow round
:mod:`.cantilever`         the post held at its root: moment, stress, deflection, stiffness
:mod:`.torsion`            what friction along a plate twists it by
:mod:`.weld`               a fillet weld all round the root of the post
:mod:`.ring`               a tube under a line load: ring forces and thick-ring factors
:mod:`.ring_stress`        its hoop stress as a thin ring and as a curved beam
:mod:`.ring_deflection`    how much it changes its diameters
:mod:`.thick_ring`         the exact plane-elastic field of the same tube, or of a solid disc
:mod:`.relief`             the tube that a contact stresses least, and what it saves over a solid
:mod:`.collapse`           the line load at which a tube between flats becomes a mechanism
:mod:`.disc`               stresses at the centre of a solid round between two loads
:mod:`.strip`              a plate held along two edges: bending, and stress at the back
:mod:`.strip_friction`     what the friction force adds to its moments, and pushes it by
:mod:`.strip_deflection`   how far that plate gives way: deflection, slope, settlement
:mod:`.plate_along`        how it bends along the post, under a load of finite length
:mod:`.layer`              a plate on a smooth rigid base, as an elastic layer
:mod:`.closure`            how fast the floor moves when the gap closes
:mod:`.damper`             a fluid viscous damper: its force against a velocity
:mod:`.stop`               how hard a mass strikes a spring, without and with a dashpot
:mod:`.power_stop`         the same for a force with a power of the penetration, and its damping
:mod:`.overshoot`          how far the force on a bumper with dampers rises above theirs
:mod:`.similitude`         a specimen of reduced size at equal stress: factor of each quantity
=========================  ========================================================================
"""
