"""The day on which each figure was last checked; rows that stand as delivered were when the reference was."""

from django.db import migrations, models
from django.db.models import F

from materials.estimator.reference import CHECKED_ON, LAYUPS, PAINT_SYSTEMS

CHECKED = {"blank": True, "help_text": "The last day on which it was held against what it is known from.", "null": True}


def forwards(apps, schema_editor):
    rows = {name: apps.get_model("materials", name).objects for name in ("Figure", "WorkNorm", "LayUp", "PaintSystem")}
    for as_delivered in (
        rows["Figure"].filter(value=F("begun_with")),
        rows["WorkNorm"].filter(version=0),
        rows["LayUp"].filter(version=0, name__in=LAYUPS),
        rows["PaintSystem"].filter(version=0, name__in=PAINT_SYSTEMS),
    ):
        as_delivered.update(checked_on=CHECKED_ON)


class Migration(migrations.Migration):
    dependencies = [("materials", "0010_air_figures")]

    operations = [
        *(
            migrations.AddField(name, "checked_on", models.DateField(**CHECKED))
            for name in ("figure", "worknorm", "layup", "paintsystem")
        ),
        migrations.AddField("item", "gel_times_checked_on", models.DateField(blank=True, null=True)),
        migrations.AddField(
            "item",
            "gel_times_from",
            models.CharField(blank=True, default="", max_length=160, verbose_name="gel times known from"),
            preserve_default=False,
        ),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
