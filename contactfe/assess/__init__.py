"""From a case to a verdict: sections solved, checked by hand formulas and yield, and ranked."""
