"""Keeping a model file: hashed while it is written, and in its place only when it is whole."""

import hashlib
import os
import tempfile
from collections.abc import Iterable
from pathlib import Path

from django.conf import settings

from materials.mesh.formats.parsed import MAX_BYTES
from materials.mesh.reading import FORMATS
from materials.models import ModelFile
from studio.accounts.models import User


class NotKept(ValueError):
    """The file cannot be kept; the sentence says why and what to do."""


def keep_model_file(*, by: User, name: str, chunks: Iterable[bytes]) -> ModelFile:
    """Write the file to the disk by its digest, and its row. Sent once more, it is the row that there is."""
    shown = os.path.basename(name.replace("\\", "/"))[-200:]
    kind = Path(shown).suffix.lower().lstrip(".")
    if kind not in FORMATS:
        raise NotKept(
            f"{shown} is not a model this program reads. Send one that ends in .stl, .obj, .ply, .3mf or .glb."
        )
    folder = Path(settings.MEDIA_ROOT) / "models"
    folder.mkdir(parents=True, exist_ok=True)
    digest, size = hashlib.sha256(), 0
    with tempfile.NamedTemporaryFile(dir=folder, prefix=".coming-", delete=False) as file:
        try:
            for chunk in chunks:
                size += len(chunk)
                if size > MAX_BYTES:
                    raise NotKept(too_large(size))
                digest.update(chunk)
                file.write(chunk)
            if not size:
                raise NotKept(f"{shown} is empty. Export the model again and send that.")
            file.flush()
            os.fsync(file.fileno())
            os.replace(file.name, folder / digest.hexdigest())
        except OSError:
            os.unlink(file.name)
            raise NotKept(
                "The file could not be written to the disk. Make room on it and send the model again."
            ) from None
        except NotKept:
            os.unlink(file.name)
            raise
    kept, _ = ModelFile.objects.get_or_create(
        sha256=digest.hexdigest(), defaults={"name": shown, "size": size, "format": kind, "sent_by": by}
    )
    return kept


def too_large(size: int) -> str:
    """What to say of a file of more bytes than are taken."""
    return (
        f"The file has {size / 1e6:,.0f} MB or more, and at most {MAX_BYTES / 1e6:.0f} MB are taken. "
        "Reduce the model in the modelling program and send it again."
    )
