"""PLY, text and binary of either byte order: element "vertex" with x, y, z and element "face" with its list."""

from array import array
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from materials.mesh.formats.parsed import Parsed, Refusal, check_counts
from materials.mesh.formats.polygons import triangles_of

_TYPES = {
    "char": "i1", "uchar": "u1", "short": "i2", "ushort": "u2", "int": "i4", "uint": "u4", "float": "f4",
    "double": "f8", "int8": "i1", "uint8": "u1", "int16": "i2", "uint16": "u2", "int32": "i4", "uint32": "u4",
    "float32": "f4", "float64": "f8",
}  # fmt: skip
_ORDERS = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}
_LISTS = ("vertex_indices", "vertex_index")
_LONGEST_HEAD = 65_536
_SHORT = "The PLY file ends before the number of points and faces it states; it was cut short, export it again."
_BAD_HEAD = "The head of the PLY file cannot be read; it is damaged or not a PLY file: export it again."

# The corners of all faces in one run, and how many each face has.
_Lists = tuple[NDArray[np.int64], NDArray[np.int64]]


@dataclass(frozen=True, slots=True)
class _Property:
    name: str
    item: str
    # The type of a list's length; None for a single value.
    length: str | None = None


@dataclass(frozen=True, slots=True)
class _Element:
    name: str
    count: int
    properties: list[_Property] = field(default_factory=list)

    @property
    def has_list(self) -> bool:
        return any(prop.length for prop in self.properties)


def parse(data: bytes) -> Parsed:
    """Read a PLY file.

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
        Where head and body do not agree or there is no surface.
    """
    order, elements, offset = _head(data)
    if not any(element.name == "face" and element.count for element in elements):
        raise Refusal("The PLY file holds points but no faces; make a surface of them first and export that.")
    reader = _Binary(data, offset, order) if order else _Text(data, offset)
    points: NDArray[np.float64] | None = None
    lists: _Lists | None = None
    for element in elements:
        if element.name == "vertex":
            points = _points(reader, element)
        elif element.name == "face":
            lists = _faces(reader, element)
        elif element.has_list:
            reader.lists(element, None)
        else:
            reader.table(element)
        if points is not None and lists is not None:
            return Parsed(points, triangles_of(points, *lists))
    raise Refusal("The PLY file has no points or no faces; export it again as a surface.")


def _head(data: bytes) -> tuple[str, list[_Element], int]:
    end = data.find(b"end_header", 0, _LONGEST_HEAD)
    newline = data.find(b"\n", end)
    if not data.startswith((b"ply\n", b"ply\r")) or end < 0 or newline < 0:
        raise Refusal(_BAD_HEAD)
    order: str | None = None
    elements: list[_Element] = []
    try:
        for line in data[:end].decode("ascii").splitlines()[1:]:
            match line.split():
                case ["format", name, _]:
                    order = _ORDERS[name]
                case ["element", name, count]:
                    elements.append(_Element(name, int(count)))
                case ["property", "list", length, item, name]:
                    elements[-1].properties.append(_Property(name, _TYPES[item], _TYPES[length]))
                case ["property", item, name]:
                    elements[-1].properties.append(_Property(name, _TYPES[item]))
                case [] | ["comment", *_] | ["obj_info", *_]:
                    pass
                case _:
                    raise Refusal(_BAD_HEAD)
    except (ValueError, KeyError, IndexError):
        raise Refusal(_BAD_HEAD) from None
    if order is None:
        raise Refusal(_BAD_HEAD)
    for element in elements:
        names = {prop.name for prop in element.properties}
        if element.count < 0 or len(names) != len(element.properties) or (element.count and not names):
            raise Refusal(_BAD_HEAD)
        # Each row takes at least one byte, so a count past the file's length is a lie.
        if element.count > len(data):
            raise Refusal(_SHORT)
    return order, elements, newline + 1


