"""Changes to lay-ups and paint systems. Each is one transaction with its audit row.

Whoever changes one has checked it: on the day that is given, or today.
"""

import datetime
from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from materials.estimator.catalogue import entry_of, glass_words, paint_words
from materials.estimator.spec import Coat, Ply
from materials.estimator.spec import LayUp as LayUpValue
from materials.models import Item, ItemKind, LayUp, LayUpPly, LayUpUse, PaintCoat, PaintSystem
from materials.queries.figures import coat_values, lay_up_value
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "office"


class SchemeError(ValueError):
    """A lay-up or paint system that cannot be kept so; the message says what to do."""


@transaction.atomic
def add_lay_up(
    *, by: User, use: str, value: LayUpValue, is_default: bool, checked_on: datetime.date | None = None
) -> LayUp:
    """Add a lay-up for moulds or for casts."""
    _check_name(LayUp, value.name, None)
    row = LayUp(use=use, name=value.name, checked_on=checked_on or timezone.localdate())
    _keep_lay_up(by, row, value, is_default)
    record(actor=by, subject=SUBJECT, act=f"Lay-up added: {row.name}", after=_lay_up_in_words(row, value))
    return row


@transaction.atomic
def change_lay_up(
    *, by: User, row: LayUp, version: int, value: LayUpValue, is_default: bool, checked_on: datetime.date | None = None
) -> None:
    """Change a lay-up; issued quotes keep the one they were priced by."""
    claim(row, version)
    _check_name(LayUp, value.name, row.pk)
    if row.is_default and not is_default:
        raise SchemeError(
            f"{LayUpUse(row.use).label}s need a lay-up for sections that name none; "
            "tick that on another lay-up, and this one loses it."
        )
    before = _lay_up_in_words(row, lay_up_value(row))
    row.checked_on = checked_on or timezone.localdate()
    _keep_lay_up(by, row, value, is_default)
    record(
        actor=by,
        subject=SUBJECT,
        act=f"Lay-up changed: {row.name}",
        before=before,
        after=_lay_up_in_words(row, value),
    )


def _keep_lay_up(by: User, row: LayUp, value: LayUpValue, is_default: bool) -> None:
    if is_default:
        # Its version moves on, so that a form opened on the other lay-up before this cannot take it back unseen.
        others = LayUp.objects.filter(use=row.use, is_default=True).exclude(pk=row.pk)
        others.update(is_default=False, version=F("version") + 1)
    row.name, row.gel_coat_kg_m2 = value.name, value.gel_coat_kg_m2
    row.return_extra_layers, row.is_default = value.return_extra_layers, is_default
    row.save()
    row.plies.all().delete()
    LayUpPly.objects.bulk_create(
        LayUpPly(
            lay_up=row,
            position=position,
            kind=ply.kind,
            weight_kg_m2=ply.weight_kg_m2,
            glass_fraction=ply.glass_fraction,
            layers=ply.layers,
        )
        for position, ply in enumerate(value.plies, start=1)
    )
    _list_glass(by, value.plies)


def _list_glass(by: User, plies: Iterable[Ply]) -> None:
    """Put a glass that the price book does not know into it, so that its price is asked for and not missed."""
    for ply in plies:
        item, added = Item.objects.get_or_create(
            key=ply.material,
            defaults={"name": entry_of(ply.material).name, "kind": ItemKind.GLASS, "unit": entry_of(ply.material).unit},
        )
        if added:
            record(actor=by, subject="price book", act=f"Item added for a lay-up: {item.name}")


@transaction.atomic
def add_paint_system(
    *,
    by: User,
    name: str,
    description: str,
    default_grade: str,
    checked_on: datetime.date | None = None,
    coats: tuple[Coat, ...],
) -> PaintSystem:
    """Add a paint system."""
    _check_name(PaintSystem, name, None)
    row = PaintSystem(checked_on=checked_on or timezone.localdate())
    _keep_paint_system(row, name, description, default_grade, coats)
    record(actor=by, subject=SUBJECT, act=f"Paint system added: {name}", after=_system_in_words(row, coats))
    return row


@transaction.atomic
def change_paint_system(
    *,
    by: User,
    row: PaintSystem,
    version: int,
    name: str,
    description: str,
    default_grade: str,
    checked_on: datetime.date | None = None,
    coats: tuple[Coat, ...],
) -> None:
    """Change a paint system; issued quotes keep the one they were priced by."""
    claim(row, version)
    _check_name(PaintSystem, name, row.pk)
    if row.default_grade and row.default_grade != default_grade:
        raise SchemeError(
            f"Grade {row.default_grade} needs a paint system for sections that name none; "
            "give the grade to another system, and this one loses it."
        )
    before = _system_in_words(row, coat_values(row))
    row.checked_on = checked_on or timezone.localdate()
    _keep_paint_system(row, name, description, default_grade, coats)
    record(
        actor=by,
        subject=SUBJECT,
        act=f"Paint system changed: {name}",
        before=before,
        after=_system_in_words(row, coats),
    )


def _keep_paint_system(
    row: PaintSystem, name: str, description: str, default_grade: str, coats: tuple[Coat, ...]
) -> None:
    if default_grade:
        others = PaintSystem.objects.filter(default_grade=default_grade).exclude(pk=row.pk)
        others.update(default_grade="", version=F("version") + 1)
    row.name, row.description, row.default_grade = name, description, default_grade
    row.save()
    row.coats.all().delete()
    PaintCoat.objects.bulk_create(
        PaintCoat(
            system=row,
            position=position,
            kind=coat.kind,
            volume_solids=coat.volume_solids,
            dry_film_um=coat.dry_film_um,
            coats=coat.coats,
            loss=coat.loss,
            hardener_per_base=coat.hardener_per_base,
            thinner=coat.thinner,
        )
        for position, coat in enumerate(coats, start=1)
    )


def _check_name(kind: type[LayUp] | type[PaintSystem], name: str, own: int | None) -> None:
    same = kind._default_manager.filter(name__iexact=name)
    if (same if own is None else same.exclude(pk=own)).exists():
        raise SchemeError(f"{name} is taken already; choose another name.")


def _lay_up_in_words(row: LayUp, value: LayUpValue) -> dict[str, Any]:
    return {
        "name": value.name,
        "gel coat": f"{value.gel_coat_kg_m2:g} kg/m²",
        "layers": "; ".join(
            f"{ply.layers} × {glass_words(ply.kind, ply.weight_kg_m2)} at {ply.glass_fraction:.3g}"
            for ply in value.plies
        ),
        "extra layers on the returns": value.return_extra_layers,
        "used where none is named": row.is_default,
        "checked on": row.checked_on,
    }


def _system_in_words(row: PaintSystem, coats: tuple[Coat, ...]) -> dict[str, Any]:
    return {
        "name": row.name,
        "description": row.description,
        "coats": "; ".join(
            f"{coat.coats} × {paint_words(coat.kind)}, solids {coat.volume_solids:g}, {coat.dry_film_um:g} µm, "
            f"loss {coat.loss:g}, hardener {coat.hardener_per_base:g}, thinner {coat.thinner:g}"
            for coat in coats
        ),
        "used for grade": row.default_grade,
        "checked on": row.checked_on,
    }
