"""3MF: a zip of XML. Objects, components and build items with their placings; z up, in the unit it states."""

import io
import posixpath
import zipfile
import zlib
from array import array
from collections.abc import Callable
from dataclasses import dataclass, field
from xml.parsers import expat

import numpy as np
from numpy.typing import NDArray

from materials.mesh.formats.parsed import MAX_POINTS, MAX_TRIANGLES, Parsed, Refusal, check_counts, check_indices

_UNITS = {"micron": "um", "millimeter": "mm", "centimeter": "cm", "inch": "in", "foot": "ft", "meter": "m"}
_MODEL_TYPE = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_MOST_ENTRIES = 200
_MOST_BYTES = 400 * 1024 * 1024
_MOST_RATIO = 100
_RATIO_FROM = 1024 * 1024
_BLOCK = 256 * 1024
_DEEPEST = 32
_Start = Callable[[str, dict[str, str]], None]
_End = Callable[[str], None]
_DAMAGED = "The 3MF file is damaged; export it again."
_BOMB = "The 3MF file unpacks to far more than a model needs; export the model again, alone."


@dataclass(slots=True)
class _Object:
    points: "array[float]" = field(default_factory=lambda: array("d"))
    faces: "array[int]" = field(default_factory=lambda: array("q"))
    components: list["_Use"] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Use:
    path: str
    number: str
    placing: NDArray[np.float64]


