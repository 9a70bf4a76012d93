"""A model file read by a process of its own, and what comes back held against what is allowed.

The file is untrusted. This side checks name and size, starts the parsing
process, waits no longer than the file's size warrants, ends it by its own
handle, and takes nothing of the answer on trust.
"""

import json
import mmap
import os
import select
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

import numpy as np
from numpy.typing import NDArray

from materials.estimator.errors import EstimatorError
from materials.mesh.formats.parsed import MAX_BYTES, MAX_POINTS, MAX_TRIANGLES
from materials.mesh.triangles import Sums, add_up

FORMATS = ("stl", "obj", "ply", "3mf", "glb")

_ROOT = Path(__file__).resolve().parents[2]
_START = "import sys; sys.path.insert(0, sys.argv[1]); from materials.mesh.parsing import main; main()"
_SECONDS = 6
_SECONDS_PER_MB = 0.5
_LONGEST_HEAD = 4096
_FARTHEST = 1e9
_UNITS = (None, "um", "mm", "cm", "m", "in", "ft")
_UPS = (None, "y", "z")


class UnreadableModel(EstimatorError):
    """A model file that is refused, in one sentence.

    Parameters
    ----------
    name : str
        The file's name.
    message : str
        What is wrong and what to do.
    """

    def __init__(self, name: str, message: str) -> None:
        super().__init__("model", name, message)


@dataclass(frozen=True, slots=True, eq=False)
class Model:
    """A model as its file has it, checked: finite, not empty, every triangle's corners there.

    Attributes
    ----------
    points : ndarray of float32 or float64, shape (n, 3)
        In the file's own unit.
    faces : ndarray of int32, shape (m, 3), or None
        Rows of ``points``; None where each three points in turn are one triangle.
    unit : str or None
        The unit the file states ("um", "mm", "cm", "m", "in", "ft"), None where it states none.
    up : str or None
        The axis the format defines as up ("y", "z"), None where it defines none.
    sums : Sums
        Area and volume of the triangles, in the file's own unit.
    """

    points: NDArray[Any]
    faces: NDArray[np.int32] | None
    unit: str | None
    up: str | None
    sums: Sums

    @property
    def triangles(self) -> int:
        """Number of triangles [dimensionless]."""
        return len(self.points) // 3 if self.faces is None else len(self.faces)


def read_model(path: str | Path, name: str | None = None) -> Model:
    """Read a model file (STL, OBJ, PLY, 3MF, GLB) in a limited process of its own.

    Limits: 100 MB, 2 million triangles, 1 GiB of memory above the process's
    start, processor and waiting time by the file's size, no files, no network.
    Common practice, no source.

    Parameters
    ----------
    path : str or Path
        Where the file is.
    name : str, optional
        The name it was sent under, where ``path`` has none of its own.

    Returns
    -------
    Model

    Raises
    ------
    UnreadableModel
        In one sentence, what is wrong with the file and what to do.
    """
    shown = name or Path(path).name
    kind = Path(shown).suffix.lower().lstrip(".")
    if kind not in FORMATS:
        raise UnreadableModel(
            shown, f"The file is named {shown!r}; send a model that ends in .stl, .obj, .ply, .3mf or .glb."
        )
    try:
        with open(path, "rb") as file:
            size = os.fstat(file.fileno()).st_size
            _check_size(shown, size)
            return _parse(file, kind, shown, size)
    except OSError as error:
        raise UnreadableModel(shown, f"The file {shown!r} cannot be opened: {error.strerror or error}.") from None


def _check_size(shown: str, size: int) -> None:
    if size == 0:
        raise UnreadableModel(shown, "The file is empty; export the model again.")
    if size > MAX_BYTES:
        raise UnreadableModel(
            shown,
            f"The file has {size / 1e6:,.1f} MB and at most {MAX_BYTES / 1e6:.0f} MB are taken; "
            "reduce the model in the modelling program and export it again.",
        )


def time_allowed(size: int) -> int:
    """Return the processor time a file of ``size`` bytes is given [s]; common practice, no source.

    Parameters
    ----------
    size : int
        Bytes of the file [byte].

    Returns
    -------
    int
        Processor time [s].
    """
    return int(_SECONDS + _SECONDS_PER_MB * size / 1e6)


