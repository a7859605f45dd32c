"""The folder of contact stiffness: document, curves, points, page and figure."""

from pathlib import Path

from contactfe.assess.stiffness import StiffnessResult
from contactfe.report.figures.ink import save_figure
from contactfe.report.figures.stiffness import stiffness_figure
from contactfe.report.folder import ResultsFolder
from contactfe.report.output import Output
from contactfe.report.stiffness import stiffness_document
from contactfe.report.stiffness_page import stiffness_page
from contactfe.report.stiffness_points import write_curves, write_points

FILES = ("stiffness.json", "curve.csv", "points.csv", "stiffness.txt", "stiffness.png")
FOLDER = ResultsFolder("stiffness", FILES[0], lambda _: FILES[1:])


def _write(result: StiffnessResult, draft: Path) -> None:
    write_curves(result, draft / "curve.csv")
    write_points(result, draft / "points.csv")
    save_figure(draft / "stiffness.png", stiffness_figure, result)


OUTPUT = Output(FOLDER, FILES[3], stiffness_page, stiffness_document, _write)
save_stiffness = OUTPUT.save
