"""Small models as a designer would send them, and a commission that has one."""

from contextlib import nullcontext
from unittest.mock import patch

import numpy as np
from django.core.files.uploadedfile import SimpleUploadedFile

from jobs.models import Commission, CommissionModel
from jobs.services.models import add_model
from materials.mesh.triangles import Mesh
from studio.accounts.models import User
from studio.tasks.models import Work
from studio.tasks.running import perform
from tests.materials.mesh.solids import ellipsoid

STANDING = {"unit": "", "height": "3.2 m", "up": "", "holes": ""}


def stl(mesh: Mesh, scale: float = 1000.0) -> bytes:
    """A mesh as a binary STL, in millimetres unless told otherwise."""
    corners = mesh.vertices[mesh.faces] * scale
    records = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
    records["corners"] = corners
    return b"egg".ljust(80) + np.uint32(len(corners)).tobytes() + records.tobytes()


def egg() -> Mesh:
    """An egg 1 m long, 0.8 m wide and 1.6 m high."""
    return ellipsoid(0.5, 0.4, 0.8, 24)


def egg_file(name: str = "egg.stl") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, stl(egg()))


def open_egg() -> Mesh:
    """The same with one small triangle missing."""
    mesh = egg()
    return Mesh(mesh.vertices, mesh.faces[1:])


def make_model(
    commission: Commission, by: User, mesh: Mesh | None = None, name: str = "Egg", **standing: str
) -> CommissionModel:
    """A model sent in, and not measured yet."""
    return add_model(
        by=by,
        commission=commission,
        name=name,
        file_name="egg.stl",
        chunks=[stl(mesh or egg())],
        standing=STANDING | standing,
    )


def worked(model: CommissionModel, *, mirrored: bool = False) -> CommissionModel:
    """The model after the worker has done all that waits; left and right, which take longest, only where asked."""
    with nullcontext() if mirrored else patch("jobs.services.model_work.mirror_data", return_value=None):
        for work in Work.objects.filter(state="waiting").order_by("pk"):
            perform(work.pk)
    model.refresh_from_db()
    return model
