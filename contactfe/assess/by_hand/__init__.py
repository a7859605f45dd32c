"""Every hand formula and clause that applies to a case, worked out without a mesh."""
