"""Our own STEP and STL read again: the volumes of the plates, mm^3."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from blockwright.curves._numpy import np
from blockwright.errors import InputError
from blockwright.plugin.format import Echo

STL_HEAD, FACET = 84, 50


def echo_step(data: bytes) -> Echo:
    """The solids in a STEP file; InputError when there is none."""
    from cadquery import importers

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plates.step"
        path.write_bytes(data)
        try:
            solids: list[Any] = importers.importStep(str(path)).solids().vals()
        except Exception as error:  # what the library raises for a broken file differs
            raise InputError.coded("file.broken", kind="STEP", why=str(error)) from None
    return Echo(volumes=tuple(float(solid.Volume()) for solid in solids))


def echo_stl(data: bytes) -> Echo:
    """All plates of a binary STL together; InputError when it is cut short."""
    count = int.from_bytes(data[STL_HEAD - 4 : STL_HEAD], "little")
    if len(data) != STL_HEAD + count * FACET:
        raise InputError.coded("stl.cut-short")
    rows = np.frombuffer(data, dtype=np.uint8, offset=STL_HEAD).reshape(count, FACET)
    corners = rows[:, 12:48].copy().view("<f4").reshape(count, 3, 3).astype(float)
    # From a corner near by, so that no digit is lost far from the origin.
    corners -= corners.reshape(-1, 3).mean(axis=0)
    six = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])).sum()
    return Echo(volumes=(float(six) / 6.0,))
