"""Files of every format come back as they were written; everything else comes back as one plain sentence."""

import io
import json
import socket
import struct
import subprocess
import sys
import threading
import zipfile
from pathlib import Path

import numpy as np
import pytest

from materials.mesh import parsing, reading
from materials.mesh.formats.parsed import MAX_BYTES
from materials.mesh.reading import UnreadableModel, accept, read_model, time_allowed
from materials.mesh.triangles import add_up, extremes
from tests.materials.mesh import files, solids

SOLID = solids.torus(1.0, 0.3, 12)


def written(folder: Path, content: bytes, name: str) -> Path:
    path = folder / name
    path.write_bytes(content)
    return path


def refused(folder: Path, content: bytes, name: str) -> str:
    with pytest.raises(UnreadableModel) as caught:
        read_model(written(folder, content, name))
    return str(caught.value)


@pytest.mark.parametrize("encoding", files.ENCODINGS)
def test_a_file_of_each_format_gives_back_its_triangles(tmp_path: Path, encoding: str) -> None:
    path = written(tmp_path, files.encoded(SOLID, encoding), f"ring.{files.suffix(encoding)}")
    model = read_model(path)
    found, meant = add_up(model.points, model.faces), add_up(SOLID.vertices, SOLID.faces)
    assert model.triangles == len(SOLID.faces)
    # Files hold 32-bit numbers, text files eight digits.
    assert found.area == pytest.approx(meant.area, rel=1e-6)
    assert found.volume == pytest.approx(meant.volume, rel=1e-6)
    np.testing.assert_allclose(extremes(model.points), extremes(SOLID.vertices), atol=1e-6)


def test_only_formats_that_state_unit_and_up_give_them(tmp_path: Path) -> None:
    stated = {}
    for encoding in ("stl binary", "obj", "ply binary", "3mf", "glb"):
        kind = files.suffix(encoding)
        model = read_model(written(tmp_path, files.encoded(SOLID, encoding), f"ring.{kind}"))
        stated[kind] = (model.unit, model.up)
    assert stated["glb"] == ("m", "y")
    assert stated["3mf"] == ("mm", "z")
    assert stated["stl"] == stated["obj"] == stated["ply"] == (None, None)


def test_it_refuses_a_name_that_ends_in_something_else(tmp_path: Path) -> None:
    message = refused(tmp_path, b"solid", "model.step")
    assert message == "The file is named 'model.step'; send a model that ends in .stl, .obj, .ply, .3mf or .glb."


def test_it_refuses_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(UnreadableModel, match="cannot be opened: No such file or directory"):
        read_model(tmp_path / "gone.stl")


def test_it_refuses_an_empty_file(tmp_path: Path) -> None:
    assert refused(tmp_path, b"", "m.stl") == "The file is empty; export the model again."


def test_it_refuses_a_file_over_the_limit_before_reading_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "big.stl"
    with path.open("wb") as file:
        file.truncate(MAX_BYTES + 200_000)
    monkeypatch.setattr(subprocess, "Popen", None)
    with pytest.raises(UnreadableModel, match=r"has 100\.2 MB and at most 100 MB are taken"):
        read_model(path)


def test_it_refuses_a_count_that_the_length_belies(tmp_path: Path) -> None:
    content = bytearray(files.encoded(SOLID, "stl binary"))
    content[80:84] = struct.pack("<I", 4_000_000_000)
    assert "says that it holds 4,000,000,000 triangles but its length" in refused(tmp_path, bytes(content), "m.stl")


