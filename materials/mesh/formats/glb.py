"""GLB (binary glTF 2.0): metres, y up, the triangles of the scene with every node's placing."""

import json
from typing import Any

import numpy as np
from numpy.typing import NDArray

from materials.mesh.formats.parsed import Parsed, Refusal, check_counts, check_indices

_DAMAGED = "The GLB file is damaged; export it again."
_NAMES = {"KHR_draco_mesh_compression", "EXT_meshopt_compression", "KHR_meshopt_compression"}
_TYPES = {5120: "<i1", 5121: "<u1", 5122: "<i2", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
_WIDTHS = {"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4, "MAT4": 16}
_LONGEST_JSON = 16 * 1024 * 1024
_DEEPEST = 64
_TRIANGLES, _STRIP, _FAN = 4, 5, 6


def parse(data: bytes) -> Parsed:
    """Read a GLB file.

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
        Where the file is damaged, packed, or refers to another.
    """
    try:
        return _Scene(*_chunks(data)).read()
    except (KeyError, IndexError, TypeError, ValueError, AttributeError, OverflowError, RecursionError):
        raise Refusal(_DAMAGED) from None


def _chunks(data: bytes) -> tuple[dict[str, Any], bytes]:
    if data[:4] != b"glTF":
        raise Refusal("The file is not a GLB file; export it as one binary .glb file.")
    version, length = np.frombuffer(data, "<u4", 2, 4).tolist()
    if version != 2:
        raise Refusal(f"The GLB file is of version {version} and only version 2 is read; export it again.")
    if length != len(data):
        raise Refusal("The GLB file is not as long as it says; it was cut short or damaged, export it again.")
    document: dict[str, Any] | None = None
    binary = b""
    at = 12
    while at + 8 <= length:
        size, kind = np.frombuffer(data, "<u4", 2, at).tolist()
        chunk = data[at + 8 : at + 8 + size]
        if len(chunk) != size:
            raise Refusal(_DAMAGED)
        if kind == 0x4E4F534A and document is None:
            if size > _LONGEST_JSON:
                raise Refusal("The description inside the GLB file is far too long; export the model alone.")
            document = json.loads(chunk)
        elif kind == 0x004E4942 and not binary:
            binary = chunk
        at += 8 + size
    if not isinstance(document, dict):
        raise Refusal(_DAMAGED)
    return document, binary


class _Scene:
    def __init__(self, document: dict[str, Any], binary: bytes) -> None:
        self._doc, self._binary = document, binary
        self._points: list[NDArray[np.float64]] = []
        self._faces: list[NDArray[np.int64]] = []
        self._point_count = self._face_count = 0
        self._read: dict[tuple[int, int], tuple[NDArray[np.float64], NDArray[np.int64]] | None] = {}

    def read(self) -> Parsed:
        packed = _NAMES.intersection(self._doc.get("extensionsRequired", []))
        if packed:
            raise Refusal(f"The GLB file is packed with {packed.pop()}; export it again without compression.")
        if any("uri" in buffer for buffer in self._doc.get("buffers", [])):
            raise Refusal("The GLB file refers to another file for its points; export it as one .glb file.")
        for node in self._roots():
            self._visit(node, np.eye(4), 0)
        if not self._faces:
            return Parsed(np.empty((0, 3)), np.empty((0, 3), np.int32), "m", "y")
        faces = check_indices(np.concatenate(self._faces), self._point_count)
        return Parsed(np.concatenate(self._points), faces, "m", "y")

    def _roots(self) -> list[int]:
        scenes = self._doc.get("scenes")
        if scenes:
            return list(scenes[self._doc.get("scene", 0)].get("nodes", []))
        nodes = self._doc.get("nodes", [])
        children = {child for node in nodes for child in node.get("children", [])}
        return [index for index in range(len(nodes)) if index not in children]

    def _visit(self, index: int, above: NDArray[np.float64], depth: int) -> None:
        if depth > _DEEPEST:
            raise Refusal("The parts of the GLB file are nested in themselves or far too deep; export it again.")
        node = self._doc["nodes"][_plain(index)]
        placing = above @ _placing(node)
        if "mesh" in node:
            mesh = _plain(node["mesh"])
            for number in range(len(self._doc["meshes"][mesh]["primitives"])):
                self._add(mesh, number, placing)
        for child in node.get("children", []):
            self._visit(child, placing, depth + 1)

    def _add(self, mesh: int, number: int, placing: NDArray[np.float64]) -> None:
        if (mesh, number) not in self._read:
            self._read[mesh, number] = self._primitive(self._doc["meshes"][mesh]["primitives"][number])
        found = self._read[mesh, number]
        # Parts that draw nothing still count, so that a tree of them cannot go on for ever.
        self._face_count += 1 if found is None else max(len(found[1]), 1)
        check_counts(self._point_count + (0 if found is None else len(found[0])), self._face_count)
        if found is None:
            return
        points, faces = found
        if np.linalg.det(placing[:3, :3]) < 0:
            faces = faces[:, ::-1]
        self._faces.append(faces + self._point_count)
        self._points.append(points @ placing[:3, :3].T + placing[:3, 3])
        self._point_count += len(points)

    def _primitive(self, primitive: dict[str, Any]) -> tuple[NDArray[np.float64], NDArray[np.int64]] | None:
        mode = primitive.get("mode", _TRIANGLES)
        if mode not in (_TRIANGLES, _STRIP, _FAN) or "POSITION" not in primitive["attributes"]:
            return None
        points = self._accessor(primitive["attributes"]["POSITION"], "VEC3", ("<f4",)).astype(np.float64)
        if "indices" in primitive:
            row = self._accessor(primitive["indices"], "SCALAR", ("<u1", "<u2", "<u4")).reshape(-1).astype(np.int64)
        else:
            row = np.arange(len(points))
        if mode == _TRIANGLES:
            faces = row[: len(row) // 3 * 3].reshape(-1, 3)
        elif mode == _STRIP:
            faces = np.stack([row[:-2], row[1:-1], row[2:]], axis=1)
            faces[1::2] = faces[1::2, ::-1]
        else:
            faces = np.stack([np.full(max(len(row) - 2, 0), row[0]), row[1:-1], row[2:]], axis=1)
        return points, check_indices(faces, len(points)).astype(np.int64)

    def _accessor(self, index: int, shape: str, kinds: tuple[str, ...]) -> NDArray[Any]:
        accessor = self._doc["accessors"][_plain(index)]
        kind = _TYPES[accessor["componentType"]]
        if accessor["type"] != shape or kind not in kinds or "sparse" in accessor or "bufferView" not in accessor:
            raise Refusal("The GLB file keeps its points in a packed form; export it again without compression.")
        view = self._doc["bufferViews"][_plain(accessor["bufferView"])]
        if _plain(view.get("buffer", 0)) != 0:
            raise Refusal("The GLB file refers to another file for its points; export it as one .glb file.")
        count = _plain(accessor["count"])
        check_counts(count if shape == "VEC3" else 0, count // 3 if shape == "SCALAR" else 0)
        width = _WIDTHS[shape] * int(kind[-1])
        stride = _plain(view.get("byteStride", width))
        start = _plain(view.get("byteOffset", 0)) + _plain(accessor.get("byteOffset", 0))
        end = start + stride * (count - 1) + width
        if count < 1 or stride < width or end > len(self._binary):
            raise Refusal(_DAMAGED)
        raw = np.frombuffer(self._binary, np.uint8)
        rows = np.lib.stride_tricks.as_strided(raw[start:], (count, width), (stride, 1))
        return np.ascontiguousarray(rows).view(kind)


def _plain(value: Any) -> int:
    """Return a count or an index that is a whole number of at least 0."""
    if not isinstance(value, int) or isinstance(value, bool) or value < 0:
        raise ValueError(value)
    return value


def _placing(node: dict[str, Any]) -> NDArray[np.float64]:
    if "matrix" in node:
        return np.array(node["matrix"], dtype=np.float64).reshape(4, 4).T
    x, y, z, w = (float(value) for value in node.get("rotation", (0, 0, 0, 1)))
    sx, sy, sz = (float(value) for value in node.get("scale", (1, 1, 1)))
    turn = np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )
    placing = np.eye(4)
    placing[:3, :3] = turn * (sx, sy, sz)
    placing[:3, 3] = [float(value) for value in node.get("translation", (0, 0, 0))]
    return placing
