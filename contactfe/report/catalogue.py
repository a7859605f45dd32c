"""What a case may name: the built-in steels and the stock sizes, in mm and MPa, in and ksi."""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from contactfe.case.display import SI, US, significant
from contactfe.case.grades import Grade
from contactfe.case.steels import grades
from contactfe.case.stock import (
    BORED_BARS,
    DENSITY,
    StockSize,
    alike,
    bored_bars,
    mill_tolerance,
    sizes,
    sizes_like,
    tolerance_source,
)
from contactfe.errors import InputError
from contactfe.report.blocks import (
    GAP,
    Block,
    Column,
    Heading,
    Line,
    Page,
    Row,
    Table,
    lines,
    numbers,
    texts,
)


def catalogue_page(like: str | None = None) -> Page:
    """The built-in grades and the stock sizes, list by list: all, or those like a text.

    Of all, a bored bar has its smallest and its largest bore only.

    Raises InputError where nothing is like the text.
    """
    if like is None:
        return (*_steels(grades()), *_sizes((*sizes(), *_outermost(bored_bars()))))
    steels = tuple(grade for grade in grades() if alike(like, grade.name))
    try:
        shown = sizes_like(like)
    except InputError:
        if not steels:
            raise
        shown = ()
    return (*_steels(steels), *_sizes(shown))


def catalogue_answer() -> Page:
    """How many steels and sizes there are of each standard and list, one of each as a case names
    it, and how to see them.
    """
    standards: dict[str, list[str]] = {}
    for grade in grades():
        standards.setdefault(" ".join(grade.name.split()[:2]), []).append(grade.name)
    steels = tuple(
        (of, f"{len(names)}", f'steel = "{_middle(names)}"') for of, names in standards.items()
    )
    lists: dict[str, list[str]] = {}
    for size in (*sizes(), *bored_bars()):
        lists.setdefault(size.listed_in, []).append(size.designation)
    stock = tuple((of, f"{len(names)}", _as_written(of, names)) for of, names in lists.items())
    return (
        Heading("Catalogue: what a case may name", 1),
        Table((Column("steels of"), *numbers("grades"), *texts("for example")), (steels,)),
        Table((Column("stock sizes of"), *numbers("sizes"), *texts("for example")), (stock,)),
        Line(
            "Write steel in [post], [plate] or [[section]], designation in [[section]], and stock,"
            " which names a whole list, in [sizing]."
        ),
        Line("contactfe catalogue TEXT lists those whose name holds the text; --full lists all."),
    )


def _as_written(a_list: str, names: Sequence[str]) -> str:
    """A size of a list as a section names it; of bars, which no section may name, the list."""
    return f'stock = ["{a_list}"]' if a_list in BORED_BARS else f'designation = "{_middle(names)}"'


