"""A photo as it is kept: made again from its pixels, upright, without place, camera or anything hidden.

What comes from a phone is not trusted: only its pixels are taken over, and
only from the formats named here.
"""

import hashlib
import io
import warnings
from dataclasses import dataclass

MOST_BYTES = 20 * 1024 * 1024
MOST_PIXELS = 50_000_000
LONGEST = 2000
LONGEST_SMALL = 320
FORMATS = ("JPEG", "PNG", "WEBP")
_HEIC = (b"ftypheic", b"ftypheix", b"ftypmif1", b"ftyphevc")


class NotAPhoto(ValueError):
    """The file cannot be taken; the sentence says why and what to do."""


@dataclass(frozen=True, slots=True)
class Pictures:
    """The photo and its small picture as JPEG, the digest of the photo, and its size in pixels."""

    full: bytes
    small: bytes
    sha256: str
    width: int
    height: int


def made_again(data: bytes) -> Pictures:
    """The photo's pixels as two new pictures. Raises NotAPhoto."""
    from PIL import Image, ImageOps

    if not data:
        raise NotAPhoto("The file is empty. Take the photo again and send that.")
    if len(data) > MOST_BYTES:
        raise NotAPhoto(f"The photo has more than {MOST_BYTES // 1024**2} MB. Set the camera to a smaller size.")
    if data[4:12] in _HEIC:
        raise NotAPhoto("This is a HEIC photo. Set the phone's camera to the most compatible format, which is JPEG.")
    try:
        with warnings.catch_warnings():
            # A picture that unpacks to far more than it weighs is refused before it is unpacked.
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(data), formats=FORMATS) as image:
                if image.width * image.height > MOST_PIXELS:
                    raise NotAPhoto(
                        f"The photo has more than {MOST_PIXELS // 10**6} million pixels. Send a smaller one."
                    )
                image.load()
                upright = ImageOps.exif_transpose(image).convert("RGB")
    except NotAPhoto:
        raise
    except Exception as error:
        # The reader's faults on damaged files are of every kind.
        raise NotAPhoto("The file is not a photo that can be read. Send a JPEG, PNG or WebP picture.") from error
    full = _jpeg(upright, LONGEST)
    small = _jpeg(upright, LONGEST_SMALL)
    with Image.open(io.BytesIO(full)) as kept:
        return Pictures(full, small, hashlib.sha256(full).hexdigest(), kept.width, kept.height)


def _jpeg(image: object, longest: int) -> bytes:
    from PIL import Image

    assert isinstance(image, Image.Image)
    smaller = Image.new("RGB", image.size)
    # Pasting takes the pixels over and leaves behind whatever else the file carried.
    smaller.paste(image)
    smaller.thumbnail((longest, longest))
    target = io.BytesIO()
    smaller.save(target, "JPEG", quality=85, optimize=True)
    return target.getvalue()
