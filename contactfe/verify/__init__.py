"""The verification set: cases with known answers, run by `contactfe verify` and by the tests."""
