"""Wavefront OBJ: points and faces only; materials and every other file it names are passed over."""

import io
from array import array

import numpy as np

from materials.mesh.formats.parsed import MAX_POINTS, MAX_TRIANGLES, Parsed, Refusal, check_counts
from materials.mesh.formats.polygons import triangles_of

_FAR = 2**31


def parse(data: bytes) -> Parsed:
    """Read an OBJ file.

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
        Where a line cannot be read or the file holds no model.
    """
    if b"\0" in data:
        raise Refusal("The file is not a text OBJ file; export it again as OBJ, or name it for what it is.")
    points, corners, sizes = array("d"), array("q"), array("q")
    triangles = 0
    lines = io.BytesIO(data.replace(b"\\\r\n", b" ").replace(b"\\\n", b" "))
    for number, line in enumerate(lines, start=1):
        kind = line[:2]
        try:
            if kind in (b"v ", b"v\t"):
                x, y, z = line.split()[1:4]
                points.extend((float(x), float(y), float(z)))
            elif kind in (b"f ", b"f\t"):
                before = len(corners)
                for token in line.split()[1:]:
                    index = int(token.split(b"/", 1)[0])
                    if not index or abs(index) > _FAR:
                        raise ValueError
                    corners.append(index - 1 if index > 0 else len(points) // 3 + index)
                size = len(corners) - before
                sizes.append(size)
                triangles += size - 2
        except ValueError:
            raise Refusal(f"Line {number:,} of the OBJ file cannot be read; it is damaged, export it again.") from None
        if triangles > MAX_TRIANGLES or len(points) > 3 * MAX_POINTS:
            check_counts(len(points) // 3, triangles)
    if not points and not sizes:
        raise Refusal("The file holds no points and no faces, so it is not an OBJ model; export it again.")
    spots = np.frombuffer(points, dtype=np.float64).reshape(-1, 3)
    faces = triangles_of(spots, np.frombuffer(corners, dtype=np.int64), np.frombuffer(sizes, dtype=np.int64))
    return Parsed(spots, faces)
