"""What was found of a diameter, in plain sentences, in the units that the case asks for.

The page says the first of it twice: above all else in short, and with the diameter in full.
"""

from collections.abc import Iterable, Iterator

from contactfe.assess.checks import Check, counted
from contactfe.assess.sizing.answers import ratio
from contactfe.assess.sizing.record import Band, Best, Diameter, SizingResult, Wall
from contactfe.case import Case, Section
from contactfe.case.display import ReportUnits, Unit, significant
from contactfe.case.sizing import SOLID
from contactfe.case.stock import BORED_BAR, BORED_BARS, BORED_INCH_BAR, StockSize
from contactfe.errors import InputError
from contactfe.report import words
from contactfe.report.sizing_checks import Named, in_full, in_short, ratio_text
from contactfe.report.verdicts import why

USUAL_BORE = 0.75
"""Bore over outside diameter that catalogue pipe and hollow sections seldom go below."""

MADE_TO_ORDER: dict[ReportUnits, tuple[str, str]] = {
    "SI": (BORED_BAR, "EN 10220"),
    "US customary": (BORED_INCH_BAR, "mechanical tube"),
}
"""Lists of the sizes that do, as a case in these units orders them: of bar first, then of tube."""

_WHATEVER = "WHATEVER THE WALL, NOT PASSED"

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


def in_the_way(diameter: Diameter, case: Case) -> str:
    """The checks that no wall of a diameter changes and that do not pass, in short."""
    lacking = _listed_checks(diameter.in_the_way, case, in_short)
    return f"{_of(diameter, case)}: {_WHATEVER}: {lacking}."


def none_passes(diameter: Diameter, case: Case) -> str:
    """That no wall of a diameter passes, in short."""
    said = (_closest(diameter, case, in_short), *_less_load(diameter, case))
    return f"{_of(diameter, case)}: {' '.join(said)}"


def bored(result: SizingResult) -> Iterator[str]:
    """That walls that pass as tubes may fail if they are bored from bar, where bar is weaker."""
    case = result.case
    if not case.post_thickness_steps:
        return
    weaker: list[tuple[Diameter, float | None]] = []
    for diameter in result.diameters:
        passing = [wall.yield_strength for wall in diameter.curve if wall.fits]
        strength = _bar_strength(diameter, case)
        if passing and (strength is None or strength < max(passing)):
            weaker.append((diameter, strength))
    if not weaker:
        return
    strengths = ", ".join(
        f"{'not known' if strength is None else case.display.stress.text(strength)}"
        f" at {_of(diameter, case)}"
        for diameter, strength in weaker
    )
    known = [diameter for diameter, strength in weaker if strength is not None]
    judge = ""
    if known:
        listed = all(_of_bars(diameter) for diameter in known)
        judge = "; stock sizes below" if listed else f"; {_stock_key(case)} judges such"
    yield (
        "These walls are TUBES. Bored from bar they have the strength of the bar"
        f" ({strengths}) and may not pass{judge}."
    )


def _of(diameter: Diameter, case: Case) -> str:
    return f"Ø {case.display.length.text(diameter.outside_diameter)}"


def _mm(size: float, length: Unit) -> str:
    return f"{significant(length.of(size), 4)} {length.name}"


def _unchanging(diameter: Diameter, case: Case) -> Iterator[str]:
    """The checks that stand beside what is said of the walls, as none changes them."""
    if lacking := diameter.in_the_way:
        yield (
            f"{_WHATEVER}: {_listed_checks(lacking, case)}. What follows is by the other checks."
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
                f" {in_full(beyond.governing, case.display)}."
            )


def _infeasible(diameter: Diameter, case: Case) -> Iterator[str]:
    yield _closest(diameter, case, in_full)
    if diameter.closest is None:
        return
    wall = diameter.closest.wall
    solved = [w for w in diameter.curve if not w.error]
    for check in _failing(wall.changing):
        ratios = [c.most for w in solved for c in w.checks if c.key == check.key]
        if max(ratios) <= (1.0 + _FLAT) * min(ratios) and min(ratios) > 1.0:
            yield f"No wall changes “{check.label}” by more than {words.percent(_FLAT)}."
    yield from _less_load(diameter, case)
    yield from _more_strength(wall, case)


def _closest(diameter: Diameter, case: Case, named: Named) -> str:
    """That no wall passes, which comes closest, and what it does not pass."""
    if diameter.closest is None:
        if all(wall.error for wall in diameter.curve):
            return "No wall passes: none could be solved."
        return "NO WALL PASSES, and there is no check that a wall changes."
    wall = diameter.closest.wall
    return (
        f"NO WALL PASSES. {_begin(wall, case.display.length)} comes closest, and does not pass:"
        f" {_listed_checks(_failing(wall.changing), case, named)}."
    )


def _less_load(diameter: Diameter, case: Case) -> Iterator[str]:
    """The share of the loads at which the closest would pass, where that is known."""
    if diameter.load_factor is not None:
        load = case.display.line_load.text(diameter.load_factor * case.line_load)
        factor = ratio_text(diameter.load_factor, 3)
        yield f"It would pass at about {factor} of the loads, {load} on the plate."