# An OBJ file states no length; cut short between two lines it is an open model like any other.
@pytest.mark.parametrize("encoding", [name for name in files.ENCODINGS if name != "obj"])
def test_it_refuses_a_file_that_was_cut_short(tmp_path: Path, encoding: str) -> None:
    content = files.encoded(SOLID, encoding)
    message = refused(tmp_path, content[: len(content) * 2 // 3], f"m.{files.suffix(encoding)}")
    assert message.endswith("export it again.")


def test_it_refuses_points_that_are_not_finite(tmp_path: Path) -> None:
    corners = solids.loose(SOLID)
    corners[5, 1] = np.nan
    assert "is not a finite number" in refused(tmp_path, files.binary_stl(corners), "m.stl")
    text = files.encoded(SOLID, "obj").replace(b"v ", b"v inf ", 1)
    assert "is not a finite number" in refused(tmp_path, text, "m.obj")


def test_it_refuses_points_absurdly_far_away(tmp_path: Path) -> None:
    corners = solids.loose(SOLID)
    corners[5, 1] = 1e30
    assert "farther than 1e+09" in refused(tmp_path, files.binary_stl(corners), "m.stl")


def test_it_refuses_triangles_of_points_that_are_not_there(tmp_path: Path) -> None:
    obj = b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n"
    assert "names a point that is not there (the file has 3 points)" in refused(tmp_path, obj, "m.obj")


def test_it_refuses_points_without_faces(tmp_path: Path) -> None:
    assert "no triangles" in refused(tmp_path, b"v 0 0 0\nv 1 0 0\nv 0 1 0\n", "m.obj")
    axes = b"".join(b"property float " + axis + b"\n" for axis in (b"x", b"y", b"z"))
    ply = b"ply\nformat ascii 1.0\nelement vertex 1\n" + axes + b"end_header\n0 0 0\n"
    assert "points but no faces" in refused(tmp_path, ply, "m.ply")


def test_negative_numbers_and_polygons_of_an_obj_are_understood(tmp_path: Path) -> None:
    # An L of area 3 as one hexagon that turns inwards: a plain fan would count ground outside it.
    ring = [(0, 1), (0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)]
    text = "".join(f"v {x} {y} 0\n" for x, y in ring) + "f -7/1/1 -6//2 -5 -4 -3 -2 -1\n"
    model = read_model(written(tmp_path, text.encode(), "l.obj"))
    assert model.triangles == 5
    assert add_up(model.points, model.faces).area == pytest.approx(3.0, rel=1e-12)


def test_a_ply_of_mixed_faces_and_other_elements_is_understood(tmp_path: Path) -> None:
    head = (
        "ply\nformat binary_big_endian 1.0\ncomment made by hand\nelement note 2\nproperty list uchar short words\n"
        "element vertex 5\nproperty double x\nproperty double y\nproperty double z\nproperty uchar red\n"
        "element face 2\nproperty uchar flag\nproperty list uchar uint vertex_indices\nend_header\n"
    )
    notes = struct.pack(">Bhh", 2, 1, 2) + struct.pack(">B", 0)
    points = b"".join(struct.pack(">dddB", x, y, 0, 9) for x, y in [(0, 0), (1, 0), (1, 1), (0, 1), (2, 0)])
    faces = struct.pack(">BBIIII", 7, 4, 0, 1, 2, 3) + struct.pack(">BBIII", 7, 3, 1, 4, 2)
    model = read_model(written(tmp_path, head.encode() + notes + points + faces, "m.ply"))
    assert model.triangles == 3
    assert add_up(model.points, model.faces).area == pytest.approx(1.5, rel=1e-12)


def test_a_3mf_of_parts_is_placed_as_its_build_says(tmp_path: Path) -> None:
    more = (
        '<object id="2" type="model"><components><component objectid="1"/>'
        '<component objectid="1" transform="1 0 0 0 1 0 0 0 1 10 0 0"/></components></object>'
    )
    build = '<item objectid="2" transform="-2 0 0 0 2 0 0 0 2 0 0 5"/>'
    xml = files.model_xml(solids.box(1, 1, 1), unit="inch", build=build, more=more)
    model = read_model(written(tmp_path, files.three_mf(xml), "m.3mf"))
    assert model.unit == "in"
    # Two unit cubes, doubled: eight times the volume each, and still facing outwards though mirrored.
    assert add_up(model.points, model.faces).volume == pytest.approx(16, rel=1e-12)
    np.testing.assert_allclose(extremes(model.points), [[-22, 0, 5], [0, 2, 7]])


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (files.three_mf('<!DOCTYPE m [<!ENTITY a "aaaa">]><model>&a;</model>'), "declares entities of its own"),
        (files.three_mf("<model><resources>"), "cannot be read; it is damaged"),
        (files.three_mf('<model unit="furlong"></model>'), "states the unit 'furlong'"),
        (files.three_mf("<model></model>"), "no triangles"),
        (files.three_mf("<model></model>", extra={"../../x": b""}), "a path outside itself"),
        (files.three_mf("<model></model>", extra={"fill": bytes(200_000_000)}), "unpacks to far more"),
        (files.three_mf("<model></model>", extra={f"f{i}": b"" for i in range(300)}), "holds 302 files"),
        (b"PK\x03\x04 and then nothing of the kind", "damaged"),
    ],
)
def test_it_refuses_bombs_and_tricks_in_a_3mf(tmp_path: Path, content: bytes, words: str) -> None:
    assert words in refused(tmp_path, content, "m.3mf")


