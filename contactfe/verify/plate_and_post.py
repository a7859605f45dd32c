"""Rows to come."""

from contactfe.verify.row import Row

ROWS: tuple[Row, ...] = ()
