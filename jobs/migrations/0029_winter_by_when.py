"""Winter lengthens outdoor work by when it falls, and its people do something else meanwhile: the figure says so."""

from django.db import migrations

LABELS = {
    "winter_allowance": (
        "more hours outdoors from November to March, share of them",
        "more time that outdoor work takes from November to March, share of it",
    ),
}


def _relabel(apps, place):
    figure = apps.get_model("materials", "Figure")
    for key, labels in LABELS.items():
        figure.objects.filter(key=key).update(label=labels[place])


class Migration(migrations.Migration):
    dependencies = [("jobs", "0028_metal_place"), ("materials", "0002_reference_rows")]

    operations = [
        migrations.RunPython(lambda apps, _: _relabel(apps, 1), lambda apps, _: _relabel(apps, 0)),
    ]
