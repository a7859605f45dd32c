"""What was found of a diameter, in plain sentences, in the units that the case asks for.

The page says the first of it twice: above all else in short, and with the diameter in full.
"""

from collections.abc import Iterable, Iterator

from contactfe.assess.checks import Check, counted
from contactfe.assess.sizing.answers import ratio
from contactfe.assess.sizing.record import Band, Diameter, Wall
from contactfe.case import Case, Section
from contactfe.case.display import ReportUnits, significant
from contactfe.case.sizing import SOLID
from contactfe.case.stock import BORED_BAR, BORED_BARS, BORED_INCH_BAR, StockSize
from contactfe.errors import InputError
from contactfe.report import words
from contactfe.report.check_names import BUT, Name, by_short_name, in_full, why

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
        *(_passing(diameter, case) if diameter.passing else _none_passes(diameter, case)),
        *_least(diameter, case),
        *_stock(diameter, case),
        *_catalogue(diameter, case),
        *_strengths(diameter, case),
        *_uncovered(diameter, case),
        *_unsolved(diameter),
    ]


def in_short(diameter: Diameter, case: Case) -> Iterator[str]:
    """What must be read beside the answer: what no wall passes, and that bar may be weaker."""
    if diameter.in_the_way:
        yield f"{in_the_way(diameter, case)} {BUT}: passed are the other checks."
    if not diameter.passing:
        said = (_closest(diameter, case, by_short_name), *_less_load(diameter, case))
        yield f"{_of(diameter, case)}: {' '.join(said)}"
    passing = [wall.yield_strength for wall in diameter.walls if wall.passes_what_walls_change]
    if passing and case.post_thickness_steps and _weaker(diameter, case, max(passing)):
        yield f"{_of(diameter, case)}: {' '.join(_strengths(diameter, case))}"


def which_pass(diameter: Diameter, case: Case) -> Iterator[str]:
    """In a sentence which walls of a diameter pass; nothing where none does."""
    if diameter.passing:
        yield f"{_of(diameter, case)}: {next(_passing(diameter, case))}"


def in_the_way(diameter: Diameter, case: Case) -> str:
    """The checks that no wall of a diameter changes and that do not pass, in short."""
    return f"{_of(diameter, case)}: {_WHATEVER}: {_all(diameter.in_the_way, case, by_short_name)}."


def wall_text(wall: Wall, case: Case) -> str:
    """A wall in words: its size and its share of the diameter."""
    return "the solid bar" if wall.solid else f"{_long(wall.wall, case)} ({wall.share:.3f} Ø)"


def _unchanging(diameter: Diameter, case: Case) -> Iterator[str]:
    """The checks that stand beside what is said of the walls, as none changes them."""
    if lacking := diameter.in_the_way:
        yield f"{_WHATEVER}: {_all(lacking, case)}. What follows is by the other checks."
    if passing := [check for check in diameter.unchanging_checks if check.passes]:
        yield f"Passed whatever the wall: {_all(passing, case)}."


def _passing(diameter: Diameter, case: Case) -> Iterator[str]:
    """Which walls pass, what is next to them, and which of them is best if not the best of all."""
    smallest = diameter.passing[0].least
    ranges = ", and ".join(_range(band, case) for band in diameter.passing)
    every = "check that walls change" if diameter.in_the_way else "check that counts"
    yield (
        f"Walls {ranges} pass every {every}; the smallest is {wall_text(smallest, case)}, of"
        f" {case.display.mass_per_length.text(smallest.mass_per_length)}."
    )
    for band in diameter.passing:
        yield from _edges(band, diameter, case)
    if (
        diameter.least_concentration is not None
        and not diameter.least_concentration.wall.passes_what_walls_change
    ):
        passing = [wall for wall in diameter.walls if wall.passes_what_walls_change]
        least = min(passing, key=lambda wall: wall.stress_concentration.value)
        yield (
            f"Of the walls tried that pass, {wall_text(least, case)} concentrates stress least,"
            f" K = {_k(least)}."
        )


