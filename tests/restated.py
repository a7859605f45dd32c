"""A case with other values at some of its keys, whatever table they are in."""

from dataclasses import replace

from contactfe.case.settings import Accept

_TABLES = {
    "line_load": ("load", "line_load"),
    "contact_length": ("load", "contact_length"),
    "distribution": ("load", "distribution"),
    "state": ("model", "state"),
    "yield_margin": ("check", "yield_margin"),
    "report_units": ("report", "units"),
}


def restated(case, **values):
    """The case, with ``accepted`` as its pairs of key and reason."""
    for key, value in values.items():
        if key == "accepted":
            case = replace(case, accept=Accept(**dict(value)))
        elif key in _TABLES:
            table, name = _TABLES[key]
            case = replace(case, **{table: replace(getattr(case, table), **{name: value})})
        else:
            case = replace(case, **{key: value})
    return case