def test_a_zip_that_lies_about_its_sizes_is_stopped_while_unpacking(tmp_path: Path) -> None:
    honest = files.three_mf("<model>" + " " * 3_000_000 + "</model>")
    with zipfile.ZipFile(io.BytesIO(honest)) as package:
        size = package.getinfo("3D/3dmodel.model").file_size
    lying = honest.replace(struct.pack("<I", size), struct.pack("<I", 100))
    assert "damaged" in refused(tmp_path, lying, "m.3mf")


def test_parts_of_a_3mf_that_hold_themselves_are_refused(tmp_path: Path) -> None:
    more = '<object id="2"><components><component objectid="2"/></components></object>'
    xml = files.model_xml(solids.box(1, 1, 1), build='<item objectid="2"/>', more=more)
    assert "nested in themselves" in refused(tmp_path, files.three_mf(xml), "m.3mf")


def test_parts_of_a_3mf_that_multiply_without_end_are_refused_in_time(tmp_path: Path) -> None:
    levels = ""
    for number in range(2, 12):
        uses = f'<component objectid="{number - 1}"/>' * 10
        levels += f'<object id="{number}"><components>{uses}</components></object>'
    xml = files.model_xml(solids.box(1, 1, 1), build='<item objectid="11"/>', more=levels)
    message = refused(tmp_path, files.three_mf(xml), "m.3mf")
    assert "at most 2,000,000 are taken" in message or "took longer" in message


def glb(document: dict[str, object], binary: bytes = b"") -> bytes:
    text = json.dumps(document).encode()
    text += b" " * (-len(text) % 4)
    body = struct.pack("<II", len(text), 0x4E4F534A) + text + struct.pack("<II", len(binary), 0x004E4942) + binary
    return struct.pack("<4sII", b"glTF", 2, 12 + len(body)) + body


@pytest.mark.parametrize(
    ("document", "words"),
    [
        ({"buffers": [{"uri": "http://127.0.0.1:9/x.bin", "byteLength": 4}]}, "refers to another file"),
        ({"buffers": [{"uri": "/etc/hostname", "byteLength": 4}]}, "refers to another file"),
        ({"extensionsRequired": ["KHR_draco_mesh_compression"]}, "packed with KHR_draco_mesh_compression"),
        ({"scenes": [{"nodes": [0]}], "nodes": [{"children": [0]}]}, "nested in themselves"),
        ({"scenes": [{"nodes": [7]}], "nodes": []}, "damaged"),
        ({}, "no triangles"),
        ([], "damaged"),
    ],
)
def test_it_refuses_tricks_in_a_glb(tmp_path: Path, document: dict[str, object], words: str) -> None:
    assert words in refused(tmp_path, glb(document), "m.glb")


