"""Tables for other programs: what a cell becomes, and what stays empty."""

import csv
import math
from dataclasses import dataclass

import pytest

from contactfe.assess.value import Value
from contactfe.case.display import significant
from contactfe.report import words
from contactfe.report.csv_file import Column, both, columns_of, write_csv


@dataclass(frozen=True)
class Item:
    name: str
    number: int
    stress: Value | None
    passes: bool = True


COLUMNS = (
    Column("name", "text", lambda item: item.name),
    Column("number [1]", "whole", lambda item: item.number),
    Column("passes [yes/no]", "yes or no", lambda item: item.passes),
    *both("stress", "stress", lambda item: item.stress),
    *columns_of(
        lambda item: item.stress, [Column("most", "real", lambda stress: stress.upper, "stress")]
    ),
)
ITEMS = (Item("a, b", 123456789, Value(1 / 3, 0.125)), Item("ö", 0, None, passes=False))


def written(path, **digits):
    write_csv(path / "a.csv", COLUMNS, iter(ITEMS), **digits)
    return (path / "a.csv").read_bytes().decode("utf-8").split("\n")


def test_a_line_for_each_item_under_the_headings(tmp_path):
    assert written(tmp_path) == [
        'name,number [1],passes [yes/no],stress [MPa],"stress, uncertainty [MPa]",most [MPa]',
        f'"a, b",123456789,yes,{1 / 3!r},0.125,{1 / 3 + 0.125!r}',
        "ö,0,no,,,",
        "",
    ]


def test_digits_are_those_of_real_numbers_alone(tmp_path):
    _, first, second, _ = written(tmp_path, digits=4)
    assert first == '"a, b",123456789,yes,0.3333,0.125,0.4583'
    assert second == "ö,0,no,,,"


def test_nothing_has_no_sign_and_dust_beyond_the_decimals_is_nothing(tmp_path):
    columns = (Column("stress [MPa]", "real", lambda value: value),)
    for keys, texts in (
        ({}, ["0.0", "2.5e-11"]), ({"digits": 4}, ["0", "2.5e-11"]),
        ({"digits": 4, "decimals": 9}, ["0", "0"]),
    ):  # fmt: skip
        write_csv(tmp_path / "b.csv", columns, [-0.0, 2.5e-11], **keys)
        assert (tmp_path / "b.csv").read_text().split("\n")[1:3] == texts


@pytest.mark.parametrize(
    "name", ["=1+1", "=cmd|' /C x'!A0", "+1+cmd|x", "-2+3", "@SUM(A1)", "a\x9bb"]
)
def test_a_text_of_the_case_is_no_formula_and_no_control(tmp_path, name):
    column = Column("section", "text", lambda item: item)
    write_csv(tmp_path / "x.csv", [column], [name, "-2.5 mm", "tube = 2"])
    with (tmp_path / "x.csv").open(newline="") as file:
        _, (first,), *others = csv.reader(file)
    assert first == (f"'{name}" if name.isascii() else "a[U+009B]b")
    assert others == [["-2.5 mm"], ["tube = 2"]]


def test_what_is_infinite_or_not_known_leaves_its_cell_empty(tmp_path):
    """As a ratio to no resistance, which JSON and Parquet have as null."""
    column = Column("ratio", "real", lambda item: item, "1")
    write_csv(
        tmp_path / "a.csv", [column, Column("x", "text", lambda _: "x")], [math.inf, math.nan]
    )
    assert (tmp_path / "a.csv").read_text().split("\n") == ["ratio [1],x", ",x", ",x", ""]
    assert words.ratio_text(math.inf) == significant(math.inf) == "infinite"
