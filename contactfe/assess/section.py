"""One section, from mesh to verdict: solved on two levels, held against yield and hand formulas."""

from collections.abc import Callable

from contactfe.assess.accuracy import added_hoop, solve_levels, uncertainty
from contactfe.assess.first_yield import YIELD_TOLERANCE, first_yield
from contactfe.assess.handchecks import hand_checks
from contactfe.assess.level import Bodies, Reading
from contactfe.assess.places import Peak
from contactfe.assess.results import BodyResult, SectionResult, Value
from contactfe.case import Case, Material, Section


def assess_section(case: Case, section: Section, bodies: Bodies) -> SectionResult:
    """Solve and check one section of a case. Raises what ``solve_levels`` raises."""
    both = solve_levels(case, section, bodies)
    rough, best, value = both.coarse.reading, both.fine.reading, both.value
    levels = [both.fine.level]

    def body(
        steel: Material, peaks: Callable[[Reading], tuple[Peak, ...]], shear: Value
    ) -> BodyResult:
        load = first_yield(bodies, levels, best, steel, peaks)
        return _body(case, steel, peaks(best), peaks(rough), shear, load)

    member = body(
        case.post_material(section), lambda r: r.member_peaks, value(lambda r: r.member_shear)
    )
    plate = body(case.plate_material, lambda r: r.plate_peaks, value(lambda r: r.plate_shear))
    bore_hoop = None
    if best.bore_hoop is not None:
        bore_hoop = (value(lambda r: _hoop(r)[0]), value(lambda r: _hoop(r)[1]))
    nominal = case.line_load / section.outside_diameter
    return SectionResult(
        section=section,
        line_load=case.line_load,
        half_width=value(lambda r: r.half_width),
        peak_pressure=value(lambda r: r.peak_pressure),
        approach=value(lambda r: r.state.approach),
        member=member,
        plate=plate,
        bore_hoop=bore_hoop,
        added_hoop=added_hoop(both),
        stress_concentration=Value(member.peak.von_mises / nominal, member.uncertainty / nominal),
        mass_per_length=case.mass_per_length(section),
        hand=hand_checks(case, section, best, member, plate),
        unknowns=both.fine.level.pair.unknowns,
        remeshed=both.coarse.meshes + both.fine.meshes - 2,
        solve_seconds=both.fine.level.build_seconds + best.solve_seconds,
        reading=best,
    )


def _hoop(reading: Reading) -> tuple[float, float]:
    """Hoop stresses at the bore, of a section that has one."""
    assert reading.bore_hoop is not None
    return reading.bore_hoop


def _body(
    case: Case,
    steel: Material,
    fine: tuple[Peak, ...],
    coarse: tuple[Peak, ...],
    shear: Value,
    yields_at: tuple[float, float] | None,
) -> BodyResult:
    peak, allowed = fine[0], steel.yield_strength / case.yield_margin
    margin = uncertainty(peak.von_mises, coarse[0].von_mises)
    load = blur = None
    if yields_at is not None:
        load, power = yields_at
        blur = load * (margin / peak.von_mises + YIELD_TOLERANCE) / power
    return BodyResult(
        material=steel,
        peak=peak,
        uncertainty=margin,
        places=fine,
        max_shear=shear,
        utilisation=peak.von_mises / allowed,
        satisfied=peak.von_mises + margin <= allowed,
        first_yield_line_load=load,
        first_yield_uncertainty=blur,
    )
