"""A corpus of damaged model files, the same at every run: each a valid file spoilt in one or more ways."""

import io
import random
import re
import struct
import zipfile
from collections.abc import Iterator

from tests.materials.mesh import files, solids

_NUMBER = re.compile(rb"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")
_ODD_NUMBERS = (
    b"nan", b"inf", b"-1", b"0", b"1e999", b"4294967295", b"99999999999999999999", b"1.2.3", b"--1", b"", b"0x10",
    b"1_0", "\u0663".encode(), b"1e-320", b"2147483648",
)  # fmt: skip
_ODD_WORDS = (b"\xff\xff\xff\xff", b"\0\0\0\0", b"\0\0\xc0\x7f", b"\0\0\x80\x7f", b"\0\0\0\x80", b"\xff\xff\xff\x7f")


def corpus(per_encoding: int) -> Iterator[tuple[str, bytes]]:
    """Yield (suffix, content), ``per_encoding`` for each encoding."""
    solid = solids.torus(1.0, 0.3, 6)
    for encoding in files.ENCODINGS:
        sound = files.encoded(solid, encoding)
        rng = random.Random(encoding)  # noqa: S311
        for _ in range(per_encoding):
            yield files.suffix(encoding), _spoilt(sound, encoding, rng)


def _spoilt(sound: bytes, encoding: str, rng: random.Random) -> bytes:
    inner = rng.random() < 0.6
    if encoding == "3mf" and inner:
        return _inside_zip(sound, rng)
    if encoding == "glb" and inner:
        return _inside_glb(sound, rng)
    content = sound
    for _ in range(rng.choice((1, 1, 1, 2, 4))):
        content = rng.choice(_TEXT if encoding.endswith(("text", "obj")) else _BINARY)(content, rng)
    return content


def _inside_zip(sound: bytes, rng: random.Random) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(sound)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            if name.endswith(".model") or rng.random() < 0.1:
                content = rng.choice(_TEXT)(content, rng)
            new.writestr(name, content)
    return stream.getvalue()


def _inside_glb(sound: bytes, rng: random.Random) -> bytes:
    size = struct.unpack_from("<I", sound, 12)[0]
    text = rng.choice(_TEXT)(sound[20 : 20 + size], rng)
    rest = sound[20 + size :]
    length = 20 + len(text) + len(rest)
    return struct.pack("<4sIIII", b"glTF", 2, length, len(text), 0x4E4F534A) + text + rest


def _cut(content: bytes, rng: random.Random) -> bytes:
    return content[: rng.randrange(len(content) + 1)]


def _flip(content: bytes, rng: random.Random) -> bytes:
    spoilt = bytearray(content)
    for _ in range(rng.choice((1, 4, 32))):
        if spoilt:
            spoilt[rng.randrange(len(spoilt))] ^= 1 << rng.randrange(8)
    return bytes(spoilt)


def _overwrite(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(0, max(len(content) - 4, 1))
    return content[:at] + rng.choice(_ODD_WORDS) + content[at + 4 :]


def _overwrite_head(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(0, min(len(content), 120) or 1)
    return content[:at] + rng.choice(_ODD_WORDS) + content[at + 4 :]


def _insert(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(content) + 1)
    return content[:at] + rng.randbytes(rng.choice((1, 3, 50, 3000))) + content[at:]


def _leave_out(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(content) + 1)
    return content[:at] + content[at + rng.choice((1, 4, 50, 3000)) :]


def _repeat(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(content) + 1)
    return content[:at] + content[max(0, at - rng.choice((10, 200, 3000))) :]


def _swap(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(content) + 1)
    return content[at:] + content[:at]


def _noise(content: bytes, rng: random.Random) -> bytes:
    return content[: rng.choice((0, 4, 12, 84))] + rng.randbytes(rng.choice((1, 100, 5000)))


def _odd_number(content: bytes, rng: random.Random) -> bytes:
    found = list(_NUMBER.finditer(content))
    if not found:
        return content[:-1]
    # Counts stand near the head, so they are chosen as often as all the rest.
    chosen = rng.choice(found[:12] if rng.random() < 0.5 else found)
    return content[: chosen.start()] + rng.choice(_ODD_NUMBERS) + content[chosen.end() :]


def _drop_line(content: bytes, rng: random.Random) -> bytes:
    lines = content.split(b"\n" if b"\n" in content else b">")
    del lines[rng.randrange(len(lines))]
    return b"\n".join(lines)


def _nest(content: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(content) + 1)
    return content[:at] + rng.choice((b"[", b"<a>", b"{", b"(", b'"')) * 20_000 + content[at:]


_BINARY = (_cut, _flip, _overwrite, _overwrite_head, _insert, _leave_out, _repeat, _swap, _noise)
_TEXT = (*_BINARY, _odd_number, _odd_number, _odd_number, _drop_line, _nest)
