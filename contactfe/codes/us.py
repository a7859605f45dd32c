"""US customary units in those that everything is held in, for forms with constants of their own.

Inch, pound and standard gravity are exact by definition (common practice, no source).
"""

INCH = 25.4  # mm
KIP = 4448.2216152605  # N
KSI = KIP / INCH**2  # MPa
KIP_PER_INCH = KIP / INCH  # N/mm
