"""A test specimen as a JSON-ready dictionary.

Quantities are texts as in the file, each with its unit; factors are specimen over prototype.
"""

from contactfe.case.scaling import ratio
from contactfe.case.specimen import Specimen
from contactfe.hand.similitude import FORCE_LENGTH_TIME, SOURCE, damper_factor, factor, rule
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.scale import CAUTIONS, DAMPER_RULE, damper_exponents, remarks


def scale_document(found: Specimen) -> Json:
    """What the page says, and the factor of every dimension that contactfe knows."""
    case = found.case
    return {
        **head(case.title),
        "case": {"source": case.source, "path": case_path(case)},
        **scale_of(found.scale),
        "stated": [
            {
                "place": list(pair.quantity.place),
                "dimension": pair.quantity.dimension,
                "prototype": pair.quantity.text,
                "specimen": pair.text,
                "factor": pair.factor,
                "rule": rule(pair.quantity.dimension),
            }
            for pair in found.pairs
        ],
        "factors": [
            {"dimension": dimension, "factor": factor(dimension, found.scale)}
            | {"rule": rule(dimension)}
            for dimension in FORCE_LENGTH_TIME
        ],
        "damper_coefficients": [
            {
                "exponent": exponent,
                "factor": damper_factor(found.scale, exponent),
                "rule": DAMPER_RULE,
            }
            for exponent in damper_exponents(case)
        ],
        "source": SOURCE,
        "remarks": list(remarks(found)),
        "cautions": list(CAUTIONS),
    }


def scale_of(scale: float) -> Json:
    """The scale, as a number and as drawings write it."""
    return {"scale": float(scale), "ratio": ratio(scale)}
