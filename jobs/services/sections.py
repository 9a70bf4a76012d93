"""Adding, changing, moving and removing sections."""

from typing import Any

from django.db import transaction

from jobs.models import Commission, Section, Shape
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

FIELDS = (
    "name", "shape", "dimensions", "scale_from", "scale_to", "count", "mirrored", "grade", "stand", "offset",
    "pattern_method", "block", "filler", "pieces", "seam", "return_width", "mould_lay_up", "pulls", "cast_lay_up",
    "strip_width", "strip_layers", "paint_system", "metal", "metal_height", "metal_offset", "crated",
)  # fmt: skip


class NameTaken(ValueError):
    """Another section of the commission has that name."""


class SectionInUse(ValueError):
    """The section has stages on the board."""


def _check_name(commission: Commission, name: str, own: int = 0) -> None:
    if commission.sections.filter(name=name).exclude(pk=own).exists():
        raise NameTaken(f"This commission already has a section called {name}; give this one another name.")


def _values(section: Section) -> dict[str, Any]:
    values = {name: getattr(section, name) for name in FIELDS}
    if section.shape == Shape.MESH:
        # What was measured is in the model's own entry of the record; thousands of points are no reading here.
        values["dimensions"] = {name: section.dimensions[name] for name in ("model", "part", "pieces")}
    return values


@transaction.atomic
def add_section(*, by: User, commission: Commission, values: dict[str, Any]) -> Section:
    """Add a section after the others."""
    _check_name(commission, values["name"])
    last = commission.sections.order_by("-position").first()
    section = Section(commission=commission, position=last.position + 1 if last else 1, **values)
    section.save()
    record(actor=by, subject=commission.subject, act=f"Section added: {section.name}", after=_values(section))
    return section


@transaction.atomic
def change_section(*, by: User | None, section: Section, version: int, values: dict[str, Any]) -> None:
    """Change a section."""
    claim(section, version)
    _check_name(section.commission, values["name"], own=section.pk)
    before = _values(section)
    for name, value in values.items():
        setattr(section, name, value)
    section.save(update_fields=list(values))
    record(
        actor=by,
        subject=section.commission.subject,
        act=f"Section changed: {section.name}",
        before=before,
        after=_values(section),
    )


@transaction.atomic
def move_section_up(*, by: User, section: Section) -> None:
    """Put a section before the one that stands above it; the first stays where it is."""
    above = section.commission.sections.filter(position__lt=section.position).order_by("-position").first()
    if above is None:
        return
    above.position, section.position = section.position, above.position
    above.save(update_fields=["position"])
    section.save(update_fields=["position"])
    record(actor=by, subject=section.commission.subject, act=f"Section moved up: {section.name}")


@transaction.atomic
def remove_section(*, by: User, section: Section) -> None:
    """Remove a section; issued quotes keep their own copy of it."""
    if section.stages.exists():
        raise SectionInUse(f"{section.name} has stages on the board, with hours and holds; it stays.")
    values = _values(section)
    section.delete()
    record(actor=by, subject=section.commission.subject, act=f"Section removed: {section.name}", before=values)
