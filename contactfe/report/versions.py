"""Versions of the libraries that results depend on."""

from importlib import metadata

LIBRARIES = ("gmsh", "scikit-fem", "numpy", "scipy")
"""Whose versions can move the figures in their last digits."""


def library_versions() -> dict[str, str | None]:
    """Version of each of them; None where its installer left no record of it."""
    return {name: _version(name) for name in LIBRARIES}


def _version(library: str) -> str | None:
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return None
