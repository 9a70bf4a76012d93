"""STL, binary and text. It states neither unit nor up."""

import re
from itertools import chain, islice

import numpy as np
from numpy.typing import NDArray

from materials.mesh.formats.parsed import Parsed, Refusal, check_counts

_HEAD = 84
_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
_VERTEX = re.compile(rb"\bvertex\s+(\S+)\s+(\S+)\s+(\S+)", re.IGNORECASE)
_END_OF_FACET = re.compile(rb"\bendfacet\b", re.IGNORECASE)
_END_OF_SOLID = re.compile(rb"\bendsolid\b", re.IGNORECASE)
_BATCH = 50_000


def parse(data: bytes) -> Parsed:
    """Read an STL file: corners three by three, nothing shared.

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
        Where count and length do not agree or a corner is no number.
    """
    if len(data) >= _HEAD:
        count = int.from_bytes(data[80:84], "little")
        if len(data) == _HEAD + count * _RECORD.itemsize:
            return Parsed(_binary(data, count), None)
    if data.lstrip()[:5].lower() == b"solid" and b"\0" not in data[:1024]:
        return Parsed(_text(data), None)
    if len(data) < _HEAD:
        raise Refusal("The file is too short to be an STL file; export it again.")
    raise Refusal(
        f"The file says that it holds {count:,} triangles but its length of {len(data):,} bytes does not agree; "
        "it was cut short or damaged, or it is not an STL file: export it again."
    )


def _binary(data: bytes, count: int) -> NDArray[np.float32]:
    check_counts(0, count)
    records = np.frombuffer(data, dtype=_RECORD, count=count, offset=_HEAD)
    return np.ascontiguousarray(records["corners"]).reshape(-1, 3)


def _text(data: bytes) -> NDArray[np.float64]:
    facets = sum(1 for _ in _END_OF_FACET.finditer(data))
    check_counts(0, facets)
    if not _END_OF_SOLID.search(data):
        raise Refusal("The text STL file ends before its last line; it was cut short, export it again.")
    # The first line carries a free name, which may hold any word.
    matches = _VERTEX.finditer(data, data.find(b"\n") + 1)
    batches: list[NDArray[np.float64]] = []
    found = 0
    while batch := list(islice(matches, _BATCH)):
        found += len(batch)
        if found > 3 * facets:
            break
        tokens = np.array(list(chain.from_iterable(match.groups() for match in batch)))
        try:
            batches.append(tokens.astype(np.float64))
        except ValueError:
            raise Refusal("A corner in the text STL file is not a number; export it again.") from None
    if found != 3 * facets:
        raise Refusal(
            f"The text STL file has {facets:,} triangles but not three corners for each; "
            "it is damaged, export it again."
        )
    if not batches:
        return np.empty((0, 3))
    return np.concatenate(batches).reshape(-1, 3)