def _range(band: Band, case: Case) -> str:
    least, most = wall_text(band.least, case), wall_text(band.most, case)
    if band.least is not band.most:
        return f"from {least} to {most}"
    return least if band.least.solid else f"of {least} alone"


def _edges(band: Band, diameter: Diameter, case: Case) -> Iterator[str]:
    for edge, beyond, way in (
        (band.least, band.fails_below, "thinner"),
        (band.most, band.fails_above, "thicker"),
    ):
        if beyond is not None:
            worst = beyond.governing
            found = (
                "could not be solved" if worst is None else f"does not pass: {_all([worst], case)}"
            )
            yield f"{_begin(beyond, case)}, the next {way} tried, {found}."
        elif way == "thicker" and diameter.walls[-1].solid and not edge.solid:
            yield (
                f"No tube thicker than {wall_text(edge, case)} was tried: its bore would be less"
                f" than {_long(diameter.least_bore, case)}, the least that is drilled ([sizing]"
                " least_bore)."
            )
        elif not edge.solid:
            yield f"No {way} wall than {wall_text(edge, case)} was tried."


def _none_passes(diameter: Diameter, case: Case) -> Iterator[str]:
    """Which comes closest, and what would do."""
    yield _closest(diameter, case)
    if diameter.closest_to_passing is None:
        return
    wall = diameter.closest_to_passing.wall
    for check in _failing(wall.changing):
        ratios = [c.most for w in diameter.walls for c in w.checks if c.key == check.key]
        if max(ratios) <= (1.0 + _FLAT) * min(ratios) and min(ratios) > 1.0:
            yield f"No wall changes “{check.label}” by more than {words.percent(_FLAT)}."
    yield from _less_load(diameter, case)
    yield from _more_strength(wall, case)


def _closest(diameter: Diameter, case: Case, name: Name = in_full) -> str:
    """That no wall passes, which comes closest, and what it does not pass."""
    if diameter.closest_to_passing is not None:
        wall = diameter.closest_to_passing.wall
        return (
            f"NO WALL PASSES. {_begin(wall, case)} comes closest, and does not pass:"
            f" {_all(_failing(wall.changing), case, name)}."
        )
    if all(wall.error for wall in diameter.walls):
        return "No wall passes: none could be solved."
    return "NO WALL PASSES, and there is no check that a wall changes."


def _less_load(diameter: Diameter, case: Case) -> Iterator[str]:
    """The share of the loads at which the closest would pass, where that is known."""
    if diameter.load_factor_to_pass is not None:
        load = case.display.line_load.text(diameter.load_factor_to_pass * case.line_load)
        factor = words.ratio_text(diameter.load_factor_to_pass, digits=3)
        yield f"It would pass at about {factor} of the loads, {load} on the plate."


def _more_strength(wall: Wall, case: Case) -> Iterator[str]:
    """The yield strengths with which a wall would pass, where each check it fails goes by them."""
    failing = _failing(counted(wall.checks))
    if any(check.verdict == "no verdict" for check in failing):
        return
    post = [check.most for check in failing if _by_strength_of_post(check)]
    plate = [check.most for check in failing if check.key.startswith("von_mises_plate")]
    if len(post) + len(plate) < len(failing):
        return
    needs = " and ".join(
        f"{case.display.stress.text(strength * max(ratios))} of the {body}"
        for body, strength, ratios in (
            ("post", wall.yield_strength, post),
            ("plate", case.plate_material.yield_strength, plate),
        )
        if ratios
    )
    yield f"Or with a yield strength of {needs}."


def _by_strength_of_post(check: Check) -> bool:
    return check.key.startswith("von_mises_post") or (
        check.kind == "post" and "weld" not in check.key
    )


