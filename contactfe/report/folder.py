"""A folder of results of a case: whose it is, what in it is one's own, and how it is filled."""

import os
import re
import shutil
from collections.abc import Callable, Iterable
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.files import cannot_write, claimed, digest, ordinary
from contactfe.report.json_file import FROM_DATA, Json, case_path, read_own, write_json
from contactfe.report.slugs import slug

_ASIDE = ".contactfe-"
_DRAFT, _EARLIER = f"{_ASIDE}draft", f"{_ASIDE}earlier"

Owner = tuple[str | None, str]
"""Path of a case, None for one that was not read from a file, and its title."""


def default_folder_of(case: Case, what: str) -> Path:
    """Where results go by default: ``<name of the case file>-<what>``, here."""
    stem = slug(case.title) if case.source == FROM_DATA else Path(case.source).stem
    return Path(f"{stem}-{what}")


@dataclass(frozen=True)
class ResultsFolder:
    """A kind of folder of results.

    ``suffix`` ends the name of the one that is the default, ``document`` is its JSON document, and
    ``others`` gives the names of the other files that a case may have; of ``sections`` that are no
    longer in the case, files of that pattern. It is known by a document, or a record of its own
    that ``owner`` reads. ``what`` is what it holds, in words.
    """

    suffix: str
    document: str
    others: Callable[[Case], Iterable[str]]
    what: str = "results"
    sections: str = ""
    record: str | None = None
    owner: Callable[[Path], Owner | None] | None = None

    def default(self, case: Case) -> Path:
        """Where results go by default, in the current folder."""
        return default_folder_of(case, self.suffix)

    def names(self, case: Case) -> tuple[str, ...]:
        """The files that results of a case are written to."""
        return (self.document, *self.others(case))

    def holds(self, case: Case, folder: Path, path: Path) -> bool:
        """Whether a file is one of those that are written into a folder."""
        place = path.resolve()
        return place.parent == folder.resolve() and place.name in (*self.names(case), self.record)

    def check(self, case: Case, folder: Path) -> None:
        """Refuse a folder that is not for results of this case; asked before it is solved.

        Raises
        ------
        InputError
            if it is a file, or holds other things, or results of another case, or under the name of
            a file that is to be written anything but what contactfe wrote there
        """
        if not folder.exists():
            return
        if not folder.is_dir():
            raise InputError(
                f"{folder}: is a file, results go into a folder; choose one with --out"
            )
        own = self._own(case, folder)
        entries = sorted(p.name for p in folder.iterdir() if p.name not in own & {_DRAFT})
        if not entries:
            return
        known_by = self.record or self.document
        found = (self.owner or _owner)(folder / known_by)
        if found is None:
            raise InputError(
                f"{folder}: already exists and holds {_some(entries)}, but no {known_by} of"
                " contactfe; choose another folder with --out, or remove it"
            )
        if not _same(found, case):
            path, title = found
            raise InputError(
                f"{folder}: already holds {self.what} of another case, {title!r} from"
                f" {path or 'data'}; choose another folder with --out, or remove it"
            )
        others = [
            name
            for name in (*self.names(case), _DRAFT)
            if name not in own and os.path.lexists(folder / name)
        ]
        if others:
            raise InputError(
                f"{folder}: {_some(others)} would be written over and is not as contactfe wrote it:"
                " changed since, put there by someone else, or by a version that kept no digests;"
                " move or remove it, or choose another folder with --out"
            )

    def fill(
        self, case: Case, folder: Path, content: Json, write: Callable[[Path], None]
    ) -> list[Path]:
        """Put the files that ``write`` makes into a folder, and the document; returns them.

        The document gets ``files`` and their ``digests`` beside the ``content``, by which later
        runs know them. Earlier files of this case that are not written anew are removed. All are
        written aside first, and stay as they were if anything fails.

        Raises
        ------
        InputError
            as :meth:`check` does, or if the folder cannot be written or another run has it
        """
        draft = folder / _DRAFT
        self.check(case, folder)
        with claimed(folder, case):
            own = self._own(case, folder)
            try:
                if draft.exists():  # of a run that was killed
                    shutil.rmtree(draft)
                draft.mkdir()
                write(draft)
                names = [name for name in self.others(case) if (draft / name).exists()]
                assert len(names) == len(list(draft.iterdir()))
                files = [self.document, *names, *filter(None, [self.record])]
                digests = {name: digest(draft / name) for name in names}
                write_json(draft / self.document, {**content, "files": files, "digests": digests})
                _put(draft, folder, names, own - {*names, self.document, _DRAFT}, self.document)
            except OSError as error:
                raise cannot_write(folder, error) from error
            finally:
                shutil.rmtree(draft, ignore_errors=True)
        return [folder / name for name in files]

    def _own(self, case: Case, folder: Path) -> set[str]:
        """Names of what is there and was left by earlier runs for this case, as they wrote it.

        The document is known by what it says, other files by their names and the digests in it, or
        in that of a run that was killed while it put its files in place. What the case is read from
        is never among them, nor what a link leads to.
        """
        documents = [_of_case(at / self.document, case) for at in (folder, folder / _DRAFT)]
        digests = [d for c in documents if c and isinstance(d := c.get("digests"), dict)]
        read = {Path(p).resolve() for p in (case.source, *(s.mesh for s in case.sections)) if p}
        names = self.names(case)

        def may_be(name: str) -> bool:
            return name in names or re.fullmatch(self.sections, name) is not None

        def own(path: Path) -> bool:
            if path.name == _DRAFT and path.is_dir() and not path.is_symlink():
                return all(may_be(p.name) or p.name.startswith(_ASIDE) for p in path.iterdir())
            if not ordinary(path) or path.resolve() in read:
                return False
            if path.name == self.document:
                return documents[0] is not None
            known = [of[path.name] for of in digests if path.name in of]
            return bool(known) and may_be(path.name) and digest(path) in known

        return {path.name for path in folder.iterdir() if own(path)}


def _owner(path: Path) -> Owner | None:
    """Whose a document is; None if it is not there or not ours."""
    content = read_own(path)
    if content is None or not isinstance(content.get("case"), dict):
        return None
    return content["case"].get("path"), str(content.get("title"))


def _of_case(path: Path, case: Case) -> Json | None:
    """A document of ours, if it is there and of this case."""
    owner = _owner(path)
    return read_own(path) if owner is not None and _same(owner, case) else None


def _same(owner: Owner, case: Case) -> bool:
    path, title = owner
    return path == case_path(case) and (path is not None or title == case.title)


def _some(names: list[str]) -> str:
    return ", ".join(names[:3]) + (", …" if len(names) > 3 else "")


def _put(draft: Path, folder: Path, names: list[str], gone: set[str], document: str) -> None:
    """Put new files in the place of earlier ones, the document last; all come back if one fails."""
    earlier = draft / _EARLIER
    earlier.mkdir()
    with ExitStack() as back:
        for name in (*gone, *names):
            there = folder / name
            if there.exists():
                there.rename(earlier / name)
                back.callback((earlier / name).replace, there)
            if name not in gone:
                (draft / name).rename(there)
                back.callback(there.unlink, missing_ok=True)
        (draft / document).replace(folder / document)
        back.pop_all()
