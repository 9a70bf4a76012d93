"""Models of a commission: sending one in, standing it up, parting it, and making sections of it.

Every change clears what it makes stale and asks for the model to be brought up
to date in the background; ``jobs.services.model_work`` does that.
"""

from collections.abc import Iterable, Sequence
from typing import Any

from django.db import transaction

from jobs.models import Commission, CommissionModel, PartingPlane
from materials.mesh.planes import Plane
from materials.services.model_files import keep_model_file
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim
from studio.tasks.models import Work
from studio.tasks.queue import cancel, enqueue

KIND = "model"
STANDING = ("unit", "height", "up", "holes")
MOST_PLANES = 40


class NotDone(ValueError):
    """The change cannot be made; the sentence says why and what to do."""


@transaction.atomic
def add_model(
    *, by: User, commission: Commission, name: str, file_name: str, chunks: Iterable[bytes], standing: dict[str, str]
) -> CommissionModel:
    """Keep the file and have it measured."""
    if commission.models.filter(name=name).exists():
        raise NotDone(f"This commission already has a model called {name}; give this one another name.")
    file = keep_model_file(by=by, name=file_name, chunks=chunks)
    model = CommissionModel.objects.create(
        commission=commission, name=name, file=file, file_name=file_name[-200:], **standing
    )
    record(
        actor=by,
        subject=commission.subject,
        act=f"Model sent in: {name}",
        after={"file": model.file_name, "sha256": file.sha256, "bytes": file.size, **standing},
    )
    _bring_up_to_date(model, by, f"Measuring {name}")
    return model


@transaction.atomic
def stand_model(*, by: User, model: CommissionModel, version: int, standing: dict[str, str]) -> None:
    """Change its size, which way is up, or which holes are closed; all is measured anew."""
    claim(model, version)
    before = {name: getattr(model, name) for name in STANDING}
    for name in STANDING:
        setattr(model, name, standing[name])
    model.figures, model.cut, model.cut_problem, model.suggested = {}, {}, "", {}
    model.save(update_fields=[*STANDING, "figures", "cut", "cut_problem", "suggested"])
    act = f"Model stood up: {model.name}"
    record(actor=by, subject=model.commission.subject, act=act, before=before, after=standing)
    _bring_up_to_date(model, by, f"Measuring {model.name}")


@transaction.atomic
def add_planes(*, by: User, model: CommissionModel, section: str, planes: Sequence[tuple[str, str, Plane]]) -> None:
    """Add parting planes, each with its kind and how it was typed, and have the model cut."""
    _cut_anew(model, by)
    if model.planes.filter(section=section).count() + len(planes) > MOST_PLANES:
        raise NotDone(f"A model can be parted by {MOST_PLANES} planes at most; take some out first.")
    gone = _forget_pieces(model) if not section else 0
    for kind, typed, plane in planes:
        PartingPlane.objects.create(
            model=model, section=section, kind=kind, typed=typed, normal=list(plane.normal), offset_m=plane.offset_m
        )
    act = f"Parted {model.name}" + (f", section {section}" if section else "")
    after = {"planes": [typed for _, typed, _ in planes]} | ({"pieces_forgotten": gone} if gone else {})
    record(actor=by, subject=model.commission.subject, act=act, after=after)


@transaction.atomic
def remove_plane(*, by: User, plane: PartingPlane) -> None:
    """Take a parting plane out, and have the model cut anew."""
    model = plane.model
    _cut_anew(model, by)
    if not plane.section:
        _forget_pieces(model)
    act = f"Plane taken out of {model.name}"
    record(actor=by, subject=model.commission.subject, act=act, before={"plane": plane.typed})
    plane.delete()


@transaction.atomic
def ask_for_planes(*, by: User, model: CommissionModel, wanted: dict[str, Any], words: str) -> None:
    """Have planes searched that make every section fit."""
    model.suggested = {"wanted": wanted, "words": words}
    model.save(update_fields=["suggested"])
    _bring_up_to_date(model, by, f"Looking for planes in {model.name}")


@transaction.atomic
def remove_model(*, by: User, model: CommissionModel) -> None:
    """Remove a model; the sections made of it keep their own figures, and the file stays in the store."""
    if model.work is not None:
        cancel(work=model.work)
    record(actor=by, subject=model.commission.subject, act=f"Model removed: {model.name}")
    model.delete()


@transaction.atomic
def try_again(*, by: User, model: CommissionModel) -> None:
    """Ask once more, after work was stopped or broke off."""
    _bring_up_to_date(model, by, f"Measuring {model.name}")


def _cut_anew(model: CommissionModel, by: User) -> None:
    claim(model, model.version)
    model.cut, model.cut_problem, model.suggested = {}, "", {}
    model.save(update_fields=["cut", "cut_problem", "suggested"])
    _bring_up_to_date(model, by, f"Cutting {model.name}")


def _forget_pieces(model: CommissionModel) -> int:
    # Other planes through the whole number its sections anew, so what parted a section has lost it.
    gone, _ = model.planes.exclude(section="").delete()
    return gone


def _bring_up_to_date(model: CommissionModel, by: User, title: str) -> None:
    earlier = model.work
    if earlier is not None and earlier.going_on:
        cancel(work=earlier)
    model.work = _asked(model, by, title)
    model.save(update_fields=["work"])


def _asked(model: CommissionModel, by: User, title: str) -> Work:
    about = {"model": model.pk, "version": model.version}
    return enqueue(kind=KIND, title=title, about=about, page=f"/models/{model.pk}/", by=by)
