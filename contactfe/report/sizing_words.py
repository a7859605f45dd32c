"""What was found of a diameter, in plain sentences, in the units that the case asks for."""

from collections.abc import Iterable, Iterator

from contactfe.assess.checks import Check, counted
from contactfe.assess.sizing.answers import ratio
from contactfe.assess.sizing.record import Band, Best, Diameter, Wall
from contactfe.case import Case, Section
from contactfe.case.display import Display, ReportUnits, Unit, significant
from contactfe.case.sizing import SOLID
from contactfe.case.stock import BORED_BAR, BORED_BARS, BORED_INCH_BAR
from contactfe.errors import InputError
from contactfe.report import words
from contactfe.report.sizing_checks import ratio_text
from contactfe.report.verdicts import why

USUAL_BORE = 0.75
"""Bore over outside diameter that catalogue pipe and hollow sections seldom go below."""

MADE_TO_ORDER: dict[ReportUnits, tuple[str, str]] = {
    "SI": (BORED_BAR, "EN 10220"),
    "US customary": (BORED_INCH_BAR, "mechanical tube"),
}
"""Lists of the sizes that do, as a case in these units orders them: of bar first, then of tube."""

_FLAT = 0.01
"""Relative change of a ratio over all walls up to which no wall is said to change it."""


def answer(diameter: Diameter, case: Case) -> list[str]:
    """Sentences: which walls pass, which is best, what stock there is, or why nothing passes."""
    return [
        *_unchanging(diameter, case),
        *_passing(diameter, case),
        *_least(diameter, case),
        *_stock(diameter, case),
        *_catalogue(diameter, case),
        *_strengths(diameter, case),
        *_uncovered(diameter, case),
        *_unsolved(diameter),
    ]


def wall_text(wall: Wall, length: Unit) -> str:
    """A wall in words: its size and its share of the diameter."""
    if wall.solid:
        return "the solid bar"
    return f"{_mm(wall.wall, length)} ({wall.share:.3f} Ø)"


def check_text(check: Check, units: Display) -> str:
    """A check with its ratio, as it is worst, and why it has no verdict if it has none."""
    ratio = "" if check.ratio is None else f", {ratio_text(check.most)} of what is allowed"
    because = why(check, units)
    return f"{check.label}{ratio}" + (f", NO VERDICT ({because})" if because else "")


def _mm(size: float, length: Unit) -> str:
    return f"{significant(length.of(size), 4)} {length.name}"


def _unchanging(diameter: Diameter, case: Case) -> Iterator[str]:
    """The checks that stand beside what is said of the walls, as none changes them."""
    if lacking := diameter.in_the_way:
        yield (
            f"WHATEVER THE WALL, NOT PASSED: {_listed_checks(lacking, case)}. What follows is by"
            " the other checks."
        )
    if passing := [check for check in diameter.unchanging if check.passes]:
        yield f"Passed whatever the wall: {_listed_checks(passing, case)}."


def _passing(diameter: Diameter, case: Case) -> Iterator[str]:
    if not diameter.bands:
        yield from _infeasible(diameter, case)
        return
    length = case.display.length
    ranges = ", and ".join(
        f"from {wall_text(band.least, length)} to {wall_text(band.most, length)}"
        if band.least is not band.most
        else wall_text(band.least, length)
        if band.least.solid
        else f"of {wall_text(band.least, length)} alone"
        for band in diameter.bands
    )
    every = "check that walls change" if diameter.in_the_way else "check that counts"
    yield (
        f"Walls {ranges} pass every {every}; the smallest is"
        f" {wall_text(diameter.bands[0].least, length)}, of"
        f" {case.display.mass_per_length.text(diameter.bands[0].least.mass_per_length)}."
    )
    for band in diameter.bands:
        yield from _edges(band, diameter, case)
    best = diameter.best
    if best is not None and not best.wall.fits:
        passing = [wall for wall in diameter.curve if wall.fits]
        least = min(passing, key=lambda wall: wall.concentration.value)
        yield (
            f"Of the walls tried that pass, {wall_text(least, length)} concentrates stress least,"
            f" K = {words.pair(least.concentration)}."
        )


