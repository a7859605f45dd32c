"""Outlines of post and plate, their grading, and meshes made by gmsh. Knows nothing of loads."""
