"""Every hand formula and clause that applies to a case, worked out without a mesh."""

from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.by_hand.record import ByHand, Clauses, SectionByHand, Step

__all__ = ["ByHand", "Clauses", "SectionByHand", "Step", "by_hand"]
