"""The tables that state bodies: [post], [plate] and [[section]]."""

from collections.abc import Iterator, Mapping
from dataclasses import InitVar, dataclass, field
from typing import Annotated, Any

from contactfe.case.holds import (
    PLATE_SUPPORTS,
    POST_SUPPORTS,
    PlateHold,
    PlateSupport,
    PostHold,
    PostSupport,
    named,
)
from contactfe.case.kinds import (
    Density,
    Designation,
    Length,
    LineStiffness,
    MeshFile,
    MeshUnit,
    Name,
    Poisson,
    Read,
    Steel,
    SteelOrValues,
    Stress,
    StressFromZero,
)
from contactfe.case.material import HardeningKind, Material, hardening_faults, too_soft
from contactfe.case.stock import stock_size
from contactfe.case.table import DERIVED, Reading, Table, key
from contactfe.case.tolerance import DEVIATION, Deviation, parse_deviation
from contactfe.section.outlines import Geometry, Shape, geometry_of


@dataclass(frozen=True, kw_only=True)
class _OfSteel(Table):
    """A body of a named steel, or of one whose values are stated."""

    steel: Annotated[
        SteelOrValues, key("name of a steel, built in or of [grade]", "EN 10025-2 S355")
    ] = DERIVED
    young: InitVar[
        Annotated[
            Stress | None,
            key("Young's modulus, with poisson and yield in place of steel", "200 GPa"),
        ]
    ] = None
    poisson: InitVar[Annotated[Poisson | None, key("Poisson's ratio")]] = None
    yield_strength: InitVar[
        Annotated[Stress | None, key("yield strength", "355 MPa", name="yield")]
    ] = None
    ultimate: InitVar[
        Annotated[Stress | None, key("tensile strength; some clauses need it", "470 MPa")]
    ] = None
    hardening: InitVar[
        Annotated[
            StressFromZero | None,
            key(
                "plastic modulus, the slope of the yield strength over plastic strain; at most a"
                " tenth of young; elastic, perfectly plastic without it",
                "2 GPa",
            ),
        ]
    ] = None
    hardening_kind: InitVar[
        Annotated[HardeningKind, key("whether the yield surface grows or moves, beside hardening")]
    ] = "isotropic"

    def __post_init__(
        self,
        young: float | None,
        poisson: float | None,
        yield_strength: float | None,
        ultimate: float | None,
        hardening: float | None,
        hardening_kind: HardeningKind,
    ) -> None:
        if young is not None and poisson is not None and yield_strength is not None:
            of = Material(
                "stated",
                young,
                poisson,
                yield_strength,
                "stated in the case",
                ultimate,
                hardening=hardening or 0.0,
                hardening_kind=hardening_kind,
            )
            object.__setattr__(self, "steel", of)

    def faults(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        """A steel by its name or by its values, and values that belong together."""
        needed = "young", "poisson", "yield"
        missing = [name for name in needed if name not in written]
        if "steel" in written:
            if len(missing) < len(needed) or "ultimate" in written:
                yield "", "states steel and also young, poisson, yield or ultimate; choose one"
            # As the other values of a steel, which a section may name another of.
            for name in ("hardening", "hardening_kind"):
                if name in written:
                    yield name, "must not be stated beside steel; state it in a [grade.NAME]"
        elif missing:
            are = "is" if len(missing) == 1 else "are"
            yield (
                "",
                f"{', '.join(missing)} {are} missing; state either"
                ' steel = "EN 10025-2 S355", or all of young, poisson and yield',
            )
        of = self.steel
        if not isinstance(of, Material):
            return
        if of.ultimate_strength is not None and of.ultimate_strength < of.yield_strength:
            least = reading.shown(of.yield_strength, "stress")
            yield "ultimate", f"must be at least the yield strength, {least}"
        if soft := too_soft(written, of.young, [of.yield_strength]):
            yield "", soft
        yield from hardening_faults(written, of.young, of.hardening, reading)


@dataclass(frozen=True, kw_only=True)
class Post(_OfSteel):
    """What all candidate sections share; its steel by name, or by young, poisson and yield."""

    held_by: Annotated[
        PostHold,
        key("what balances the contact force, unless a section says otherwise", "beam shear"),
    ]
    # That of steel by EN 10210-2 (from memory, not seen).
    density: Annotated[Density, key("density of the steel", "7850 kg/m3")] = 7850.0

    @property
    def support(self) -> PostSupport:
        """How it is held, but for sections that say otherwise."""
        return POST_SUPPORTS[self.held_by]


@dataclass(frozen=True, kw_only=True)
class Plate(_OfSteel):
    """The bumper plate; its steel by name, or by young, poisson and yield."""

    width: Annotated[Length, key("along the impacted face", "400 mm")]
    thickness: Annotated[Length, key("in the direction of the impact", "60 mm")]
    held_by: Annotated[PlateHold, key("what holds it", "rigid base")]
    spring: Annotated[
        LineStiffness | None,
        key(
            "stiffness of elastic supports, of each edge and per length along the post",
            "4 kN/mm/mm",
        ),
    ] = None  # N/mm per mm

    @property
    def support(self) -> PlateSupport:
        """How it is held."""
        return PLATE_SUPPORTS[self.held_by]

    def faults(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        """A spring for elastic supports alone, and the rules of a steel."""
        yield from super().faults(written, reading)
        if self.support.spring and self.spring is None:
            yield (
                "spring",
                f'is missing; held_by = "{self.held_by}" needs it: write for example'
                ' spring = "2 kN/mm/mm", the stiffness at each edge per length along the post',
            )
        if self.spring is not None and not self.support.spring:
            on_springs = named(support for support in PLATE_SUPPORTS.values() if support.spring)
            yield "spring", f"must not be stated unless held_by = {on_springs}"


@dataclass(frozen=True)
class Infill(Table):
    """What fills the bore, bonded to the steel.

    Its solved stresses are held to the strengths that are stated, as they are: design values, with
    the safety that is wanted in them. What is not stated stays an open item.

    It may stand in one line of its section: `infill = { young = "30 GPa", poisson = 0.2, density =
    "2400 kg/m3" }`.
    """

    name: Annotated[Name, key("what it is called")] = field(default="infill", kw_only=True)
    young: Annotated[Stress, key("Young's modulus", "30 GPa")]
    poisson: Annotated[Poisson, key("Poisson's ratio", 0.2)]
    density: Annotated[Density, key("density, which counts for the mass", "2400 kg/m3")]
    compressive_strength: Annotated[
        Stress | None, key("design strength in compression", "20 MPa")
    ] = field(default=None, kw_only=True)
    tensile_strength: Annotated[Stress | None, key("design strength in tension", "1.5 MPa")] = (
        field(default=None, kw_only=True)
    )
    bond_strength: Annotated[
        Stress | None,
        key("design strength of its bond to the steel, in tension and in shear", "0.5 MPa"),
    ] = field(default=None, kw_only=True)

    @property
    def unknown(self) -> tuple[str, ...]:
        """Keys of the strengths that are not stated."""
        names = "compressive_strength", "tensile_strength", "bond_strength"
        return tuple(name for name in names if getattr(self, name) is None)


@dataclass(frozen=True)
class Section(Table):
    """One candidate for the post, any number of them.

    An outside diameter alone makes it a solid round; with a wall or a bore it is a tube. A stock
    size stands in place of all three. With a mesh it is a section drawn elsewhere.
    """

    name: Annotated[Name, key("unique in the case", "tube 150 x 25")]
    stock: Annotated[
        Designation | None,
        key(
            "stock size, in place of diameter and wall",
            "ASME B36.10M NPS 6 XXS",
            name="designation",
        ),
    ] = field(default=None, kw_only=True)
    outside_diameter: Annotated[
        Length, key("of the round; of a mesh, that of the circle which its contact line lies on")
    ] = DERIVED
    wall: Annotated[Length | None, key("thickness of a tube", "25 mm")] = None
    bore: InitVar[
        Annotated[Length | None, key("diameter of the bore, in place of wall", "100 mm")]
    ] = field(default=None, kw_only=True)
    steel: Annotated[
        Steel | None, key("name of its steel where it differs from the post's", "EN 10210-1 S355H")
    ] = None
    held_by: Annotated[PostHold | None, key("where it differs from the post's")] = None
    mesh: Annotated[
        MeshFile | None,
        key("path of the mesh, from the folder of the case", "../meshes/ribbed-tube.msh"),
    ] = None
    mesh_unit: Annotated[
        MeshUnit, key("unit of length of the mesh, by name or as a length", "mm")
    ] = 1.0
    governing_thickness: Annotated[
        Length | None,
        key(
            "thickness that the strength of a mesh's steel goes by", "30 mm", name="steel_thickness"
        ),
    ] = None
    infill: Annotated[
        Infill | None, key("what fills the bore, or the group `infill` of a mesh")
    ] = None
    wall_tolerance: Annotated[
        Deviation | None, Read(parse_deviation, DEVIATION, "length"),
        key("of its wall, under and over, where it differs from [tolerance]", "2 %"),
    ] = None  # fmt: skip

    def __post_init__(self, bore: float | None) -> None:
        unsized = self.outside_diameter is DERIVED
        if self.stock is not None and unsized:
            size = stock_size(self.stock)
            object.__setattr__(self, "outside_diameter", size.outside_diameter)
            object.__setattr__(self, "wall", size.wall)
        elif bore is not None and not unsized:
            object.__setattr__(self, "wall", (self.outside_diameter - bore) / 2)

    def faults(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        """One way to state the size, and lengths that fit into one another."""
        choose = "must not be stated beside {}; choose one"
        sizes = [name for name in ("outside_diameter", "wall", "bore", "mesh") if name in written]
        if self.stock is not None:
            yield from ((name, choose.format("designation")) for name in sizes)
        elif "outside_diameter" not in sizes:
            yield (
                "outside_diameter",
                'is missing; write for example outside_diameter = "150 mm", '
                'or in its place designation = "ASME B36.10M NPS 6 XXS"',
            )
        if {"wall", "bore"} <= set(sizes):
            yield "bore", choose.format("wall")
        if "mesh" in sizes:
            yield from (("mesh", choose.format(name)) for name in sizes if name in {"wall", "bore"})
        else:
            own = ("mesh_unit", "steel_thickness")
            yield from (
                (name, "must not be stated without mesh") for name in own if name in written
            )
            if self.infill is not None and self.stock is None and sizes == ["outside_diameter"]:
                yield (
                    "infill",
                    "must not be stated without wall, bore, designation or mesh: there is no bore",
                )
        tube = {"wall", "bore"} & set(sizes) or self.stock is not None
        if self.wall_tolerance is not None and ("mesh" in sizes or not tube):
            yield (
                "wall_tolerance",
                "must not be stated without wall, bore or designation: there is no wall to be off",
            )
        if self.stock is None and "outside_diameter" in sizes:
            yield from self._too_thick(written, reading)

    def _too_thick(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        diameter = self.outside_diameter
        all_of_it = reading.shown(diameter, "length")
        if "bore" in written and self.wall is not None and "wall" not in written:
            if self.wall <= 0.0:
                yield "bore", f"must be less than the outside diameter, {all_of_it}"
        elif self.wall is not None and self.wall >= diameter / 2:
            half = reading.shown(diameter / 2, "length")
            yield "wall", f"must be less than half the outside diameter, {half}"
        if self.governing_thickness is not None and self.governing_thickness > diameter:
            yield "steel_thickness", f"must be at most the outside diameter, {all_of_it}"

    @property
    def geometry(self) -> Geometry:
        """Its shape, and what follows from it."""
        return geometry_of(
            self.outside_diameter, self.wall, filled=self.infill is not None,
            drawn=self.mesh is not None, governing_thickness=self.governing_thickness,
        )  # fmt: skip

    @property
    def shape(self) -> Shape:
        """Own mesh where a mesh is stated, solid where no wall is; a tube may be filled."""
        return self.geometry.shape

    @property
    def radius(self) -> float:
        """Outside radius, mm; of an own mesh, that of the circle its contact line lies on."""
        return self.outside_diameter / 2
