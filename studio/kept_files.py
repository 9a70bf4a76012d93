"""Files kept under MEDIA_ROOT: whole or not there at all, even if the machine stops in between."""

import os
import tempfile
from pathlib import Path


def keep(path: Path, data: bytes) -> None:
    """Write a file beside its place, see it on the disk, then move it there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=path.parent, prefix=".coming-", delete=False) as file:
        try:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            os.replace(file.name, path)
        except OSError:
            os.unlink(file.name)
            raise
