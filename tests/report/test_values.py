"""Values by the registry, in documents and in tables."""

import pytest

from contactfe.assess.value import Place, Value
from contactfe.report.document import document
from contactfe.report.values import columns, values_data

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
    row = {column.name: column.cell(HAS) for column in of}
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