def _edges(band: Band, diameter: Diameter, case: Case) -> Iterator[str]:
    length = case.display.length
    for beyond, way in ((band.below, "thinner"), (band.above, "thicker")):
        if beyond is None:
            edge = band.least if way == "thinner" else band.most
            if edge.solid:
                continue
            if way == "thicker" and diameter.curve[-1].solid:
                yield (
                    f"No tube thicker than {wall_text(edge, length)} was tried: its bore would be"
                    f" less than {_mm(diameter.least_bore, length)}, the least that is drilled"
                    " ([sizing] least_bore)."
                )
            else:
                yield f"No {way} wall than {wall_text(edge, length)} was tried."
        elif beyond.governing is None:
            yield f"{_begin(beyond, length)}, the next {way} tried, could not be solved."
        else:
            yield (
                f"{_begin(beyond, length)}, the next {way} tried, does not pass:"
                f" {check_text(beyond.governing, case.display)}."
            )


def _infeasible(diameter: Diameter, case: Case) -> Iterator[str]:
    closest = diameter.closest
    if closest is None:
        if all(wall.error for wall in diameter.curve):
            yield "No wall passes: none could be solved."
        else:
            yield "NO WALL PASSES, and there is no check that a wall changes."
        return
    length, wall = case.display.length, closest.wall
    failing = [check for check in wall.changing if not check.passes]
    yield (
        f"NO WALL PASSES. {_begin(wall, length)} comes closest, and does not pass:"
        f" {_listed_checks(failing, case)}."
    )
    solved = [w for w in diameter.curve if not w.error]
    for check in failing:
        ratios = [c.most for w in solved for c in w.checks if c.key == check.key]
        if max(ratios) <= (1.0 + _FLAT) * min(ratios) and min(ratios) > 1.0:
            yield f"No wall changes “{check.label}” by more than {words.percent(_FLAT)}."
    yield from _would_do(diameter, wall, case)


def _would_do(diameter: Diameter, wall: Wall, case: Case) -> Iterator[str]:
    units = case.display
    failing = [check for check in counted(wall.checks) if not check.passes]
    if diameter.load_factor is not None:
        load = units.line_load.text(diameter.load_factor * case.line_load)
        factor = ratio_text(diameter.load_factor, 3)
        yield f"It would pass at about {factor} of the loads, {load} on the plate."
    bodies = {
        "post": (wall.yield_strength, [c for c in failing if _of_post(c)]),
        "plate": (
            case.plate_material.yield_strength,
            [c for c in failing if c.key == "von_mises_plate"],
        ),
    }
    if sum(len(checks) for _, checks in bodies.values()) < len(failing):
        return  # a clause, of which not all go by the yield strength
    if any(check.verdict == "no verdict" for check in failing):
        return
    needs = [
        f"{units.stress.text(strength * max(c.most for c in checks))} of the {body}"
        for body, (strength, checks) in bodies.items()
        if checks
    ]
    yield f"Or with a yield strength of {' and '.join(needs)}."


def _of_post(check: Check) -> bool:
    """Whether a check measures the post by its yield strength."""
    return check.key == "von_mises_post" or (check.kind == "post" and "weld" not in check.key)


def _strengths(diameter: Diameter, case: Case) -> Iterator[str]:
    """Whose strength the walls have, where the steel's goes by thickness."""
    solved = [w.yield_strength for w in diameter.curve if not w.error]
    if not case.post_thickness_steps or not solved:
        return
    stress = case.display.stress
    yield (
        "Each wall has the yield strength that its steel has as a tube of that wall, here"
        f" {stress.text(min(solved))} to {stress.text(max(solved))}."
    )
    try:
        strength = _of_bar(diameter, case)
    except InputError as error:
        yield f"A wall that is bored from bar has the bar's, which is not known: {error}."
        return
    judged = "" if of_bars(diameter) else f"; {stock_key(case)} judges such walls"
    yield (
        f"A WALL THAT IS BORED FROM BAR HAS THE BAR'S, {stress.text(strength)} at this diameter:"
        f" of such walls what is said above of the curve does not hold{judged}."
        if strength < max(solved)
        else f"Bored from bar they have at least that: {stress.text(strength)}."
    )