def _more_strength(wall: Wall, case: Case) -> Iterator[str]:
    """The yield strengths with which a wall would pass, where it fails by nothing else."""
    failing = _failing(counted(wall.checks))
    post = [c for c in failing if _of_post(c)]
    plate = [c for c in failing if c.key == "von_mises_plate"]
    if len(post) + len(plate) < len(failing):
        return  # a clause, of which not all go by the yield strength
    if any(check.verdict == "no verdict" for check in failing):
        return
    needs = " and ".join(
        f"{case.display.stress.text(strength * max(c.most for c in checks))} of the {body}"
        for body, strength, checks in (
            ("post", wall.yield_strength, post),
            ("plate", case.plate_material.yield_strength, plate),
        )
        if checks
    )
    yield f"Or with a yield strength of {needs}."


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
    judged = "" if _of_bars(diameter) else f"; {_stock_key(case)} judges such walls"
    yield (
        f"A WALL THAT IS BORED FROM BAR HAS THE BAR'S, {stress.text(strength)} at this diameter:"
        f" of such walls what is said above of the curve does not hold{judged}."
        if strength < max(solved)
        else f"Bored from bar they have at least that: {stress.text(strength)}."
    )


def _bar_strength(diameter: Diameter, case: Case) -> float | None:
    """Yield strength, MPa, of the post's steel as a bar of that diameter; None where not known."""
    try:
        return _of_bar(diameter, case)
    except InputError:
        return None


def _of_bar(diameter: Diameter, case: Case) -> float:
    bar = Section("", outside_diameter=diameter.outside_diameter)
    return case.post_material(bar).yield_strength


def _of_bars(diameter: Diameter) -> bool:
    """Whether tubes bored from bar are among the stock sizes that were judged."""
    return any(_listed_size(wall).listed_in in BORED_BARS for wall in diameter.stock.walls)


def _stock_key(case: Case) -> str:
    """What a case file is to state for tubes bored from bar to be judged, in its own units."""
    return f'[sizing] stock = ["{MADE_TO_ORDER[case.report_units][0]}"]'


def _uncovered(diameter: Diameter, case: Case) -> Iterator[str]:
    """What does not apply to the walls that answer, and why."""
    stock = diameter.stock
    answers = [wall for band in diameter.bands for wall in (band.least, band.most)]
    answers += [best.wall for best in (diameter.best, diameter.closest) if best is not None]
    listed = [wall for wall in (stock.lightest, stock.least_concentration) if wall is not None]
    named = [(wall_text(wall, case.display.length), wall) for wall in answers]
    named += [(_listed_size(wall).designation, wall) for wall in listed]
    silent: dict[str, dict[str, None]] = {}
    for name, wall in named:
        for check in wall.silent:
            if not check.applies:
                label = f"{check.label} ({why(check, case.display)})"
                silent.setdefault(label, {})[name] = None
    if not silent:
        return
    yield (
        "OUTSIDE THEIR SCOPE, and so without a verdict, are these; other checks cover the same"
        " limit states:"
    )
    for text, names in silent.items():
        yield f"  {text}: {', '.join(names)}."


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
        yield f"That wall does not pass: {in_full(wall.governing, case.display)}."


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
    lists = ", ".join(dict.fromkeys(_listed_size(wall).listed_in for wall in stock.walls))
    some = f"Of {len(stock.walls)} sizes of {lists}"
    wall, least = stock.lightest, stock.least_concentration
    if wall is None:
        nearest = min(stock.walls, key=ratio)
        worst = nearest.governing
        reason = nearest.error if worst is None else in_full(worst, case.display)
        yield f"{some} none passes; closest is {_listed_size(nearest).designation}: {reason}."
    else:
        size, mass = _listed_size(wall), case.display.mass_per_length.text(wall.mass_per_length)
        yield (
            f"{some} the lightest that passes is {size.designation}, {mass}, at"
            f" {ratio_text(ratio(wall), 3)} of what is allowed with its nominal wall"
            f"{_confirm(size)}{_but(wall, case)}."
        )
    if least is not None:
        size, passes = _listed_size(least), "passes" if least.fits else "does not pass"
        yield (
            f"Of these {size.designation} concentrates stress least, K = {_k(least)}, bore"
            f" {least.bore_ratio:.3f} Ø, and {passes}{_confirm(size)}{_but(least, case)}."
        )
    if len({round(wall.outside_diameter, 3) for wall in stock.walls}) > 1:
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
    asked = {_listed_size(wall).listed_in for wall in diameter.stock.walls}
    bars, tubes = MADE_TO_ORDER[case.report_units]
    others = [*([] if _of_bars(diameter) else [bars]), *([] if tubes in asked else [tubes])]
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


def _listed_size(wall: Wall) -> StockSize:
    assert wall.candidate.stock is not None
    return wall.candidate.stock


def _confirm(stock: StockSize) -> str:
    return "" if stock.catalogue else "; a mill must confirm that it is made"


def _but(wall: Wall, case: Case) -> str:
    """What no wall changes and this one does not pass, of one that passes the rest."""
    lacking = _failing(counted(wall.checks))
    return f"; but not {_listed_checks(lacking, case)}" if wall.fits and lacking else ""


def _failing(checks: Iterable[Check]) -> list[Check]:
    return [check for check in checks if not check.passes]


def _listed_checks(checks: Iterable[Check], case: Case, named: Named = in_full) -> str:
    return "; ".join(named(check, case.display) for check in checks)
