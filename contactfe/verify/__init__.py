"""The verification set: cases with known answers, run by `contactfe verify` and by the tests."""

from contactfe.verify.row import Outcome, Row, run, run_all

__all__ = ["Outcome", "Row", "run", "run_all"]
