"""Signed sheets that came back on paper: checked, and kept under their digest outside the web root.

A PDF is not opened here: it is kept as it came, and handed out as a file alone.
"""

import hashlib
from pathlib import Path

from django.conf import settings

from studio.images import MOST_BYTES, NotAPhoto, made_again
from studio.kept_files import keep

KINDS = {"pdf": "application/pdf", "jpg": "image/jpeg"}
TAIL = 2048


class NotAScan(ValueError):
    """The file cannot be filed; the sentence says why and what to do."""


def read_scan(data: bytes) -> tuple[str, bytes]:
    """The kind of a signed sheet and its bytes to be kept: a photo made again, a PDF as it came. Raises NotAScan."""
    if not data.startswith(b"%PDF-"):
        try:
            return "jpg", made_again(data).full
        except NotAPhoto as error:
            raise NotAScan(f"{error} A PDF can be sent as well.") from error
    if len(data) > MOST_BYTES:
        raise NotAScan(f"The PDF has more than {MOST_BYTES // 1024**2} MB. Scan it in grey, or send a photo of it.")
    if b"%%EOF" not in data[-TAIL:]:
        raise NotAScan("The PDF breaks off before its end. Scan the sheet again, or send a photo of it.")
    return "pdf", data


def keep_scan(kind: str, data: bytes) -> str:
    """Keep a signed sheet and answer its digest."""
    sha256 = hashlib.sha256(data).hexdigest()
    keep(scan_path(sha256, kind), data)
    return sha256


def scan_path(sha256: str, kind: str) -> Path:
    """Where a signed sheet is kept."""
    return Path(settings.MEDIA_ROOT) / "scans" / sha256[:2] / f"{sha256}.{kind}"
