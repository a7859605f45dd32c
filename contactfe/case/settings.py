"""The tables that say how to work: [model], [check], [accept], [report], [document], and those that
only hand formulas and clauses use, [cantilever] and [standards].
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from typing import Annotated, Any, Literal, get_args

from contactfe.case.display import ReportUnits
from contactfe.case.kinds import Day, Length, Margin, Name, Names, PartialFactor, Stress
from contactfe.case.table import Reading, Table, key

PlaneState = Literal["plane strain", "plane stress"]
Family = Literal["AISC", "AASHTO", "EN"]
Method = Literal["LRFD", "ASD"]
Paper = Literal["A4", "US Letter"]
Root = Literal["fillet weld", "groove weld", "socket"]


@dataclass(frozen=True)
class Model(Table):
    """What the plane section stands for."""

    # The state of a long post away from its ends.
    state: Annotated[PlaneState, key("plane strain, of a long post, or plane stress")] = (
        "plane strain"
    )


@dataclass(frozen=True)
class Check(Table):
    """What the solved stresses are held against."""

    yield_margin: Annotated[Margin, key("least yield strength over peak von Mises stress")] = 1.0


@dataclass(frozen=True)
class Accept(Table):
    """Open items that the engineer has settled otherwise, each with the reason."""

    sharing: Annotated[
        Name | None, key("how the load is shared along the post", "guide rails on site")
    ] = None
    tilt: Annotated[
        Name | None, key("tilt of the plate, where none is stated", "shimmed and surveyed")
    ] = None
    post: Annotated[
        Name | None, key("bending and shear of the post along its axis", "designed elsewhere")
    ] = None
    root: Annotated[
        Name | None, key("connection of the post at its root", "designed elsewhere")
    ] = None
    motion: Annotated[
        Name | None,
        key(
            "that there is no [motion], or the load is not known to cover it", "from a time history"
        ),
    ] = None
    law: Annotated[
        Name | None,
        key("that the impact force goes by a stated contact law", "the frame gives way"),
    ] = None
    ground: Annotated[
        Name | None,
        key("stroke of dampers and displacement while the ground moves", "from a time history"),
    ] = None
    relief: Annotated[
        Name | None,
        key(
            "that of a tube over a short, uneven or unstated contact length",
            "taken between the bounds",
        ),
    ] = None
    infill: Annotated[
        Name | None, key("what of its strength no check covers", "grout not relied on")
    ] = None
    tolerance: Annotated[
        Name | None,
        key("that a tube is taken with its nominal wall", "the wall is measured before use"),
    ] = None

    @property
    def reasons(self) -> tuple[tuple[str, str], ...]:
        """Key and reason of each that is stated."""
        of = ((field.name, getattr(self, field.name)) for field in fields(self))
        return tuple((name, reason) for name, reason in of if reason is not None)


@dataclass(frozen=True)
class Report(Table):
    """How results are shown, whatever units the file itself uses."""

    units: Annotated[ReportUnits, key("of what is printed and drawn")] = "SI"


@dataclass(frozen=True)
class Document(Table):
    """What the title block of the calculation has; what is not stated is a line to fill in."""

    project: Annotated[Name | None, key("that the stop is part of", "Quayside annex")] = None
    calculation: Annotated[Name | None, key("number of the calculation", "C-104")] = None
    revision: Annotated[Name | None, key("of the calculation", "B")] = None
    prepared: Annotated[Name | None, key("by whom", "N. N.")] = None
    checked: Annotated[Name | None, key("by whom", "N. N.")] = None
    approved: Annotated[Name | None, key("by whom", "N. N.")] = None
    date: Annotated[Day | None, key("of the calculation", "2026-05-04")] = None
    paper: Annotated[Paper, key("that it is printed on")] = "A4"


@dataclass(frozen=True)
class Cantilever(Table):
    """The post along its axis, from its root at the moving floor.

    Needs force and contact_length in [load].
    """

    length: Annotated[Length, key("from the root to the middle of the contact", "900 mm")]
    weld_throat: Annotated[
        Length | None, key("throat of a fillet weld all round the root", "14 mm")
    ] = None
    electrode_strength: Annotated[
        Stress | None, key("tensile strength of the weld metal", "490 MPa")
    ] = None
    # Not stated, the post may end with its contact or go on: both are looked at.
    tip: Annotated[
        Length | None, key("from the middle of the contact to the post's free end", "250 mm")
    ] = None
    root: Annotated[
        Root | None,
        key(
            "how the post is fixed; weld_throat alone means a fillet weld, socket_depth a socket,"
            " and a groove weld is one of complete joint penetration"
        ),
    ] = field(default=None, kw_only=True)
    socket_depth: Annotated[
        Length | None, key("depth of a socket in which the post stands, from its mouth", "200 mm")
    ] = field(default=None, kw_only=True)
    socket_yield: Annotated[
        Stress | None, key("yield strength of the socket; its clauses need it", "250 MPa")
    ] = field(default=None, kw_only=True)

    @property
    def fixing(self) -> Root | None:
        """How the post is fixed at its root; None where that is not stated."""
        if self.root is None and self.weld_throat is not None:
            return "fillet weld"
        return self.root or (None if self.socket_depth is None else "socket")

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """What goes with how the post is fixed, and what does not."""
        fixing = self.fixing
        if "weld_throat" in written and fixing != "fillet weld":
            yield "weld_throat", f'must not be stated beside root = "{fixing}"'
        if "electrode_strength" in written and fixing not in {"fillet weld", "groove weld"}:
            message = 'must not be stated without weld_throat or root = "groove weld"'
            yield "electrode_strength", message
        if "socket_depth" in written and fixing != "socket":
            yield "socket_depth", "must not be stated beside a weld"
        if "socket_yield" in written and fixing != "socket":
            yield "socket_yield", "must not be stated without socket_depth"
        for root, needed in (("fillet weld", "weld_throat"), ("socket", "socket_depth")):
            if self.root == root and needed not in written:
                yield needed, f'is missing; root = "{root}" needs it'


@dataclass(frozen=True)
class Standards(Table):
    """Which standards are applied, and the factors in them that are not the clause's own.

    The partial factors are those that the EN standards recommend; national annexes may set others.
    """

    families: Annotated[
        tuple[Family, ...], Names(lambda: get_args(Family), "family of standards"),
        key("families applied; all without it, [] for none", list(get_args(Family)), name="apply"),
    ] = get_args(Family)  # fmt: skip
    method: Annotated[Method, key("of AISC 360: by resistance factors, or by safety factors")] = (
        "LRFD"
    )
    gamma_M0: Annotated[PartialFactor, key("partial factor of cross-sections")] = 1.0
    gamma_M2: Annotated[PartialFactor, key("partial factor of welds")] = 1.25
    gamma_M6_ser: Annotated[PartialFactor, key("partial factor of pins in service")] = 1.0
    gamma_m: Annotated[PartialFactor, key("partial factor of EN 1337")] = 1.0