def _least(diameter: Diameter, case: Case) -> Iterator[str]:
    """The wall of least K, how sure that is, and whether it passes."""
    best, solid, less = diameter.least_concentration, diameter.walls[-1], ""
    if best is None:
        return
    wall = best.wall
    if solid.solid and not solid.error and solid is not wall:
        share = 1.0 - wall.stress_concentration.value / solid.stress_concentration.value
        less = f", {100 * share:.1f} % less than the solid bar (K = {_k(solid)})"
    if wall is not best.low and wall is not best.high:
        place = f"between {_long(best.low.wall, case)} and {_long(best.high.wall, case)}"
    else:
        end = "the solid bar" if wall.share >= SOLID else "an end of the walls that were tried"
        place = f"at {end}"
    yield (
        f"Stress is least concentrated at {wall_text(wall, case)}, bore {wall.bore_ratio:.3f} Ø:"
        f" K = {_k(wall)}{less}; the least lies {place}, and from {_long(best.alike_from, case)} to"
        f" {_long(best.alike_to, case)} the numerical uncertainty does not part the walls."
    )
    if wall.as_made:
        values = [K.value for K in wall.concentrations]
        yield f"Within its limits K of that wall is {min(values):.1f} to {max(values):.1f}."
    if wall.passes_what_walls_change:
        yield "That wall passes." if wall.passes else "That wall passes what walls change."
    elif wall.governing is not None:
        yield f"That wall does not pass: {_all([wall.governing], case)}."


def _stock(diameter: Diameter, case: Case) -> Iterator[str]:
    stock = diameter.stock
    if not stock.walls:
        return
    lists = ", ".join(dict.fromkeys(stock_size(wall).listed_in for wall in stock.walls))
    some = f"Of {len(stock.walls)} sizes of {lists}"
    wall, least = stock.lightest, stock.least_concentration
    if wall is None:
        nearest = min(stock.walls, key=ratio)
        worst = nearest.governing
        reason = nearest.error if worst is None else _all([worst], case)
        yield f"{some} none passes; closest is {stock_size(nearest).designation}: {reason}."
    else:
        size, mass = stock_size(wall), case.display.mass_per_length.text(wall.mass_per_length)
        yield (
            f"{some} the lightest that passes is {size.designation}, {mass}, at"
            f" {words.ratio_text(ratio(wall), digits=3)} of what is allowed{_walls(wall)}"
            f"{_confirm(size)}{_but(wall, case)}."
        )
    if least is not None:
        size, passes = (
            stock_size(least),
            "passes" if least.passes_what_walls_change else "does not pass",
        )
        yield (
            f"Of these {size.designation} concentrates stress least, K = {_k(least)}, bore"
            f" {least.bore_ratio:.3f} Ø, and {passes}{_confirm(size)}{_but(least, case)}."
        )
    if len({round(wall.outside_diameter, 3) for wall in stock.walls}) > 1:
        yield "Their outside diameters differ, and K is relative to them."


def _walls(wall: Wall) -> str:
    return (
        ", its nominal, least and greatest wall considered"
        if wall.as_made
        else " with its nominal wall"
    )


def _catalogue(diameter: Diameter, case: Case) -> Iterator[str]:
    """What catalogue pipes and hollow sections offer beside the wall of least K."""
    near = diameter.catalogue
    if diameter.least_concentration is None:
        return
    if not near:
        yield "No list of pipes and hollow sections known here has a diameter near this one."
        return
    offers = "; ".join(
        f"{of.size} ({of.least_bore_ratio:.3f}, Ø {_long(of.outside_diameter, case)})"
        for of in near
    )
    yield f"Least bore over Ø of catalogue pipe and hollow section near this diameter: {offers}."
    bore, ratios = (
        diameter.least_concentration.wall.bore_ratio,
        [of.least_bore_ratio for of in near],
    )
    rare = sum(ratio < USUAL_BORE for ratio in ratios)
    begin = (
        f"The wall of least K has a bore of {bore:.3f} Ø, and {rare or 'none'} of these"
        f" {'is' if rare < 2 else 'are'} below {USUAL_BORE:g}"
    )
    if min(ratios) <= bore:
        yield f"{begin}: here catalogue sizes do reach it."
        return
    bars, tubes = MADE_TO_ORDER[case.report_units]
    asked = {stock_size(wall).listed_in for wall in diameter.stock.walls}
    others = [*([] if asked & set(BORED_BARS) else [bars]), *([] if tubes in asked else [tubes])]
    names = ", ".join(f'"{other}"' for other in others)
    yield (
        f"{begin}, so none reaches it: such a wall is a tube bored from bar or heavy-wall tube made"
        " to order, which a mill must confirm."
        + (f" [sizing] stock = [{names}] tries them." if others else "")
    )


