"""Plane elasticity, condensation, unilateral contact, and stress recovery. Knows no cases or files."""
