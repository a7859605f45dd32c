"""What a hand calculation was given: loads, sizes, steels with their source, factors."""

from collections.abc import Iterator

from contactfe.assess.by_hand.clauses import correlation
from contactfe.case import Case, Material
from contactfe.case.alignment import Alignment
from contactfe.case.display import Display
from contactfe.report import words


def inputs(case: Case) -> tuple[str, ...]:
    """One line for each thing that the case states, or that was looked up for it."""
    return tuple(_inputs(case))


def _inputs(case: Case) -> Iterator[str]:
    units = case.display
    yield _load("Load", case.line_load, case.contact_length, units)
    if case.alignment is not None:
        yield _tilt(case.alignment, units)
    if case.corner is not None:
        load, length = case.corner.line_load, case.corner.contact_length
        yield _load("Load on the second plate", load, length, units)
    for steel, names in _post_steels(case).items():
        of = "" if len(names) == len(case.sections) else f", {', '.join(names)}"
        yield f"Steel of the post{of}: {_steel(steel, units)}"
    yield f"Steel of the plate: {_steel(case.plate_material, units)}"
    yield (
        f"Yield margin {case.yield_margin:g}: what a stress is measured by is"
        f" {words.limit(case)}. Clauses have factors of their own and not this margin."
    )
    if (cantilever := case.cantilever) is not None:
        mm = units.length
        parts = [f"{mm.text(cantilever.length)} from the root to the middle of the contact"]
        if cantilever.weld_throat is not None:
            parts.append(f"fillet weld of throat {mm.text(cantilever.weld_throat)} all round")
        if cantilever.fixing == "groove weld":
            parts.append("groove weld of complete joint penetration at the root")
        if cantilever.socket_depth is not None:
            parts.append(f"socket {mm.text(cantilever.socket_depth)} deep")
        if cantilever.socket_yield is not None:
            parts.append(
                f"yield strength of the socket {units.stress.text(cantilever.socket_yield)}"
            )
        if cantilever.electrode_strength is not None:
            parts.append(f"electrodes of {units.stress.text(cantilever.electrode_strength)}")
        yield f"Post along its axis: {', '.join(parts)}"
    if families := case.standards.families:
        yield f"Standards: {'; '.join(_factors(case, families))}"


def _tilt(alignment: Alignment, units: Display) -> str:
    if alignment.assumed:
        within = f", off by up to {units.angle.text(alignment.off)}" if alignment.off else ""
        return (
            "Plate to the unbent post along its axis: no tilt is stated, a straight plate is"
            f" assumed{within}; the line load is the mean"
        )
    tilt, off = units.angle.text(alignment.tilt), units.angle.text(alignment.off)
    of = "" if alignment.off == alignment.misalignment else ", the tolerances with it"
    return (
        f"Plate to the unbent post along its axis: tilt {tilt} (positive: the tip is met first),"
        f" off by up to {off} either way{of}; the line load is the mean"
    )


def _load(name: str, line_load: float, length: float | None, units: Display) -> str:
    if length is None:
        return f"{name}: line load q = {units.line_load.text(line_load)}"
    force = units.force.text(line_load * length)
    return (
        f"{name}: force {force} over {units.length.text(length)}, line load q ="
        f" {units.line_load.text(line_load)}"
    )


def _post_steels(case: Case) -> dict[Material, list[str]]:
    """Each steel that a section has at its thickness, with the sections that have it."""
    found: dict[Material, list[str]] = {}
    for section in case.sections:
        found.setdefault(case.post_material(section), []).append(words.one_line(section.name))
    return found


def _steel(steel: Material, units: Display) -> str:
    """A steel with its constants and where they are from."""
    stress = units.stress
    ultimate = steel.ultimate_strength
    source = steel.source.removeprefix(f"{steel.name}: ")
    fu = "ultimate strength not stated" if ultimate is None else f"fu = {stress.text(ultimate)}"
    return (
        f"{steel.name}, fy = {stress.text(steel.yield_strength)}, {fu}, E ="
        f" {stress.text(steel.young)}, ν = {steel.poisson:g} ({source})"
    )


def _factors(case: Case, families: tuple[str, ...]) -> Iterator[str]:
    stated = case.standards
    if "AISC" in families:
        yield f"AISC 360 by {stated.method}"
    if "AASHTO" in families:
        yield "AASHTO LRFD"
    if "EN" in families:
        gammas = f"γM0 = {stated.gamma_M0:g}, γM2 = {stated.gamma_M2:g}"
        yield f"EN with {gammas}, γM6,ser = {stated.gamma_M6_ser:g}, γm = {stated.gamma_m:g}"
    welded = [steel for steel in _post_steels(case) if steel.ultimate_strength is not None]
    root = case.cantilever
    if "EN" in families and welded and root is not None and root.weld_throat is not None:
        factors = sorted({correlation(steel) for steel in welded})
        betas = ", ".join(f"{factor:g}" for factor in factors)
        yield (
            f"βw = {betas} of the root weld by EN 1993-1-8, Table 4.1 (seen in an open library; 1"
            " where it does not name the steel), with fu of the post"
        )
