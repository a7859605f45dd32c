"""A folder of results of a case: whose it is, what in it is one's own, and how it is filled."""

import os
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from contactfe.case import Case
from contactfe.errors import InputError
from contactfe.report.exchange import draft_in, drafts, put, recover
from contactfe.report.files import cannot_write, claimed, digest, not_begun, ordinary
from contactfe.report.json_file import FROM_DATA, Json, case_path, read_own, write_json
from contactfe.report.slugs import slug

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
        try:
            there = folder.exists() or folder.resolve().exists()
        except (OSError, RuntimeError) as error:  # of a link that leads to itself
            raise InputError(f"{folder}: cannot be a folder for results: {error}") from None
        if not there:
            return
        if not folder.is_dir():
            raise InputError(
                f"{folder}: is a file, results go into a folder; choose one with --out"
            )
        if drafts(folder):  # of a run that was killed, or is at work
            with claimed(folder, case):
                recover(folder)
        begun = {p.name for p in folder.iterdir()} - {p.name for p in drafts(folder)}
        if self.record is not None and not_begun(folder / self.record):
            begun.remove(self.record)
        if not begun:
            return
        entries = sorted(begun)
        known_by = self.record or self.document
        if self.owner is not None and known_by in begun:
            found = self.owner(folder / known_by)
        else:  # as also in a folder of a version that kept no record
            found = _owner(folder / self.document)
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
        own = self._own(case, folder)
        others = [n for n in self.names(case) if n not in own and os.path.lexists(folder / n)]
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
        runs know them. Earlier files of this case that are not written anew are removed. The folder
        holds all earlier results or all new ones, however the process ends; where the disk cannot
        do that, the next run brings in what is missing.

        Raises
        ------
        InputError
            as :meth:`check` does, or if the folder cannot be written or another run has it
        """
        self.check(case, folder)
        try:
            with claimed(folder, case) as claim, draft_in(folder) as draft:
                write(draft)
                names = [name for name in self.others(case) if (draft / name).exists()]
                assert len(names) == len(list(draft.iterdir()))
                files = [self.document, *names, *filter(None, [self.record])]
                digests = {name: digest(draft / name) for name in names}
                write_json(draft / self.document, {**content, "files": files, "digests": digests})
                self.check(case, folder)  # once more: to write may have taken long
                put(draft, (*names, self.document), self._own(case, folder), claim)
        except OSError as error:
            raise cannot_write(folder, error, self.names(case)) from error
        return [folder / name for name in files]

    def _own(self, case: Case, folder: Path) -> dict[str, str]:
        """Names of what earlier runs left there for this case, as they wrote it, with digests.

        The document is known by what it says, other files by their names and the digests in it.
        What the case is read from is never among them, nor what a link leads to.
        """
        owner, document = _owner(folder / self.document), read_own(folder / self.document)
        if document is None or owner is None or not _same(owner, case):
            return {}
        known = document.get("digests")
        read = {Path(p).resolve() for p in (case.source, *(s.mesh for s in case.sections)) if p}
        own = {}
        for path in folder.iterdir():
            name = path.name
            ours = name in self.names(case) or re.fullmatch(self.sections, name) is not None
            if ours and ordinary(path) and path.resolve() not in read:
                found = digest(path)
                if name == self.document or (isinstance(known, dict) and known.get(name) == found):
                    own[name] = found
        return own


def _owner(path: Path) -> Owner | None:
    """Whose a document is; None if it is not there or not ours."""
    content = read_own(path)
    if content is None or not isinstance(content.get("case"), dict):
        return None
    return content["case"].get("path"), str(content.get("title"))


def _same(owner: Owner, case: Case) -> bool:
    path, title = owner
    return path == case_path(case) and (path is not None or title == case.title)


def _some(names: list[str]) -> str:
    return ", ".join(names[:3]) + (", …" if len(names) > 3 else "")
