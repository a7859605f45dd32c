"""What a result shows of itself in Python: a few lines at a prompt, its answer in a notebook."""


class Shown:
    """A result of the public interface; its dataclass has ``repr=False``.

    Words and pages are the report's, which is loaded only here: nothing else needs it.
    """

    def __repr__(self) -> str:
        from contactfe.report.output import brief

        return brief(self)

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from contactfe.report.html import as_html
        from contactfe.report.output import answer_of

        return as_html(answer_of(self))
