"""EN 1993-1-8, Design of joints: contact stress after that of a pin, and the root weld.

Partial factors are NDPs (nationally determined parameters); the default is the recommended value.
The forms hold in any coherent units.
"""

from contactfe.codes.en_1993_1_8.contact import flat_contact_by_analogy, socket
from contactfe.codes.en_1993_1_8.welds import fillet_weld, groove_weld

__all__ = ["fillet_weld", "flat_contact_by_analogy", "groove_weld", "socket"]