def _parse(file: IO[bytes], kind: str, shown: str, size: int) -> Model:
    seconds = time_allowed(size)
    with tempfile.TemporaryFile() as target:
        command = [sys.executable, "-I", "-c", _START, str(_ROOT), kind, str(target.fileno()), str(seconds)]
        child = subprocess.Popen(
            command,
            stdin=file,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            pass_fds=(target.fileno(),),
            env={"OPENBLAS_NUM_THREADS": "1", "PYTHONDONTWRITEBYTECODE": "1"},
            start_new_session=True,
        )
        try:
            # Half as long again as the processor time, for a machine that is busy.
            ended = _ends_within(child, seconds * 1.5 + 2)
        finally:
            child.kill()
            child.wait()
        if not ended:
            raise UnreadableModel(shown, _too_long(seconds))
        return accept(target, shown, child.returncode, seconds)


def _ends_within(child: "subprocess.Popen[bytes]", seconds: float) -> bool:
    """Wait for a process without looking again and again; a waiting time that runs out gives False."""
    handle = os.pidfd_open(child.pid)
    try:
        return bool(select.select([handle], [], [], seconds)[0])
    finally:
        os.close(handle)


def _too_long(seconds: int) -> str:
    return f"Reading the file took longer than the {seconds} seconds it is given; reduce the model and export it again."


def accept(target: IO[bytes], shown: str, status: int, seconds: int) -> Model:
    """Check the parsing process's answer and return it as a model.

    Parameters
    ----------
    target : binary file
        What the process wrote.
    shown : str
        The model file's name.
    status : int
        The process's exit status, negative for the signal that ended it.
    seconds : int
        The processor time it was given [s].

    Returns
    -------
    Model

    Raises
    ------
    UnreadableModel
        For a refusal, a process that broke off, or an answer that does not add up.
    """
    if status in (-24, -9):
        raise UnreadableModel(shown, _too_long(seconds))
    if status != 0:
        raise UnreadableModel(shown, "Reading the file broke off; it is damaged or far too large, export it again.")
    target.seek(0)
    length = int.from_bytes(target.read(4), "little")
    try:
        head = json.loads(target.read(length)) if length <= _LONGEST_HEAD else None
    except ValueError:
        head = None
    if not isinstance(head, dict):
        raise UnreadableModel(shown, "Reading the file gave no usable answer; export it again.")
    if "refusal" in head:
        raise UnreadableModel(shown, str(head["refusal"]))
    arrays = _arrays(target, head, 4 + length)
    if arrays is None:
        raise UnreadableModel(shown, "Reading the file gave no usable answer; export it again.")
    points, faces = arrays
    sums = _checked_sums(points, faces, shown)
    return Model(points, faces, head["unit"], head["up"], sums)


def _arrays(
    target: IO[bytes], head: dict[str, Any], start: int
) -> tuple[NDArray[Any], NDArray[np.int32] | None] | None:
    points, faces, kind = head.get("points"), head.get("faces"), head.get("kind")
    if type(points) is not int or not 0 <= points <= MAX_POINTS or kind not in ("f4", "f8"):
        return None
    if faces is not None and (type(faces) is not int or not 0 <= faces <= MAX_TRIANGLES):
        return None
    if head.get("unit") not in _UNITS or head.get("up") not in _UPS or (faces is None and points % 3):
        return None
    spot = np.dtype(kind)
    if os.fstat(target.fileno()).st_size != start + 3 * spot.itemsize * points + 12 * (faces or 0):
        return None
    answer = mmap.mmap(target.fileno(), 0, access=mmap.ACCESS_READ)
    values = np.frombuffer(answer, spot, 3 * points, start).reshape(-1, 3)
    rows = None
    if faces is not None:
        rows = np.frombuffer(answer, np.int32, 3 * faces, start + values.nbytes).reshape(-1, 3)
    if rows is not None and len(rows) and (rows.min() < 0 or rows.max() >= points):
        return None
    return values, rows


def _checked_sums(points: NDArray[Any], faces: NDArray[np.int32] | None, shown: str) -> Sums:
    if not len(points if faces is None else faces):
        raise UnreadableModel(shown, "The file holds no triangles; export the model as a surface mesh.")
    with np.errstate(all="ignore"):
        low, high = float(points.min()), float(points.max())
    if not (np.isfinite(low) and np.isfinite(high)):
        raise UnreadableModel(
            shown, "A point in the file is not a finite number; the file is damaged, export it again."
        )
    if max(-low, high) > _FARTHEST:
        raise UnreadableModel(
            shown,
            f"A point in the file lies {max(-low, high):.3g} units from the origin, farther than {_FARTHEST:.0e}; "
            "the file is damaged, export it again.",
        )
    sums = add_up(points, faces)
    if not sums.area > 0:
        raise UnreadableModel(shown, "The triangles in the file have no area; export the model as a surface mesh.")
    return sums
