"""The table of figures that has a specimen's beside the prototype's where a scale is stated."""

from dataclasses import replace

import pytest
from bodies import case

from contactfe.assess.value import Value
from contactfe.report.specimen import figure_row, figure_table, scaled_number


def table(scale):
    of = replace(case([(150.0, None)]), scale=scale)
    rows = [
        figure_row(of, "force", "F", 450e3, "force"),
        figure_row(of, "approach", "δ", Value(0.8, 0.02), "length"),
        figure_row(of, "exponent", "n", Value(1.1, 0.0), None),
    ]
    return figure_table(of, "What was found", [rows, rows[:1]])


def test_a_column_for_the_specimen_only_at_a_scale():
    plain, small = table(None), table(0.25)
    assert [column.head for column in plain.columns] == ["", "symbol", "unit", "value"]
    heads = ["", "symbol", "unit", "prototype", "specimen 1:4"]
    assert [column.head for column in small.columns] == heads
    assert [len(group) for group in plain.groups] == [3, 1]
    assert plain.groups[0] == tuple(row[:4] for row in small.groups[0])


def test_figures_scale_by_their_dimension_and_keep_their_uncertainty():
    force, approach, exponent = table(0.25).groups[0]
    assert force == ("force", "F", "kN", "450.0", "28.12")
    assert approach == ("approach", "δ", "mm", "0.80 ± 0.02", "0.200 ± 0.005")
    assert exponent[2:] == ("1", "1.100", "1.100")


def test_what_results_never_state_has_no_unit():
    with pytest.raises(KeyError):
        scaled_number(1.0, "frequency", 0.25, case([(150.0, None)]).display)
