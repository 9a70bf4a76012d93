"""Freezing a sheet that goes before somebody outside: as values that name it, and as it was printed."""

import hashlib
from typing import Any

from jobs.figures.approval import ApprovalSheet
from jobs.figures.hand_over import HandOverSheet
from jobs.figures.sealed import digest, sealed
from jobs.models import HandOver, SignOff


def freeze(row: HandOver | SignOff, sheet: HandOverSheet | ApprovalSheet, pdf: bytes, **moment: Any) -> None:
    """Keep what goes out on its row; ``moment`` is when and by whom, by the names of the row's fields."""
    kept, printed = sealed(sheet), hashlib.sha256(pdf).hexdigest()
    values = {"sheet": kept, "sha256": digest(kept), "pdf": pdf, "pdf_sha256": printed, **moment}
    for name, value in values.items():
        setattr(row, name, value)
    row.save(update_fields=list(values))
