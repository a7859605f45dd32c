"""Plane elasticity, condensation, contact and stress recovery. Knows no cases and no files."""
