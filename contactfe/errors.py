"""The errors a user can meet; the command line prints them as one line, never as a traceback."""


class ContactfeError(Exception):
    """Base of every error that contactfe raises on purpose."""


class InputError(ContactfeError):
    """What the engineer stated cannot be used; the message names where, what, and what is allowed."""


class SolveError(ContactfeError):
    """The numerical solution failed a check of its own and must not be used as a result."""
