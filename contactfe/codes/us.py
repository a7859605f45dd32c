"""Inch, kip, ksi and kip/in in the units that everything is held in."""

from contactfe.hand.quantities import US

INCH, KIP, KSI, KIP_PER_INCH = (US[of] for of in ("length", "force", "stress", "line load"))
