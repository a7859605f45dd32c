"""Make the reference meshes of this folder anew: ``python meshes/make.py`` (needs gmsh).

They belong to an invented post of 150 x 25 mm on a plate of 300 x 60 mm, graded for a half-width of
1.1 mm at the coarse level, and let the solver run where gmsh cannot.
"""

from pathlib import Path

from contactfe.section.files import write_mesh
from contactfe.section.grading import member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline

HERE = Path(__file__).parent
HALF_WIDTH, SCALE = 1.1, 2.0

if __name__ == "__main__":
    tube, plate = MemberOutline(75.0, 50.0), PlateOutline(300.0, 60.0)
    write_mesh(mesh_member(tube, member_grading(tube, HALF_WIDTH, SCALE)), HERE / "tube-150x25.msh")
    write_mesh(
        mesh_plate(plate, plate_grading(plate, HALF_WIDTH, SCALE)), HERE / "plate-300x60.msh"
    )
