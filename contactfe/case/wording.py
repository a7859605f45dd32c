"""Values of a case file as TOML writes them, for messages."""

import json


def written(value: object) -> str:
    """One value as TOML writes it; nothing for tables, lists and what TOML cannot hold.

    >>> print(written("6 in"), written(True), written(0.3))
    "6 in" true 0.3
    """
    match value:
        case bool():
            return str(value).lower()
        case str():
            return json.dumps(value, ensure_ascii=False)
        case int() | float():
            return str(value)
    return ""


def with_value(place: str, value: object) -> str:
    """A place in a case file with the value that is written there, if it has one.

    >>> print(with_value("wall", "9 m"), with_value("[post]", {}))
    wall = "9 m" [post]
    """
    text = written(value)
    return f"{place} = {text}" if text else place
