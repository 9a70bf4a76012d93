"""Photos are made again: upright, small enough, and without anything that came with them."""

import io
import struct
import zlib
from typing import Any

import pytest
from PIL import Image

from studio.images import NotAPhoto, made_again


def picture(kind: str = "JPEG", size: tuple[int, int] = (64, 32), mode: str = "RGB", **how: Any) -> bytes:
    """A picture, red on its left half."""
    image = Image.new(mode, size)
    if mode == "RGB":
        image.paste((200, 20, 20), (0, 0, size[0] // 2, size[1]))
    target = io.BytesIO()
    image.save(target, kind, **how)
    return target.getvalue()


def with_place_and_turned() -> bytes:
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned a quarter right
    exif[0x010F] = "SentinelCameraMaker"
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 12.0)
    return picture(exif=exif.tobytes())


def test_a_photo_stands_upright() -> None:
    made = made_again(with_place_and_turned())
    assert (made.width, made.height) == (32, 64)
    with Image.open(io.BytesIO(made.full)) as kept:
        red, _, _ = kept.getpixel((16, 8))
        dark, _, _ = kept.getpixel((16, 56))
    assert red > 150 > dark


def test_nothing_but_pixels_is_kept() -> None:
    made = made_again(with_place_and_turned())
    for data in (made.full, made.small):
        assert b"Sentinel" not in data
        assert b"Exif" not in data
        with Image.open(io.BytesIO(data)) as kept:
            assert not kept.getexif()
            assert "icc_profile" not in kept.info


def test_words_hidden_behind_a_picture_are_left_behind() -> None:
    made = made_again(picture("PNG") + b"<script>alert(1)</script>")
    assert b"script" not in made.full


@pytest.mark.parametrize(
    ("kind", "mode"), [("JPEG", "CMYK"), ("PNG", "RGBA"), ("PNG", "P"), ("WEBP", "RGB"), ("PNG", "L")]
)
def test_every_sort_of_picture_becomes_a_plain_one(kind: str, mode: str) -> None:
    with Image.open(io.BytesIO(made_again(picture(kind, mode=mode)).full)) as kept:
        assert (kept.format, kept.mode) == ("JPEG", "RGB")


def test_of_a_moving_picture_the_first_one_is_kept() -> None:
    frames = [Image.new("RGB", (20, 20), colour) for colour in ("red", "blue")]
    target = io.BytesIO()
    frames[0].save(target, "WEBP", save_all=True, append_images=frames[1:])
    with Image.open(io.BytesIO(made_again(target.getvalue()).full)) as kept:
        assert kept.getpixel((10, 10))[0] > 150


def test_a_large_photo_is_made_smaller_and_a_small_one_is_left() -> None:
    large, small = made_again(picture(size=(4000, 1000))), made_again(picture())
    assert (large.width, large.height) == (2000, 500)
    assert (small.width, small.height) == (64, 32)
    with Image.open(io.BytesIO(large.small)) as thumbnail:
        assert thumbnail.size == (320, 80)


def bomb() -> bytes:
    """A PNG that says it is 30,000 by 30,000 and holds next to nothing."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", 30000, 30000, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "The file is empty"),
        (b"<html><script>x</script></html>", "not a photo that can be read"),
        (b"\x00\x00\x00\x18ftypheic" + b"\0" * 100, "HEIC photo"),
        (picture()[:200], "not a photo that can be read"),
        (picture("GIF"), "not a photo that can be read"),
        (picture("TIFF"), "not a photo that can be read"),
        (b"\xff\xd8\xff\xe0" + b"\0" * 500, "not a photo that can be read"),
        (bomb(), "photo"),
        (b"\xff" * (20 * 1024 * 1024 + 1), "more than 20 MB"),
    ],
)
def test_what_is_no_photo_is_refused_with_what_to_do(data: bytes, said: str) -> None:
    with pytest.raises(NotAPhoto, match=said):
        made_again(data)
