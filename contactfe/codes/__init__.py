"""Clauses of standards as functions: demand, resistance, ratio, scope, and how far each carries.

Nothing here knows a mesh, a solver or the rest of the package, but for :mod:`contactfe.hand`.
"""
