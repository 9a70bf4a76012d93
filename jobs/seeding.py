"""The figures of costing, of waiting and of delivery, as rows that the studio may change."""

from typing import Any

from jobs.delivery import reference as delivery
from jobs.figures import reference as costing


def seed(apps: Any) -> None:
    """Add every figure that is missing; ``apps`` is a migration's registry of models."""
    figure = apps.get_model("materials", "Figure")
    for key, known in {**costing.COEFFICIENTS, **delivery.COEFFICIENTS}.items():
        figure.objects.get_or_create(
            key=key,
            defaults={
                "topic": known.topic,
                "label": known.label,
                "unit": known.unit,
                "value": known.value,
                "low": known.low,
                "high": known.high,
                "evidence": known.evidence,
                "source": known.source,
                "begun_with": known.value,
            },
        )
