"""Arguments that a formula cannot take are refused by name, with the value and what is allowed."""

from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
"""What a pointwise formula returns: the shape its arguments broadcast to, a scalar for floats."""

State = Literal["plane strain", "plane stress"]
"""Plane strain for a long post, plane stress for a thin slice of it."""

HeldBy = Literal["diametral", "beam shear"]
"""What balances the contact load: an equal line load opposite, or the change of beam shear."""


def positive(**values: ArrayLike) -> None:
    """Raise ValueError unless every value, named by its keyword, is finite and above zero.

    >>> positive(radius=-3.0)
    Traceback (most recent call last):
    ValueError: radius = -3.0 is not allowed: it must be finite and greater than 0
    """
    for name, value in values.items():
        if not np.all(np.isfinite(value) & (np.asarray(value) > 0)):
            _refuse(name, value, "it must be finite and greater than 0")


def not_negative(**values: ArrayLike) -> None:
    """Raise ValueError unless every value, named by its keyword, is finite and zero or more."""
    for name, value in values.items():
        if not np.all(np.isfinite(value) & (np.asarray(value) >= 0)):
            _refuse(name, value, "it must be finite and not negative")


def nothing(**_: object) -> None:
    """Refuse no value."""


def finite(**values: ArrayLike) -> None:
    """Raise ValueError unless every value, named by its keyword, is a finite number."""
    for name, value in values.items():
        if not np.all(np.isfinite(value)):
            _refuse(name, value, "it must be finite")


def poisson_ratio(**values: float) -> None:
    """Raise ValueError unless every value lies between 0 and 0.5, both included."""
    for name, value in values.items():
        if not 0 <= value <= 0.5:
            _refuse(name, value, "a Poisson ratio must lie in [0, 0.5]")


def partial_factor(**values: float) -> None:
    """Raise ValueError unless every partial factor, named by its keyword, is finite and at least 1.

    Below 1 it would raise a strength above the characteristic one.

    >>> partial_factor(gamma_M0=0.5)
    Traceback (most recent call last):
    ValueError: gamma_M0 = 0.5 is not allowed: a partial factor must be finite and at least 1
    """
    for name, value in values.items():
        if not 1 <= value < np.inf:
            _refuse(name, value, "a partial factor must be finite and at least 1")


def share(**values: float) -> None:
    """Raise ValueError unless every value lies between 0, excluded, and 1."""
    for name, value in values.items():
        if not 0 < value <= 1:
            _refuse(name, value, "it must lie in (0, 1]")


def damping_ratio(**values: float) -> None:
    """Raise ValueError unless every value lies between 0, included, and 1, excluded."""
    for name, value in values.items():
        if not 0 <= value < 1:
            _refuse(name, value, "it must lie in [0, 1)")


def plane_state(state: str) -> None:
    """Raise ValueError unless the state is one of :data:`State`."""
    one_of("state", state, get_args(State))


def holding(held_by: str) -> None:
    """Raise ValueError unless the support is one of :data:`HeldBy`."""
    one_of("held_by", held_by, get_args(HeldBy))


def round_section(radius: float, bore_radius: float) -> None:
    """Raise ValueError unless 0 <= bore_radius < radius."""
    positive(radius=radius)
    if not 0 <= bore_radius < radius:
        _refuse("bore_radius", bore_radius, f"it must lie in [0, radius = {radius})")


def bore(outside_diameter: float, bore: float) -> None:
    """Raise ValueError unless 0 <= bore < outside_diameter."""
    positive(outside_diameter=outside_diameter)
    if not 0 <= bore < outside_diameter:
        _refuse("bore", bore, f"it must lie in [0, outside_diameter = {outside_diameter})")


def tube_wall(radius: float, wall: float) -> None:
    """Raise ValueError unless 0 < wall < radius."""
    positive(radius=radius)
    if not 0 < wall < radius:
        _refuse("wall", wall, f"it must lie between 0 and the radius {radius}, both excluded")


def one_of(name: str, value: str, allowed: tuple[str, ...]) -> None:
    """Raise ValueError unless the word is one of those allowed."""
    if value not in allowed:
        _refuse(name, value, "it must be one of " + ", ".join(map(repr, allowed)))


def _refuse(name: str, value: object, allowed: str) -> None:
    raise ValueError(f"{name} = {value!r} is not allowed: {allowed}")