def _middle(names: Sequence[str]) -> str:
    return names[(len(names) - 1) // 2]


def _steels(shown: tuple[Grade, ...]) -> Iterator[Block]:
    if not shown:
        return
    columns = (
        *texts("steel", "as, up to\n[mm (in)]", most=24),
        *texts("thickness\n[mm (in)]"),
        *numbers("yield\n[MPa]", "\n[ksi]", "ultimate\n[MPa]", "\n[ksi]"),
        *texts("source"),
    )
    groups = tuple((_steel(grade),) for grade in shown)
    yield Table(columns, groups, "Built-in steels: minimum strengths by thickness")
    yield from lines(_elastic())
    yield GAP
    yield from lines(_STEEL_NOTES)


def _steel(grade: Grade) -> Row:
    yields = [band.yield_strength for band in grade.bands]
    ultimates = [band.ultimate_strength for band in grade.bands]
    return (
        f"{grade.name}{' *' if grade.other_material else ''}",
        "\n".join(_products(grade)),
        "\n".join(_bands(grade)),
        *(
            "\n".join("" if s is None else unit.number(s) for s in strengths)
            for strengths in (yields, ultimates)
            for unit in (SI.stress, US.stress)
        ),
        grade.source,
    )


_STEEL_NOTES = (
    "Thickness: the diameter of a solid round, the wall of a tube, the thickness of a plate.",
    "Named as steel in [post], [plate] or [[section]]. Other steels are stated by young, poisson,"
    " yield and, if wanted, ultimate, or named after a table [grade.NAME] of the case. A mill"
    " certificate takes precedence over this list.",
    "Ø: largest outside diameter of a tube that the standard covers; a wider section is refused.",
    "*: in no table of AISC 360 (A3.1b: the engineer of record decides); its clauses are put to"
    " such a steel without a verdict.",
)


def _products(grade: Grade) -> Iterator[str]:
    """Each product with its largest thickness, those with the same one together."""
    by_limit: dict[float, list[str]] = {}
    for product, limit in grade.largest.items():
        by_limit.setdefault(limit, []).append(product)
    for limit, products in by_limit.items():
        yield ", ".join(products) + ("" if math.isinf(limit) else f": {_mm_and_in(limit)}")
    if math.isfinite(grade.widest):
        yield f"Ø: {_mm_and_in(grade.widest)}"


def _bands(grade: Grade) -> Iterator[str]:
    most = max(grade.largest.values())
    edges = [*(band.over for band in grade.bands), most]
    for over, to in pairwise(edges):
        if math.isinf(to):
            yield "any" if over == 0.0 else f"over {_mm_and_in(over)}"
        else:
            yield f"up to {_mm_and_in(to)}"


def _mm_and_in(length: float) -> str:
    return f"{SI.length.number(length)} ({significant(US.length.of(length), 3)})"


def _elastic() -> Iterator[str]:
    """The elastic constants, once for all the grades that share them."""
    alike: dict[tuple[float, float, str], list[str]] = {}
    for grade in grades():
        alike.setdefault((grade.young, grade.poisson, grade.elastic_source), []).append(
            grade.name.split()[0]
        )
    for (young, poisson, source), standards in alike.items():
        of = " and ".join(dict.fromkeys(standards))
        yield (
            f"{of} grades: E {SI.stress.text(young)} ({US.stress.of(young):.0f} {US.stress.name}),"
            f" ν {poisson:g}: {source}."
        )


def _outermost(bars: tuple[StockSize, ...]) -> Iterator[StockSize]:
    """The largest and the smallest bore of each bar."""
    for _, of_bar in groupby(bars, key=lambda size: (size.listed_in, size.outside_diameter)):
        bores = list(of_bar)
        yield from dict.fromkeys((bores[0], bores[-1]))


def _sizes(shown: tuple[StockSize, ...]) -> Iterator[Block]:
    if not shown:
        return
    heads = (
        "Ø\n[mm]",
        "\n[in]",
        "wall\n[mm]",
        "\n[in]",
        "bore / Ø\n[1]",
        "least\n[mm]",
        "greatest\n[mm]",
        "mass\n[kg/m]",
        "\n[lb/ft]",
    )
    spared = (0, 0, 0, 0, 0, 3, 4, 1, 2)  # by a page that is too narrow
    columns = (
        Column("size", least=24),
        *(Column(head, True, least=6, drop=drop) for head, drop in zip(heads, spared, strict=True)),
    )
    for (name, source, note, made_to), of_list in groupby(
        shown, key=lambda size: (size.listed_in, size.source, size.note, size.made_to)
    ):
        groups = tuple(
            tuple(map(_size, of)) for _, of in groupby(of_list, key=lambda s: s.outside_diameter)
        )
        yield Table(columns, groups, f"{name}: {source}", "\n".join([note, *_made_to(made_to)]))
    yield from lines(_SIZE_NOTES)


def _made_to(standards: tuple[str, ...]) -> Iterator[str]:
    """What the product standards of a list allow, of which the widest holds for other steels."""
    yield from (f"Tolerance by {name}: {tolerance_source(name)}." for name in standards)
    if len(standards) > 1:
        yield "A section has that of its steel's standard, or the widest of these."


def _size(size: StockSize) -> Row:
    made = mill_tolerance(size)
    return (
        size.designation,
        f"{size.outside_diameter:.1f}",
        f"{US.length.of(size.outside_diameter):.3f}",
        f"{size.wall:.2f}",
        f"{US.length.of(size.wall):.3f}",
        f"{size.bore_ratio:.3f}",
        *("" if made is None else f"{wall:.2f}" for wall in (made.wall if made else (0.0, 0.0))),
        SI.mass_per_length.number(size.mass_per_length),
        US.mass_per_length.number(size.mass_per_length),
    )


_STOCK_KEYS = " or ".join(f'["{name}"]' for name in BORED_BARS)

_SIZE_NOTES = (
    'Named in [[section]]: designation = "ASME B36.10M NPS 6 XXS", in place of outside_diameter'
    " and wall.",
    "bore / Ø: bore over outside diameter; the smaller, the less the tube bends as a ring. But for"
    " the heavy walls of EN 10220 few"
    " sizes have less than 0.75. Heavier tubes are bored out of bar, and have the yield strength of"
    " that bar.",
    "Bored bars are no size of a [[section]], whose steel goes by its wall; [sizing] stock ="
    f" {_STOCK_KEYS} tries them.",
    "contactfe catalogue bored lists all their bores.",
    "least, greatest: wall within the tolerance of the product standards named; where several are,"
    " within the widest.",
    f"Mass: of the nominal size, of steel of {DENSITY:g} kg/m³.",
)