def test_reading_reaches_neither_the_network_nor_another_file() -> None:
    server = socket.create_server(("127.0.0.1", 0))
    reached: list[object] = []
    thread = threading.Thread(target=lambda: reached.append(server.accept()), daemon=True)
    thread.start()
    port = server.getsockname()[1]
    script = (
        "import os, socket, sys\n"
        "from materials.mesh import parsing\n"
        "parsing.limit(5)\n"
        "tried = []\n"
        f"for act in (lambda: socket.create_connection(('127.0.0.1', {port}), 1), lambda: open('/etc/hostname')):\n"
        "    try:\n        act()\n        tried.append('reached')\n"
        "    except OSError as error:\n        tried.append(error.strerror)\n"
        "print(tried)\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=20, check=True)
    assert done.stdout.strip() == "['Too many open files', 'Too many open files']"
    assert not reached
    server.close()


def test_a_file_that_needs_too_much_memory_is_refused_in_words(tmp_path: Path) -> None:
    script = (
        "from materials.mesh import parsing\n"
        "parsing.limit(5)\n"
        "print(parsing.answer(lambda data: bytearray(1100 * 1024**2), b'')[0])\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=20, check=True)
    assert "needs more memory than is allowed" in done.stdout


def test_a_file_that_takes_too_much_processor_time_is_refused_in_words() -> None:
    script = "from materials.mesh import parsing\nparsing.limit(1)\nwhile True: pass\n"
    done = subprocess.run([sys.executable, "-c", script], timeout=20, check=False)
    assert done.returncode < 0
    with pytest.raises(UnreadableModel, match="took longer than the 1 seconds it is given; reduce the model"):
        accept(io.BytesIO(), "m.stl", done.returncode, 1)


def test_a_parser_that_stands_still_is_ended_and_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[int] = []
    popen = subprocess.Popen

    def remembered(*args: object, **kwargs: object) -> subprocess.Popen[bytes]:
        child = popen(*args, **kwargs)  # type: ignore[call-overload]
        started.append(child.pid)
        return child  # type: ignore[no-any-return]

    monkeypatch.setattr(subprocess, "Popen", remembered)
    monkeypatch.setattr(reading, "_START", "import time; time.sleep(600)")
    monkeypatch.setattr(reading, "time_allowed", lambda size: 0)
    assert "took longer than the 0 seconds" in refused(tmp_path, files.encoded(SOLID, "stl binary"), "m.stl")
    assert not Path(f"/proc/{started[0]}").exists()


@pytest.mark.parametrize(
    "answer",
    [
        b"",
        b"\xff\xff\xff\xff",
        b"\x02\0\0\0[]",
        b"\x05\0\0\0{nope",
        b"\x02\0\0\0{}",
    ],
)
def test_an_answer_that_makes_no_sense_is_refused(tmp_path: Path, answer: bytes) -> None:
    path = written(tmp_path, answer, "answer")
    with path.open("rb") as file, pytest.raises(UnreadableModel, match="gave no usable answer"):
        accept(file, "m.stl", 0, 6)


@pytest.mark.parametrize(
    "change",
    [
        {"points": 99},
        {"points": -3},
        {"points": 10**12},
        {"kind": "O8"},
        {"faces": 99},
        {"faces": True},
        {"unit": "ell"},
        {"up": "x"},
    ],
)
def test_an_answer_whose_head_lies_is_refused(tmp_path: Path, change: dict[str, object]) -> None:
    head, parts = parsing.answer(parsing.parser_of("obj"), files.encoded(SOLID, "obj"))

    def packed(head: dict[str, object]) -> bytes:
        line = json.dumps(head).encode()
        line += b" " * (-(len(line) + 4) % 64)
        return len(line).to_bytes(4, "little") + line + b"".join(parts)

    with written(tmp_path, packed(head), "true").open("rb") as file:
        assert accept(file, "m.obj", 0, 6).triangles == len(SOLID.faces)
    path = written(tmp_path, packed(head | change), "false")
    with path.open("rb") as file, pytest.raises(UnreadableModel, match="gave no usable answer"):
        accept(file, "m.obj", 0, 6)


def test_the_time_allowed_grows_with_the_file() -> None:
    assert time_allowed(1_000) == 6
    assert time_allowed(100_000_000) == 56


def test_it_refuses_triangles_without_area(tmp_path: Path) -> None:
    corners = np.zeros((30, 3))
    corners[:, 0] = np.arange(30)
    assert "have no area" in refused(tmp_path, files.binary_stl(corners), "m.stl")
