"""The errors a user can meet; the command line prints them as one line, never as a traceback."""


class ContactfeError(Exception):
    """Base of every error that contactfe raises on purpose."""


class InputError(ContactfeError, ValueError):
    """What the engineer stated cannot be used; the message names where, what, and what is allowed.

    It is a ValueError too, so that a validator which raises it gets its place in the file added.
    """


class SolveError(ContactfeError):
    """The numerical solution failed a check of its own and must not be used as a result."""
