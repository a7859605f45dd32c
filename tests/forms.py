"""Puts the numbers of a worked formula into its form, as a reader with a calculator would."""

import math
import re

from contactfe.case.units import parse_quantity
from contactfe.hand.formula import Worked

# In a form with US customary constants, numbers enter in these.
_US = {
    "length": 25.4,
    "stress": parse_quantity("1 ksi", "stress"),
    "line load": parse_quantity("1 kip/in", "line load"),
    "force": parse_quantity("1 kip", "force"),
}
_US["area"] = _US["length"] ** 2
_US["section modulus"] = _US["length"] ** 3
_US["second moment of area"] = _US["length"] ** 4
_US["moment"] = _US["force"] * _US["length"]
_US["moment per length"] = _US["force"]
_POWERS = str.maketrans({"⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁵": "5", "⁶": "6"})
_NAMES = {
    "ln": math.log, "exp": math.exp, "sqrt": math.sqrt, "pi": math.pi, "sin": math.sin,
    "cos": math.cos, "tan": math.tan, "arctan": math.atan, "arccos": math.acos, "sinh": math.sinh,
    "min": min, "max": max, "abs": abs, "__builtins__": {},
}  # fmt: skip


def evaluate(worked: Worked) -> float:
    """The value of the form, in the unit that the worked value is held in."""
    held = _US if worked.units == "US customary" else {}
    text = worked.by_numbers(lambda value, dimension: f"({value / held.get(dimension, 1.0)!r})")
    text = re.sub("[⁰¹²³⁴⁵⁶]+", lambda power: "**" + power[0].translate(_POWERS), text)
    for mark, python in (("√(", "sqrt("), ("·", "*"), ("−", "-"), ("^", "**"), ("π", "pi")):
        text = text.replace(mark, python)
    return eval(text, dict(_NAMES)) * held.get(worked.dimension, 1.0)
