"""The post as a beam along its axis: its stiffness, and what its bending adds to a slice of it."""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.case import Case, Section
from contactfe.case.alignment import why_unbent
from contactfe.hand import cantilever, round_section
from contactfe.solve.elastic import Floats
from contactfe.solve.line import Beam, influence

_LAYERS = 2000
"""Layers across half a filled section for its shear stiffness, which they leave within 1e-5."""


def beam_of(case: Case, section: Section) -> Beam:
    """Bending and shear stiffness of a round section with its infill, which counts as bonded.

    EI is that of steel and infill together. κ of a solid or a tube is Cowper's
    (:func:`.cantilever.shear_coefficient`). κGA of a filled tube is the energy's of the shear that
    the bending stresses call for, spread over each width by stiffness (Jourawski's; derived here),
    times what Cowper's is over it: of the tube alone (0.8 at a bore of 0.6), of a solid (0.98), and
    in proportion to the infill's shear modulus between, a choice made here.
    """
    steel = case.post_material(section)
    D, d = section.outside_diameter, section.geometry.bore
    bending = steel.young * round_section.second_moment(D, d)
    shear_modulus = steel.young / (2.0 * (1.0 + steel.poisson))
    if section.infill is None:
        return Beam(bending, _cowper(D, d, steel.young, steel.poisson))
    infill = section.infill
    outer, inner = (steel.young, steel.poisson), (infill.young, infill.poisson)
    of_tube = _cowper(D, d, *outer) / _layered(D, d, outer, (0.0, 0.0))
    of_solid = _cowper(D, 0.0, *outer) / _layered(D, d, outer, outer)
    infill_modulus = infill.young / (2.0 * (1.0 + infill.poisson))
    share = min(1.0, infill_modulus / shear_modulus)
    layered = _layered(D, d, outer, inner)
    bending += infill.young * round_section.second_moment(d)
    return Beam(bending, (of_tube + share * (of_solid - of_tube)) * layered)


def bends(case: Case, section: Section) -> bool:
    """Whether the post is known to bend along its axis: a round cantilever on one plate."""
    return not why_unbent(case, section)


def post_stiffness(case: Case, section: Section) -> float:
    """Stiffness, N/mm, of the post with its infill against a force in the middle of its contact.

    The case must state [cantilever].
    """
    assert case.cantilever is not None
    length = np.array([case.cantilever.length])
    return float(1.0 / influence(beam_of(case, section), length, length)[0, 0])


def _cowper(diameter: float, bore: float, young: float, poisson: float) -> float:
    """κGA of a solid or a tube, N."""
    factor = cantilever.shear_coefficient.plain(diameter, bore, poisson)
    modulus = young / (2.0 * (1.0 + poisson))
    return float(factor * modulus * round_section.area(diameter, bore))


def _layered(
    diameter: float, bore: float, steel: tuple[float, float], infill: tuple[float, float]
) -> float:
    """κGA of a filled round by the energy of its shear, N: (EI)²/∫ (ES)²/(Gb) dy.

    Of steel and infill, Young's modulus, MPa, and Poisson's ratio.
    """
    radius, hollow = diameter / 2.0, bore / 2.0
    G = [young / (2.0 * (1.0 + poisson)) for young, poisson in (steel, infill)]
    EI = steel[0] * round_section.second_moment(diameter, bore)
    EI += infill[0] * round_section.second_moment(bore)
    turn = (np.arange(_LAYERS) + 0.5) * np.pi / (2.0 * _LAYERS)
    y, dy = radius * np.sin(turn), radius * np.cos(turn) * np.pi / (2.0 * _LAYERS)
    inner = np.sqrt(np.maximum(hollow**2 - y**2, 0.0))
    outer = radius * np.cos(turn)
    beyond = 2.0 * outer**3 / 3.0, 2.0 * inner**3 / 3.0  # first moments of what lies beyond y
    ES = steel[0] * (beyond[0] - beyond[1]) + infill[0] * beyond[1]
    Gb = 2.0 * (G[0] * (outer - inner) + G[1] * inner)
    return float(EI**2 / (2.0 * np.sum(ES**2 / Gb * dy)))


def axial_stress(case: Case, section: Section, young: float, moment: float, y: ArrayLike) -> Floats:
    """Stress along the post, MPa, of its bending, ``y`` mm from the impacted face into the section.

    M (R − y) E/(EI) with the moment in N mm and the modulus of the part that ``y`` lies in: tension
    at the impacted face, as the force bends the post away from the plate. Source: beam theory;
    plane sections stay plane.

    Beside it, a slice in plane strain keeps the σz of its plane stress, which is exact where steel
    and infill have the same Poisson's ratio; where not, their bond adds stress in the plane, which
    is left out, as is the shear of the beam itself, nil at the impacted face.
    """
    curvature = moment / beam_of(case, section).bending
    stress: Floats = young * curvature * (section.radius - np.asarray(y))
    return stress