def parse(data: bytes) -> Parsed:
    """Read a 3MF file.

    Parameters
    ----------
    data : bytes
        The whole file.

    Returns
    -------
    Parsed

    Raises
    ------
    Refusal
        Where the package is damaged, unpacks to too much, or declares entities.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            return _Package(package, len(data)).read()
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, UnicodeError):
        raise Refusal(_DAMAGED) from None
    except (ValueError, OverflowError, KeyError):
        raise Refusal("A number in the 3MF file cannot be read; it is damaged, export it again.") from None


class _Package:
    def __init__(self, package: zipfile.ZipFile, size: int) -> None:
        self._package = package
        self._names = _checked_names(package.infolist(), size)
        self._left = _MOST_BYTES
        self._parts: dict[str, _Part] = {}
        self._points: list[NDArray[np.float64]] = []
        self._faces: list[NDArray[np.int64]] = []
        self._point_count = self._face_count = 0

    def read(self) -> Parsed:
        root = self._root()
        part = self._part(root)
        for use in part.items:
            self._place(use, np.eye(4), 0)
        if not self._faces:
            return Parsed(np.empty((0, 3)), np.empty((0, 3), np.int32), part.unit, "z")
        faces = check_indices(np.concatenate(self._faces), self._point_count)
        return Parsed(np.concatenate(self._points), faces, part.unit, "z")

    def _root(self) -> str:
        relations: list[str] = []

        def start(tag: str, attributes: dict[str, str]) -> None:
            if tag.rpartition("}")[2] == "Relationship" and attributes.get("Type") == _MODEL_TYPE:
                relations.append(_path(attributes.get("Target", "")))

        if "_rels/.rels" not in self._names:
            raise Refusal("The zip file holds no 3D model; export it as 3MF.")
        self._feed("_rels/.rels", start, None)
        if not relations or relations[0] not in self._names:
            raise Refusal("The zip file holds no 3D model; export it as 3MF.")
        return relations[0]

    def _part(self, path: str) -> "_Part":
        if path not in self._parts:
            if path not in self._names:
                raise Refusal(_DAMAGED)
            part = _Part(path)
            self._feed(path, part.start, part.end)
            self._parts[path] = part
        return self._parts[path]

    def _feed(self, path: str, start: _Start, end: _End | None) -> None:
        """Unpack block by block, counting, since the sizes a zip states can lie."""
        parser = expat.ParserCreate(namespace_separator="}")
        parser.StartElementHandler = start
        parser.EndElementHandler = end
        parser.StartDoctypeDeclHandler = _refuse_doctype
        try:
            with self._package.open(path) as stream:
                while block := stream.read(_BLOCK):
                    self._left -= len(block)
                    if self._left < 0:
                        raise Refusal(_BOMB)
                    parser.Parse(block, False)
                parser.Parse(b"", True)
        except expat.ExpatError:
            raise Refusal("The text inside the 3MF file cannot be read; it is damaged, export it again.") from None

    def _place(self, use: _Use, above: NDArray[np.float64], depth: int) -> None:
        if depth > _DEEPEST:
            raise Refusal("The parts of the 3MF file are nested in themselves or far too deep; export it again.")
        found = self._part(use.path).objects.get(use.number)
        if found is None:
            raise Refusal(_DAMAGED)
        placing = use.placing @ above
        self._face_count += max(len(found.faces) // 3, 1)
        check_counts(self._point_count + len(found.points) // 3, self._face_count)
        if found.faces:
            points = np.array(found.points).reshape(-1, 3)
            faces = check_indices(np.array(found.faces, np.int64).reshape(-1, 3), len(points)).astype(np.int64)
            if np.linalg.det(placing[:3, :3]) < 0:
                faces = faces[:, ::-1]
            self._faces.append(faces + self._point_count)
            self._points.append(points @ placing[:3, :3] + placing[3, :3])
            self._point_count += len(points)
        for component in found.components:
            self._place(component, placing, depth + 1)


class _Part:
    """One model file: what the XML parser calls as it goes."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.unit = "mm"
        self.objects: dict[str, _Object] = {}
        self.items: list[_Use] = []
        self._open: _Object | None = None
        self._counts = [0, 0]

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition("}")[2]
        if name == "vertex" and self._open is not None:
            self._count(0, MAX_POINTS)
            points = self._open.points
            points.append(float(attributes["x"]))
            points.append(float(attributes["y"]))
            points.append(float(attributes["z"]))
        elif name == "triangle" and self._open is not None:
            self._count(1, MAX_TRIANGLES)
            self._open.faces.extend((int(attributes["v1"]), int(attributes["v2"]), int(attributes["v3"])))
        elif name == "object":
            self._open = self.objects.setdefault(attributes["id"], _Object())
        elif name == "component" and self._open is not None:
            self._open.components.append(self._use(attributes))
        elif name == "item":
            self.items.append(self._use(attributes))
        elif name == "model":
            unit = attributes.get("unit", "millimeter")
            if unit not in _UNITS:
                raise Refusal(f"The 3MF file states the unit {unit[:20]!r}, which is not known; export it again.")
            self.unit = _UNITS[unit]

    def end(self, tag: str) -> None:
        if tag.rpartition("}")[2] == "object":
            self._open = None

    def _count(self, which: int, most: int) -> None:
        self._counts[which] += 1
        if self._counts[which] > most:
            check_counts(*self._counts)

    def _use(self, attributes: dict[str, str]) -> _Use:
        path = next((value for key, value in attributes.items() if key.rpartition("}")[2] == "path"), "")
        placing = np.eye(4)
        if "transform" in attributes:
            placing[:, :3] = np.array([float(word) for word in attributes["transform"].split()]).reshape(4, 3)
        return _Use(_path(path) if path else self.path, attributes["objectid"], placing)


def _checked_names(entries: list[zipfile.ZipInfo], size: int) -> frozenset[str]:
    if len(entries) > _MOST_ENTRIES:
        raise Refusal(f"The 3MF file holds {len(entries):,} files and at most {_MOST_ENTRIES} are taken.")
    declared = sum(entry.file_size for entry in entries)
    if declared > _MOST_BYTES or (declared > _RATIO_FROM and declared > _MOST_RATIO * size):
        raise Refusal(_BOMB)
    for entry in entries:
        parts = entry.filename.replace("\\", "/").split("/")
        link = entry.external_attr >> 16 & 0o170000 == 0o120000
        odd = link or entry.flag_bits & 1 or entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
        if odd or entry.filename.startswith(("/", "\\")) or ".." in parts or ":" in parts[0]:
            raise Refusal("The 3MF file holds a link, a locked file or a path outside itself; export it again.")
    names = [entry.filename for entry in entries]
    if len(set(names)) != len(names):
        raise Refusal(_DAMAGED)
    return frozenset(names)


def _path(target: str) -> str:
    return posixpath.normpath("/" + target).lstrip("/")


def _refuse_doctype(*_: object) -> None:
    raise Refusal(
        "The text inside the 3MF file declares entities of its own, which a model has no use for; export it again."
    )
