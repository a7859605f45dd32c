"""Elastic contact of a round steel post on a bumper plate, checked against yield and hand formulas."""

__version__ = "0.1.0"
