"""The impact as numbers: floor, bumper, contact law, and the equation of motion between them.

A leaf: it knows no case, no mesh and no page. Units are N, mm, s and t (N s²/mm).
"""