def bar_strength(diameter: Diameter, case: Case) -> float | None:
    """Yield strength, MPa, of the post's steel as a bar of that diameter; None where not known."""
    try:
        return _of_bar(diameter, case)
    except InputError:
        return None


def _of_bar(diameter: Diameter, case: Case) -> float:
    bar = Section("", outside_diameter=diameter.outside_diameter)
    return case.post_material(bar).yield_strength


def of_bars(diameter: Diameter) -> bool:
    """Whether tubes bored from bar are among the stock sizes that were judged."""
    return any(_listed(wall) in BORED_BARS for wall in diameter.stock.walls)


def stock_key(case: Case) -> str:
    """What a case file is to state for tubes bored from bar to be judged, in its own units."""
    return f'[sizing] stock = ["{MADE_TO_ORDER[case.report_units][0]}"]'


def _uncovered(diameter: Diameter, case: Case) -> Iterator[str]:
    """What does not apply to the walls that answer, and why."""
    length, stock = case.display.length, diameter.stock
    answers = {
        id(wall): wall
        for band in diameter.bands
        for wall in (band.least, band.most)
    }  # fmt: skip
    for best in (diameter.best, diameter.closest):
        if best is not None:
            answers[id(best.wall)] = best.wall
    for wall in (stock.lightest, stock.least_concentration):
        if wall is not None:
            answers[id(wall)] = wall
    silent: dict[str, list[str]] = {}
    for wall in answers.values():
        name = wall_text(wall, length) if wall.candidate.stock is None else _named(wall)
        for check in wall.silent:
            if not check.applies:
                silent.setdefault(f"{check.label} ({why(check, case.display)})", []).append(name)
    if not silent:
        return
    yield (
        "OUTSIDE THEIR SCOPE, and so without a verdict, are these; other checks cover the same"
        " limit states:"
    )
    for text, walls in silent.items():
        yield f"  {text}: {', '.join(dict.fromkeys(walls))}."


def _least(diameter: Diameter, case: Case) -> Iterator[str]:
    best = diameter.best
    if best is None:
        return
    length, wall = case.display.length, best.wall
    solid = diameter.curve[-1]
    less = ""
    if solid.solid and not solid.error and solid is not wall:
        share = 1.0 - wall.concentration.value / solid.concentration.value
        less = f", {100 * share:.1f} % less than the solid bar (K = {_k(solid)})"
    yield (
        f"Stress is least concentrated at {wall_text(wall, length)}, bore {wall.bore_ratio:.3f} Ø:"
        f" K = {_k(wall)}{less}; {_where(best, length)}."
    )
    if wall.fits:
        yield "That wall passes." if wall.passes else "That wall passes what walls change."
    elif wall.governing is not None:
        yield f"That wall does not pass: {check_text(wall.governing, case.display)}."


def _where(best: Best, length: Unit) -> str:
    if best.low is best.wall or best.high is best.wall:
        end = "an end of the walls that were tried"
        place = "the least lies at " + ("the solid bar" if best.wall.share >= SOLID else end)
    else:
        place = (
            f"the least lies between {_mm(best.low.wall, length)} and {_mm(best.high.wall, length)}"
        )
    return (
        f"{place}, and from {_mm(best.alike_from, length)} to {_mm(best.alike_to, length)} the"
        " numerical uncertainty does not part the walls"
    )


