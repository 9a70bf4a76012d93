"""The sheets of labels that a new studio begins with: measures of those commonly sold, common practice, no source."""

from typing import Any

# Name, paper, across, down, width, height, left, top, edge to next edge across and down [mm].
STOCKS = (
    ("A4, 2 across, 4 down", "a4", 2, 4, 99.1, 67.7, 4.65, 13.1, 101.6, 67.7),
    ("A4, 3 across, 7 down", "a4", 3, 7, 63.5, 38.1, 7.25, 15.15, 66.0, 38.1),
    ("A4, 3 across, 8 down", "a4", 3, 8, 70.0, 37.0, 0.0, 0.5, 70.0, 37.0),
    ("Letter, 2 across, 5 down", "letter", 2, 5, 101.6, 50.8, 4.0, 12.7, 106.3, 50.8),
)
FIELDS = ("paper", "columns", "rows", "width_mm", "height_mm", "left_mm", "top_mm", "across_mm", "down_mm")


def seed_labels(apps: Any) -> None:
    """Add those that are missing; ``apps`` is a migration's registry of models."""
    stock = apps.get_model("jobs", "LabelStock")
    for name, *measures in STOCKS:
        stock.objects.get_or_create(name=name, defaults=dict(zip(FIELDS, measures, strict=True)))
