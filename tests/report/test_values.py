"""Values by the registry, in documents and in tables."""

import pytest

from contactfe.assess.value import Place, Value
from contactfe.case.display import SI, US
from contactfe.report.document import document
from contactfe.report.values import columns, page_columns, page_pairs, values_data

HAS = {
    "peak_pressure": Value(500.0, 1.5), "peak_pressure_second": Value(300.0, 0.9),
    "post_peak": Value(280.0, 0.84, Place("contact zone", 0.1, 0.5, 0.5)),
    "post_utilisation": Value(0.8, 0.0024),
}  # fmt: skip


def test_each_value_has_its_unit_uncertainty_and_place():
    found = values_data(HAS)
    assert list(found) == ["peak_pressure", "peak_pressure_second", "post_peak", "post_utilisation"]
    assert found["peak_pressure_second"] == {
        "value": 300.0, "uncertainty": 0.9, "unit": "MPa", "label": "peak pressure",
    }  # fmt: skip
    assert found["post_peak"] == {
        "value": 280.0, "uncertainty": 0.84, "zone": "contact zone", "x": 0.1, "y": 0.5,
        "unit": "MPa", "label": "post peak von Mises",
    }  # fmt: skip
    assert found["post_utilisation"]["unit"] == "1"


def test_columns_have_label_unit_uncertainty_and_place():
    of = columns("peak_pressure", "half_width", "post_peak", "post_utilisation")
    row = {column.head(SI): column.cell(HAS) for column in of}
    assert list(row)[4:9] == [
        "post peak von Mises [MPa]", "post peak von Mises, uncertainty [MPa]",
        "post zone", "post x [mm]", "post y [mm]",
    ]  # fmt: skip
    assert row["peak pressure [MPa]"] == 500.0
    assert row["peak pressure, uncertainty [MPa]"] == 1.5
    assert row["post utilisation, uncertainty [1]"] == 0.0024
    assert (row["post zone"], row["post x [mm]"], row["post y [mm]"]) == ("contact zone", 0.1, 0.5)
    assert row["half-width [mm]"] is None  # not of this section


def test_a_document_has_them_beside_the_keys_of_old(comparison):
    for section, result in zip(document(comparison)["sections"], comparison.sections, strict=True):
        values = section["values"]
        assert set(values) == set(result.values)
        assert values["peak_pressure"]["value"] == section["peak_contact_pressure"]
        assert values["post_peak"]["uncertainty"] == section["member"]["uncertainty"]
        load = section["plate"]["first_yield_line_load"]
        assert values["plate_first_yield"]["value"] == pytest.approx(load)


def test_columns_and_cells_of_a_page_are_in_the_units_shown():
    columns = page_columns(US, "half_width", "tangential_ratio", "bore_hoop_at_side")
    assert [column.head for column in columns] == [
        "half-\nwidth\n[in]", "T/q\n[1]", "bore hoop at side\n[ksi]",
    ]  # fmt: skip
    assert all(column.numbers for column in columns)
    values = {
        "half_width": Value(25.4, 0.0254), "tangential_ratio": Value(-1e-5, 0.0),
        "half_width_second": Value(12.7, 0.0),
    }  # fmt: skip
    keys = ("half_width", "tangential_ratio", "bore_hoop_at_side")
    assert page_pairs(values, US, *keys) == [("1.000", "± 0.001"), ("0.000", ""), ("", "")]
    assert page_pairs(values, US, "half_width", number=1) == [("0.5", "")]
