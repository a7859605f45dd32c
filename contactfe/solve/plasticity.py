"""Small-strain von Mises (J2) plasticity at a point, with radial return in closed form.

Stress and strain are tensors of six components (..., 6): xx, yy, zz, xy, xz, yz; those of strain
are the tensor's own, half of the engineering shear. Source of the return and of its consistent
tangent for linear hardening: J. C. Simo and T. J. R. Hughes, Computational Inelasticity (1998),
box 3.1 and 3.2, from memory, not seen; the tests hold it against closed forms.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from contactfe.solve.elastic import Elastic, Floats

HardeningKind = Literal["isotropic", "kinematic"]

IN_PLANE = [0, 1, 3]
"""Components xx, yy, xy."""

_TWICE = np.array([1.0, 1.0, 1.0, 2.0, 2.0, 2.0])  # each shear stands for two of the tensor
_UNIT = np.array([1.0, 1.0, 1.0, 0.0, 0.0, 0.0])
_DEVIATORIC = np.array([[2.0, -1.0, 0.0], [-1.0, 2.0, 0.0], [0.0, 0.0, 1.5]]) / 3.0
_JUST = 1e-12
"""Overstress over yield strength that is rounding: what was returned before lies on the surface."""


@dataclass(frozen=True)
class Plastic:
    """A steel that yields: elastic in plane strain, MPa, with linear hardening or none.

    ``hardening`` is the slope of yield strength over equivalent plastic strain in tension.
    """

    elastic: Elastic
    yield_strength: float
    hardening: float = 0.0
    kind: HardeningKind = "isotropic"

    @property
    def bulk(self) -> float:
        """Bulk modulus K = E / 3(1 − 2ν), MPa."""
        return self.elastic.young / (3.0 * (1.0 - 2.0 * self.elastic.poisson))

    @property
    def isotropic(self) -> float:
        """The part of the hardening by which the yield surface grows, MPa."""
        return self.hardening if self.kind == "isotropic" else 0.0

    @property
    def kinematic(self) -> float:
        """The part of the hardening by which it moves, MPa."""
        return self.hardening - self.isotropic


@dataclass(frozen=True)
class PlasticState:
    """Plastic strain (..., 6), back stress (..., 6) MPa, equivalent plastic strain (...,)."""

    strain: Floats
    back: Floats
    equivalent: Floats


@dataclass(frozen=True)
class Returned:
    """Stress (..., 6) MPa of a strain, and the plastic state that goes with it.

    ``yields`` (...,) marks where plastic strain was added, ``added`` (...,) how much equivalent
    plastic strain. The deviatoric tangent is 2μ(θ I − ϑ n⊗n), with θ ``soft``, ϑ ``along`` and n
    ``normal`` (..., 6); the volume stays elastic.
    """

    stress: Floats
    state: PlasticState
    yields: NDArray[np.bool_]
    added: Floats
    soft: Floats
    along: Floats
    normal: Floats


def virgin(shape: tuple[int, ...]) -> PlasticState:
    """The state of points (shape) that never yielded."""
    return PlasticState(np.zeros((*shape, 6)), np.zeros((*shape, 6)), np.zeros(shape))


def returned(law: Plastic, strain: Floats, state: PlasticState, beside: Floats) -> Returned:
    """Stress of a total ``strain`` (..., 6) reached from a state of equilibrium.

    ``beside`` (..., 6) MPa is elastic stress that comes from no strain of the plane: of bending
    along the third axis. It takes part in the yielding.
    """
    mu, Y = law.elastic.mu, law.yield_strength
    trial = 2.0 * mu * (deviator(strain) - state.strain) + deviator(beside)
    reduced = trial - state.back
    size = norm(reduced)
    over = np.sqrt(1.5) * size - Y - law.isotropic * state.equivalent
    yields = over > _JUST * Y
    added = np.where(yields, over, 0.0) / (3.0 * mu + law.hardening)
    normal = reduced / np.maximum(size, np.finfo(float).tiny)[..., None]
    flow = np.sqrt(1.5) * added  # size of the plastic strain that is added
    stress = trial - (2.0 * mu * flow)[..., None] * normal
    mean = law.bulk * trace(strain) + trace(beside) / 3.0
    new = PlasticState(
        state.strain + flow[..., None] * normal,
        state.back + (2.0 / 3.0 * law.kinematic * flow)[..., None] * normal,
        state.equivalent + added,
    )
    soft = 1.0 - np.where(yields, 2.0 * mu * flow / np.maximum(size, np.finfo(float).tiny), 0.0)
    along = np.where(yields, 1.0 / (1.0 + law.hardening / (3.0 * mu)) - (1.0 - soft), 0.0)
    return Returned(
        stress + mean[..., None] * _UNIT, new, yields, added, soft, along, normal
    )  # fmt: skip


def plane_tangent(law: Plastic, soft: Floats, along: Floats, normal: Floats) -> Floats:
    """Deviatoric tangent (..., 3, 3), MPa: σxx, σyy, τxy less their mean for εxx, εyy, γxy."""
    n = normal[..., IN_PLANE]
    flow = along[..., None, None] * n[..., :, None] * n[..., None, :]
    tangent: Floats = soft[..., None, None] * _DEVIATORIC - flow
    return 2.0 * law.elastic.mu * tangent


def trace(tensor: Floats) -> Floats:
    """The sum xx + yy + zz."""
    total: Floats = tensor[..., :3].sum(axis=-1)
    return total


def deviator(tensor: Floats) -> Floats:
    """A tensor less its mean."""
    left: Floats = tensor - (trace(tensor) / 3.0)[..., None] * _UNIT
    return left


def norm(tensor: Floats) -> Floats:
    """The square root of a tensor's product with itself."""
    size: Floats = np.sqrt((tensor**2 * _TWICE).sum(axis=-1))
    return size


def product(first: Floats, second: Floats) -> Floats:
    """The product a:b of two tensors."""
    total: Floats = (first * second * _TWICE).sum(axis=-1)
    return total
