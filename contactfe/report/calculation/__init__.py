"""The calculation of a case as one document to be checked and signed."""

from contactfe.report.calculation.page import calculation

__all__ = ["calculation"]
