"""A grade of steel: its strengths by thickness, whether built in or stated in a case."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from contactfe.case.display import SI, Display
from contactfe.case.material import HardeningKind, Material
from contactfe.case.units import Measures
from contactfe.errors import InputError

Product = Literal["solid", "tube", "plate"]
PRODUCTS: tuple[Product, ...] = ("solid", "tube", "plate")

# A thickness on the edge of a band belongs to it, however the conversion of inches rounded.
_EDGE = 1 + 1e-9


class ThicknessError(InputError):
    """A thickness beyond what a grade is listed for."""


@dataclass(frozen=True)
class Band:
    """The minimum strengths over one thickness and up to that of the next band, the last open."""

    over: Annotated[
        float, Measures("length")
    ]  # mm; a thickness of just that belongs to the band below
    yield_strength: float  # MPa
    ultimate_strength: float | None  # MPa; None where it is not stated


@dataclass(frozen=True)
class Grade:
    """One grade; moduli in MPa, thicknesses in mm."""

    name: str  # as a case file gives it
    young: float
    poisson: float
    bands: tuple[Band, ...]  # the first over 0, each over more than the one before
    # Products it may be used as, and up to what thickness, mm.
    largest: Annotated[Mapping[Product, float], Measures("length")]
    source: str  # of the strengths, as part of a sentence
    elastic_source: str  # of young and poisson
    design_wall: float = 1.0  # share of the nominal wall that AISC 360, B4.2 takes for design
    # Outside diameter, mm, up to which its standard covers tubes.
    widest: Annotated[float, Measures("length")] = float("inf")
    other_material: bool = False  # quenched and tempered: by AISC 360, A3.1b
    hardening: float = 0.0  # at every thickness
    hardening_kind: HardeningKind = "isotropic"

    def material(self, thickness: float, product: Product, units: Display = SI) -> Material:
        """The steel at the thickness, mm, that governs its strength.

        That is the diameter of a solid round, the wall of a tube, the thickness of a plate. The
        source of the material names the table, its row, and whether the numbers were seen.

        Raises InputError for a product that the grade is not made as, and ThicknessError for a
        thickness beyond what is listed for it; texts state thickness in the units given.
        """
        limit = self.largest.get(product)
        if limit is None:
            raise InputError(
                f'"{self.name}" is listed as {" or ".join(self.largest)}, not as {product}; '
                "name another steel"
                + (
                    "; of a tube bored from bar state the bar's, as a [grade]"
                    if product == "tube" and "solid" in self.largest
                    else ""
                )
            )
        if thickness > limit * _EDGE:
            text = units.length.text
            raise ThicknessError(
                f'"{self.name}" is listed as {product} up to {text(limit)} thick, '
                f"not {text(thickness)}"
            )
        band = [band for band in self.bands if thickness > band.over * _EDGE][-1]
        row = f", row for over {units.length.text(band.over)}" if len(self.bands) > 1 else ""
        return Material(
            name=self.name,
            young=self.young,
            poisson=self.poisson,
            yield_strength=band.yield_strength,
            ultimate_strength=band.ultimate_strength,
            source=f"{self.name}: {self.source}{row}; elastic constants: {self.elastic_source}",
            design_wall=self.design_wall if product == "tube" else 1.0,
            other_material=self.other_material,
            hardening=self.hardening,
            hardening_kind=self.hardening_kind,
        )
