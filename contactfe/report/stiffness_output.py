"""The folder of contact stiffness: document, curves, page, hand-over and figure."""

from pathlib import Path

from contactfe.assess.stiffness import StiffnessResult
from contactfe.report.figures import save_figures
from contactfe.report.folder import ResultsFolder
from contactfe.report.hand_over import WIDTH, hand_over_page, write_hand_over
from contactfe.report.output import Output
from contactfe.report.page import write_page
from contactfe.report.stiffness import stiffness_document
from contactfe.report.stiffness_page import stiffness_answer, stiffness_page
from contactfe.report.stiffness_points import write_curves

FILES = (
    "stiffness.json", "curve.csv", "hand-over.csv", "stiffness.txt", "hand-over.txt",
    "stiffness.png",
)  # fmt: skip
FOLDER = ResultsFolder("stiffness", FILES[0], lambda _: FILES[1:])


def _write(result: StiffnessResult, draft: Path) -> None:
    write_curves(result, draft / "curve.csv")
    write_hand_over(result, draft / "hand-over.csv")
    write_page(hand_over_page(result), draft / "hand-over.txt", WIDTH)
    save_figures(result, draft)


OUTPUT = Output(FOLDER, FILES[3], stiffness_answer, stiffness_page, stiffness_document, _write)
save_stiffness = OUTPUT.save