def _stock(diameter: Diameter, case: Case) -> Iterator[str]:
    stock = diameter.stock
    if not stock.walls:
        return
    lists = ", ".join(dict.fromkeys(_listed(wall) for wall in stock.walls))
    if stock.lightest is None:
        nearest = min(stock.walls, key=ratio)
        worst = nearest.governing
        reason = nearest.error if worst is None else check_text(worst, case.display)
        yield (
            f"Of {len(stock.walls)} sizes of {lists} none passes; closest is {_named(nearest)}:"
            f" {reason}."
        )
    else:
        mass = case.display.mass_per_length.text(stock.lightest.mass_per_length)
        yield (
            f"Of {len(stock.walls)} sizes of {lists} the lightest that passes is"
            f" {_named(stock.lightest)}, {mass}, at {ratio_text(ratio(stock.lightest), 3)} of what"
            f" is allowed with its nominal wall{_confirm(stock.lightest)}"
            f"{_but(stock.lightest, case)}."
        )
    least = stock.least_concentration
    if least is not None:
        passes = "passes" if least.fits else "does not pass"
        yield (
            f"Of these {_named(least)} concentrates stress least, K = {_k(least)}, bore"
            f" {least.bore_ratio:.3f} Ø, and {passes}{_confirm(least)}{_but(least, case)}."
        )
    diameters = {round(wall.outside_diameter, 3) for wall in stock.walls}
    if len(diameters) > 1:
        yield "Their outside diameters differ, and K is relative to them."


def _catalogue(diameter: Diameter, case: Case) -> Iterator[str]:
    """What catalogue pipes and hollow sections offer beside the wall of least K."""
    if diameter.best is None:
        return
    length, best = case.display.length, diameter.best.wall
    if not diameter.catalogue:
        yield "No list of pipes and hollow sections known here has a diameter near this one."
        return
    offers = "; ".join(
        f"{near.designation} ({near.least_bore_ratio:.3f}, Ø {_mm(near.outside_diameter, length)})"
        for near in diameter.catalogue
    )
    yield f"Least bore over Ø of catalogue pipe and hollow section near this diameter: {offers}."
    rare = sum(near.least_bore_ratio < USUAL_BORE for near in diameter.catalogue)
    below = f"{rare or 'none'} of these {'is' if rare < 2 else 'are'} below {USUAL_BORE:g}"
    if min(near.least_bore_ratio for near in diameter.catalogue) <= best.bore_ratio:
        yield (
            f"The wall of least K has a bore of {best.bore_ratio:.3f} Ø, and {below}: here"
            " catalogue sizes do reach it."
        )
        return
    asked = {_listed(wall) for wall in diameter.stock.walls}
    bars, tubes = MADE_TO_ORDER[case.report_units]
    others = [*([] if of_bars(diameter) else [bars]), *([] if tubes in asked else [tubes])]
    name = ", ".join(f'"{other}"' for other in others)
    yield (
        f"The wall of least K has a bore of {best.bore_ratio:.3f} Ø, and {below}, so none reaches"
        " it: such a wall is a tube bored from bar or heavy-wall tube made to order, which a mill"
        " must confirm." + (f" [sizing] stock = [{name}] tries them." if others else "")
    )


def _unsolved(diameter: Diameter) -> Iterator[str]:
    failed = [wall for wall in diameter.curve if wall.error]
    if failed:
        yield (
            f"{len(failed)} of {len(diameter.curve)} walls could not be solved and do not pass;"
            f" first: {failed[0].error}."
        )


def _begin(wall: Wall, length: Unit) -> str:
    text = wall_text(wall, length)
    return text[0].upper() + text[1:] if text.startswith("the") else f"The wall of {text}"


def _k(wall: Wall) -> str:
    return words.pair(wall.concentration)


def _named(wall: Wall) -> str:
    assert wall.candidate.stock is not None
    return wall.candidate.stock.designation


def _listed(wall: Wall) -> str:
    assert wall.candidate.stock is not None
    return wall.candidate.stock.listed_in


def _confirm(wall: Wall) -> str:
    assert wall.candidate.stock is not None
    return "" if wall.candidate.stock.catalogue else "; a mill must confirm that it is made"


def _but(wall: Wall, case: Case) -> str:
    """What no wall changes and this one does not pass, of one that passes the rest."""
    lacking = [check for check in counted(wall.checks) if not check.passes]
    return f"; but not {_listed_checks(lacking, case)}" if wall.fits and lacking else ""


def _listed_checks(checks: Iterable[Check], case: Case) -> str:
    return "; ".join(check_text(check, case.display) for check in checks)