class _Binary:
    def __init__(self, data: bytes, at: int, order: str) -> None:
        self._data, self._at, self._order = data, at, order

    def table(self, element: _Element) -> dict[str, NDArray[np.float64]]:
        dtype = np.dtype([(prop.name, self._order + prop.item) for prop in element.properties])
        if self._at + dtype.itemsize * element.count > len(self._data):
            raise Refusal(_SHORT)
        rows = np.frombuffer(self._data, dtype=dtype, count=element.count, offset=self._at)
        self._at += dtype.itemsize * element.count
        return {prop.name: rows[prop.name].astype(np.float64) for prop in element.properties}

    def lists(self, element: _Element, wanted: str | None) -> _Lists:
        """Walk the rows, since each list's length says where the next value stands, then gather by length."""
        starts, sizes = array("q"), array("q")
        at, data = self._at, self._data
        byteorder: Any = "little" if self._order == "<" else "big"
        steps = [
            (prop.name == wanted, np.dtype(prop.length).itemsize if prop.length else 0, np.dtype(prop.item).itemsize)
            for prop in element.properties
        ]
        for _ in range(element.count):
            for is_wanted, length_bytes, item_bytes in steps:
                size = 1
                if length_bytes:
                    size = int.from_bytes(data[at : at + length_bytes], byteorder)
                    at += length_bytes
                if is_wanted:
                    starts.append(at)
                    sizes.append(size)
                at += size * item_bytes
            if at > len(data):
                raise Refusal(_SHORT)
        self._at = at
        item = next((prop.item for prop in element.properties if prop.name == wanted), "u1")
        return self._gather(np.array(starts, np.int64), np.array(sizes, np.int64), np.dtype(self._order + item))

    def _gather(self, starts: NDArray[np.int64], sizes: NDArray[np.int64], item: np.dtype[Any]) -> _Lists:
        raw = np.frombuffer(self._data, dtype=np.uint8)
        corners = np.empty(int(sizes.sum()), dtype=np.int64)
        firsts = np.cumsum(sizes) - sizes
        for size in np.unique(sizes):
            chosen = sizes == size
            spans = raw[starts[chosen][:, None] + np.arange(size * item.itemsize)]
            values = np.ascontiguousarray(spans).view(item).astype(np.int64)
            corners[firsts[chosen][:, None] + np.arange(size)] = values
        return corners, sizes


class _Text:
    def __init__(self, data: bytes, at: int) -> None:
        self._tokens = _tokens(data, at)

    def table(self, element: _Element) -> dict[str, NDArray[np.float64]]:
        width = len(element.properties)
        values = array("d")
        self._take(element.count * width, float, values)
        grid = np.array(values).reshape(-1, width)
        return {prop.name: grid[:, column] for column, prop in enumerate(element.properties)}

    def lists(self, element: _Element, wanted: str | None) -> _Lists:
        corners, sizes, passed = array("q"), array("q"), array("d")
        for _ in range(element.count):
            for prop in element.properties:
                size = 1
                if prop.length:
                    length = array("q")
                    self._take(1, int, length)
                    size = length[0]
                if prop.name == wanted:
                    sizes.append(size)
                    self._take(size, int, corners)
                else:
                    self._take(size, float, passed)
            del passed[:]
        return np.array(corners, np.int64), np.array(sizes, np.int64)

    def _take(self, count: int, kind: Callable[[bytes], Any], into: "array[Any]") -> None:
        try:
            for _ in range(count):
                into.append(kind(next(self._tokens)))
        except StopIteration:
            raise Refusal(_SHORT) from None
        except (ValueError, OverflowError):
            raise Refusal("The PLY file holds something else where a number should be; export it again.") from None


def _tokens(data: bytes, at: int) -> Iterator[bytes]:
    while at < len(data):
        end = data.find(b"\n", at)
        end = len(data) if end < 0 else end
        yield from data[at:end].split()
        at = end + 1


def _points(reader: _Binary | _Text, element: _Element) -> NDArray[np.float64]:
    names = {prop.name for prop in element.properties}
    if not {"x", "y", "z"} <= names or element.has_list:
        raise Refusal("The points of the PLY file have no plain x, y and z; export it again.")
    check_counts(element.count, 0)
    columns = reader.table(element)
    return np.stack([columns[axis] for axis in "xyz"], axis=1)


def _faces(reader: _Binary | _Text, element: _Element) -> _Lists:
    wanted = [prop.name for prop in element.properties if prop.name in _LISTS and prop.length]
    if len(wanted) != 1:
        raise Refusal("The faces of the PLY file have no list of corners; export it again.")
    check_counts(0, element.count)
    return reader.lists(element, wanted[0])
