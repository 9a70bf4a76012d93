"""Sections of the commission, made of what a model was cut into."""

from typing import Any

from django.db import transaction

from jobs.models import CommissionModel, Section, Shape
from jobs.services.models import NotDone
from jobs.services.sections import NameTaken, remove_section
from studio.accounts.models import User
from studio.audit import record

FIELDS = ("name", "dimensions", "pieces", "stand", "offset")


def sections_of(model: CommissionModel) -> dict[str, Section]:
    """The commission's sections that were made of this model, by the part each is."""
    made = model.commission.sections.filter(shape=Shape.MESH)
    return {section.dimensions["part"]: section for section in made if section.dimensions["model"] == model.pk}


@transaction.atomic
def use_sections(*, by: User, model: CommissionModel, names: dict[str, str]) -> None:
    """Make a section of each part, or bring the one there is up to date; those of parts no longer there go."""
    parts = model.cut.get("sections", [])
    if not parts:
        raise NotDone("The model has no sections yet; wait until it is measured and cut.")
    there = sections_of(model)
    _check_names(model, names, {section.pk for section in there.values()})
    gone = [section.name for part, section in there.items() if part not in names]
    for part, section in there.items():
        if part not in names:
            remove_section(by=by, section=section)
        else:
            # Names may be exchanged between sections, and no two may be alike even for a moment.
            Section.objects.filter(pk=section.pk).update(name=f"part {section.pk} of model {model.pk}")
    last = model.commission.sections.order_by("-position").first()
    position = last.position if last else 0
    for part in parts:
        values = {**_values(model, part), "name": names[part["name"]]}
        if part["name"] in there:
            section = there[part["name"]]
            Section.objects.filter(pk=section.pk).update(**values, version=section.version + 1)
        else:
            position += 1
            Section.objects.create(commission=model.commission, position=position, shape=Shape.MESH, **values)
    after = {"sections": [f"{names[part['name']]}: {part['area_m2']:.3f} m²" for part in parts], "removed": gone}
    record(actor=by, subject=model.commission.subject, act=f"Sections taken from {model.name}", after=after)


def _check_names(model: CommissionModel, names: dict[str, str], own: set[int]) -> None:
    if len(set(names.values())) < len(names):
        raise NameTaken("Two sections have the same name; give each one of its own.")
    others = model.commission.sections.exclude(pk__in=own).filter(name__in=names.values())
    taken = others.values_list("name", flat=True).first()
    if taken:
        raise NameTaken(f"This commission already has a section called {taken}; give this one another name.")


def _values(model: CommissionModel, part: dict[str, Any]) -> dict[str, Any]:
    x, y, z = part["place_m"]
    pieces = len(part["pieces"]) or 1
    return {
        "dimensions": {
            "model": model.pk,
            "part": part["name"],
            "pieces": pieces,
            "mould": part["pieces"],
            "form": part["form"],
            "outlines": part["outlines"],
            "y_m": y,
        },
        "pieces": pieces,
        "stand": f"{z:.4f} m",
        "offset": f"{x:.4f} m" if abs(x) >= 0.00005 else "",
    }
