"""The case file of a test specimen, written anew."""

from pathlib import Path

import tomlkit

from contactfe.case import case_from_dict
from contactfe.case.scaling import ratio
from contactfe.case.specimen import Specimen
from contactfe.errors import InputError
from contactfe.hand.similitude import SOURCE
from contactfe.report import words
from contactfe.report.files import MEGABYTE, aside, check_writable
from contactfe.report.scale import CAUTIONS, remarks

_WIDTH = 100


def check_new(path: Path) -> None:
    """Refuse a file that is there already, or that cannot be made.

    Raises
    ------
    InputError
        in one line that names the option and the file
    """
    if path.exists() or path.is_symlink():
        why = "is there already; name another file"
    elif not path.name:
        why = "is a folder; name a file"
    elif not path.parent.is_dir():
        why = f"there is no folder {path.parent}"
    else:
        try:
            check_writable(path.parent, MEGABYTE)
            return
        except OSError as error:
            why = f"cannot be written: {error.strerror or error}; name a file elsewhere"
    raise InputError(f"--write {path}: {why}")


def write_specimen(found: Specimen, path: Path) -> None:
    """Write the tables of a specimen, with what they do not say in front as comments.

    They are read as a case first, so that what is written can be read back.

    Raises
    ------
    InputError
        where they are no case, or the file is there already
    OSError
        where it cannot be written
    """
    case_from_dict(found.tables, str(path))
    lines = (
        f"Test specimen at {ratio(found.scale)} of {found.case.source}, written by contactfe"
        " scale.",
        f"Similitude at equal stress: {SOURCE}.",
        *CAUTIONS,
        *remarks(found),
    )
    comments = "".join(f"# {words.one_line(line)}\n" for line in lines)
    with aside(path) as draft:
        draft.write_text(
            f"{comments}\n{tomlkit.dumps(found.tables)}", encoding="utf-8", newline="\n"
        )
        check_new(path)
