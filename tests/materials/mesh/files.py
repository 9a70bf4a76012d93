"""Model files of every format, written by a general-purpose library so that reading has an independent partner."""

import io
import zipfile

import numpy as np
import trimesh

from materials.mesh.triangles import Mesh

ENCODINGS = ("stl binary", "stl text", "obj", "ply binary", "ply text", "3mf", "glb")


def suffix(encoding: str) -> str:
    return encoding.split()[0]


def encoded(mesh: Mesh, encoding: str) -> bytes:
    """The mesh as a file of one of ``ENCODINGS``."""
    model = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    kinds = {
        "stl binary": {"file_type": "stl"},
        "stl text": {"file_type": "stl_ascii"},
        "obj": {"file_type": "obj"},
        "ply binary": {"file_type": "ply", "encoding": "binary"},
        "ply text": {"file_type": "ply", "encoding": "ascii"},
        "3mf": {"file_type": "3mf"},
        "glb": {"file_type": "glb"},
    }
    content = model.export(**kinds[encoding])
    return content.encode() if isinstance(content, str) else bytes(content)


def three_mf(model_xml: str, *, name: str = "3D/3dmodel.model", extra: dict[str, bytes] | None = None) -> bytes:
    """A 3MF package round one model part, as the open specification lays it out."""
    relations = (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Target="/{name}" Id="rel0" '
        'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
    )
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("_rels/.rels", relations)
        package.writestr(name, model_xml)
        for path, content in (extra or {}).items():
            package.writestr(path, content)
    return stream.getvalue()


def model_xml(mesh: Mesh, *, unit: str = "millimeter", build: str = '<item objectid="1"/>', more: str = "") -> str:
    """The model part of a 3MF package with the mesh as object 1."""
    vertices = "".join(f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>' for x, y, z in mesh.vertices.tolist())
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces.tolist())
    return (
        f'<?xml version="1.0"?><model unit="{unit}" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
        f'<resources><object id="1" type="model"><mesh><vertices>{vertices}</vertices>'
        f"<triangles>{triangles}</triangles></mesh></object>{more}</resources><build>{build}</build></model>"
    )


def binary_stl(corners: np.ndarray) -> bytes:
    """Loose corners, shape (3 m, 3), as binary STL."""
    records = np.zeros(len(corners) // 3, dtype=[("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    records["v"] = corners.reshape(-1, 3, 3)
    return bytes(80) + len(records).to_bytes(4, "little") + records.tobytes()
