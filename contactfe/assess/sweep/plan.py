"""The samples of a sweep: which values each key has in each, and in what order to solve them."""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from contactfe.case.sweeping import Sweep, Swept

Written = str | int | float
"""A value as the case file has it."""

CHECKED_ONE_IN = 10
"""Of this many samples that are solved on one mesh level, one is solved on two, for what the levels
differ by: so its coarser level costs the sweep a few percent of its time."""

FEW = 10
"""Up to this many samples all of them are."""

_PACE = {"load": 0, "corner": 1, "model": 2, "plate": 3, "post": 4, "section": 5}
"""Order of the tables from those that change every mesh to those that change one body's; what
follows after them, such as friction, changes none. See :meth:`Plan.order`."""


@dataclass(frozen=True)
class Plan:
    """The samples of a sweep, numbered from 0; their values are made when they are asked for.

    ``drawn`` (samples, keys) are the places of a Latin hypercube between the ends of each key's
    range, from 0 to 1; None for the other methods. ``held`` are for each key the names of the
    sections that it is a key of, None where it is one of all; empty where every key is.
    """

    sweep: Sweep
    drawn: NDArray[np.float64] | None = None
    held: tuple[frozenset[str] | None, ...] = ()

    @property
    def count(self) -> int:
        """How many samples there are."""
        return self.sweep.count

    def numbers(self, sample: int) -> tuple[int | float, ...]:
        """The value of each key in a sample, in the unit that the file writes it in.

        The last key of a grid changes fastest.
        """
        keys = self.sweep.keys
        if self.drawn is not None:
            shares = self.drawn[sample]
            return tuple(key.between(float(u)) for key, u in zip(keys, shares, strict=True))
        digits = self._digits(np.array([sample]))
        return tuple(key.values[int(d[0])] for key, d in zip(keys, digits, strict=True))

    def numbers_of(self, sample: int, section: str) -> tuple[int | float | None, ...]:
        """The same, but None for each key that is one of other sections alone."""
        held = self.held or (None,) * len(self.sweep.keys)
        return tuple(
            number if of is None or section in of else None
            for number, of in zip(self.numbers(sample), held, strict=True)
        )

    def values(self, sample: int) -> tuple[Written, ...]:
        """The value of each key in a sample as the file has it."""
        numbers = self.numbers(sample)
        return tuple(k.written(x) for k, x in zip(self.sweep.keys, numbers, strict=True))

    def order(self) -> NDArray[np.int64]:
        """Numbers of all samples so that those that share a body follow one another.

        A change of load makes all meshes anew, one of the plate's thickness only the plate's; so
        keys of the load change slowest, and those that change no mesh fastest.
        """
        samples = np.arange(self.count, dtype=np.int64)
        columns = self._digits(samples) if self.drawn is None else list(self.drawn.T)
        paced = sorted(
            range(len(columns)),
            key=lambda k: _PACE.get(self.sweep.keys[k].path.partition(".")[0], len(_PACE)),
        )
        # lexsort takes the slowest key last.
        return np.lexsort([samples, *(columns[k] for k in reversed(paced))]).astype(np.int64)

    def checked(self, sample: int) -> bool:
        """Whether a sample is solved on two mesh levels: by its number alone, in no pattern."""
        return (
            self.sweep.levels == 2
            or self.count <= FEW
            or sample in {0, self.count - 1}
            or zlib.crc32(str(sample).encode()) % CHECKED_ONE_IN == 0
        )

    def _digits(self, samples: NDArray[np.int64]) -> list[NDArray[np.int64]]:
        """Which of its values each key has in these samples."""
        if self.sweep.method == "list":
            return [samples] * len(self.sweep.keys)
        digits = []
        for key in reversed(self.sweep.keys):
            samples, digit = np.divmod(samples, len(key.values))
            digits.append(digit)
        return digits[::-1]


def plan(sweep: Sweep, held: tuple[frozenset[str] | None, ...] = ()) -> Plan:
    """The samples of a sweep. Those of a Latin hypercube follow from its seed alone.

    ``held`` says which keys are of which sections, see :class:`Plan`.

    Each of its keys has one sample in each of as many even parts of its range as there are samples,
    at a random place there (McKay, Beckman, Conover, Technometrics 21, 1979: from memory, not
    seen), as scipy draws it.
    """
    if sweep.method != "latin hypercube":
        return Plan(sweep, held=held)
    from scipy.stats import qmc

    sampler = qmc.LatinHypercube(len(sweep.keys), rng=sweep.seed)
    return Plan(sweep, sampler.random(sweep.count), held)


def label(key: Swept) -> str:
    """A key with its unit, to head a column of its values.

    >>> label(Swept("plate.thickness", "mm", (40.0,))), label(Swept("contact.friction", "", (0.1,)))
    ('plate.thickness [mm]', 'contact.friction [1]')
    """
    return f"{key.path} [{key.unit or '1'}]"
