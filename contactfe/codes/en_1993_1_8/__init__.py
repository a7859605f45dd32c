"""EN 1993-1-8, Design of joints: pins, their contact stress, and the fillet weld at the root.

3.13 with Table 3.10 was seen in a public extract; 4.5 is mostly from memory. Partial factors are
NDPs (nationally determined parameters); the default is the recommended value. The forms hold in
any coherent units.
"""

from contactfe.codes.en_1993_1_8.contact import flat_contact_by_analogy, pin_contact
from contactfe.codes.en_1993_1_8.pins import (
    pin_bearing,
    pin_bending,
    pin_bending_with_shear,
    pin_shear,
    replaceable_pin_bearing,
    replaceable_pin_bending,
)
from contactfe.codes.en_1993_1_8.welds import fillet_weld

__all__ = [
    "fillet_weld",
    "flat_contact_by_analogy",
    "pin_bearing",
    "pin_bending",
    "pin_bending_with_shear",
    "pin_contact",
    "pin_shear",
    "replaceable_pin_bearing",
    "replaceable_pin_bending",
]
