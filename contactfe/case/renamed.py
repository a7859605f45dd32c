"""Keys and values that earlier versions of the case file had, and what they are called now."""

from collections.abc import Mapping
from types import MappingProxyType

KEYS: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        ("", "demand"): "[motion]",
        ("", "impact"): "[contact_law]",
        ("", "along"): "[alignment]",
        ("", "size"): "[sizing]",
        ("section", "size"): "designation",
        ("load", "effective_length"): "contact_length",
        ("corner", "effective_length"): "contact_length",
    }
)
"""New names of keys, by the table, empty for the file itself, and the old key."""

VALUES: Mapping[str, str] = MappingProxyType(
    {
        "opposed": "diametral",
        "stiff core": "rigid core",
        "bedded": "rigid base",
        "two edges": "simply supported",
        "clamped edges": "clamped",
        "springs": "elastic supports",
    }
)
"""New names of values of held_by, by the old ones."""
