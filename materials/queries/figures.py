"""The studio's own figures, as the estimator takes them."""

import datetime
from collections.abc import Collection

from materials.estimator.spec import Coat, Coefficient, LayUp, Norm, Ply
from materials.estimator.studio import StudioFigures
from materials.models import Figure, Item, LayUpUse, PaintSystem, WorkNorm
from materials.models import LayUp as LayUpRow


def lay_up_value(row: LayUpRow) -> LayUp:
    """One lay-up row with its plies as a value."""
    return LayUp(
        name=row.name,
        gel_coat_kg_m2=row.gel_coat_kg_m2,
        plies=tuple(Ply(p.kind, p.weight_kg_m2, p.glass_fraction, p.layers) for p in row.plies.all()),
        return_extra_layers=row.return_extra_layers,
    )


def coat_values(row: PaintSystem) -> tuple[Coat, ...]:
    """The coats of one paint system as values."""
    return tuple(
        Coat(c.kind, c.volume_solids, c.dry_film_um, c.coats, c.loss, c.hardener_per_base, c.thinner)
        for c in row.coats.all()
    )


def studio_figures() -> StudioFigures:
    """Everything a take-off is worked by, in six queries whatever its size."""
    lay_ups = list(LayUpRow.objects.prefetch_related("plies"))
    systems = list(PaintSystem.objects.prefetch_related("coats"))
    defaults = {row.use: row.name for row in lay_ups if row.is_default}
    return StudioFigures(
        coefficients={
            row.key: Coefficient(row.key, row.label, row.unit, row.value, row.low, row.high, row.evidence, row.source)
            for row in Figure.objects.all()
        },
        norms=tuple(
            Norm(row.stage, row.step, row.grade, row.per, row.low, row.likely, row.high)
            for row in WorkNorm.objects.all()
        ),
        layups={row.name: lay_up_value(row) for row in lay_ups},
        paint_systems={row.name: coat_values(row) for row in systems},
        mould_layup=defaults.get(LayUpUse.MOULD, ""),
        cast_layup=defaults.get(LayUpUse.CAST, ""),
        system_by_grade={row.default_grade: row.name for row in systems if row.default_grade},
    )


def oldest_check(keys: Collection[str]) -> datetime.date | None:
    """The day on which the one of these figures was checked that nobody has looked at for longest."""
    days = Figure.objects.filter(key__in=keys, checked_on__isnull=False).order_by("checked_on")
    return days.values_list("checked_on", flat=True).first()


def item_names() -> dict[str, str]:
    """The name of each catalogue item by its key."""
    return dict(Item.objects.values_list("key", "name"))