def _strengths(diameter: Diameter, case: Case) -> Iterator[str]:
    """Whose strength the walls have, where the steel's goes by thickness."""
    solved = [wall.yield_strength for wall in diameter.walls if not wall.error]
    if not case.post_thickness_steps or not solved:
        return
    stress = case.display.stress
    yield (
        "Each wall has the yield strength that its steel has as a tube of that wall, here"
        f" {stress.text(min(solved))} to {stress.text(max(solved))}."
    )
    yield _weaker(diameter, case, max(solved)) or (
        f"Bored from bar they have at least that: {stress.text(_of_bar(diameter, case))}."
    )


def _weaker(diameter: Diameter, case: Case, strength: float) -> str:
    """That walls bored from bar have not that strength, or none that is known; empty if they do."""
    try:
        of_bar = _of_bar(diameter, case)
    except InputError as error:
        return f"A wall that is bored from bar has the bar's, which is not known: {error}."
    if of_bar >= strength:
        return ""
    asked = any(stock_size(wall).listed_in in BORED_BARS for wall in diameter.stock.walls)
    key = f'[sizing] stock = ["{MADE_TO_ORDER[case.report_units][0]}"]'
    judged = "" if asked else f"; {key} judges such walls"
    return (
        f"A WALL THAT IS BORED FROM BAR HAS THE BAR'S, {case.display.stress.text(of_bar)} at this"
        f" diameter: of such walls what is said above of the curve does not hold{judged}."
    )


def _of_bar(diameter: Diameter, case: Case) -> float:
    """Yield strength of the post's steel, MPa, as a bar. Raises InputError where not known."""
    return case.post_material(Section("", diameter.outside_diameter)).yield_strength


def _uncovered(diameter: Diameter, case: Case) -> Iterator[str]:
    """What does not apply to the walls that answer, and why."""
    stock = diameter.stock
    answers = [wall for band in diameter.passing for wall in (band.least, band.most)]
    answers += [
        best.wall
        for best in (diameter.least_concentration, diameter.closest_to_passing)
        if best is not None
    ]
    listed = [wall for wall in (stock.lightest, stock.least_concentration) if wall is not None]
    named = [(wall_text(wall, case), wall) for wall in answers]
    named += [(stock_size(wall).designation, wall) for wall in listed]
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


def _unsolved(diameter: Diameter) -> Iterator[str]:
    failed = [wall for wall in diameter.walls if wall.error]
    if failed:
        yield (
            f"{len(failed)} of {len(diameter.walls)} walls could not be solved and do not pass;"
            f" first: {failed[0].error}."
        )


def _of(diameter: Diameter, case: Case) -> str:
    return f"Ø {case.display.length.text(diameter.outside_diameter)}"


def _begin(wall: Wall, case: Case) -> str:
    return "The solid bar" if wall.solid else f"The wall of {wall_text(wall, case)}"


def _long(size: float, case: Case) -> str:
    length = case.display.length
    return f"{significant(length.of(size), 4)} {length.name}"


def _k(wall: Wall) -> str:
    return words.pair(wall.stress_concentration)


def stock_size(wall: Wall) -> StockSize:
    """What a list has; of a stock size only."""
    assert wall.candidate.stock is not None
    return wall.candidate.stock


def _confirm(stock: StockSize) -> str:
    return "" if stock.catalogue else "; a mill must confirm that it is made"


def _but(wall: Wall, case: Case) -> str:
    """What no wall changes and this one does not pass, of one that passes the rest."""
    lacking = _failing(counted(wall.checks))
    return f"; but not {_all(lacking, case)}" if wall.passes_what_walls_change and lacking else ""


def _failing(checks: Iterable[Check]) -> list[Check]:
    return [check for check in checks if not check.passes]


def _all(checks: Iterable[Check], case: Case, name: Name = in_full) -> str:
    return "; ".join(name(check, case.display) for check in checks)
