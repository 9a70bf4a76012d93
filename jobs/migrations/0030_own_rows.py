"""Source and day of the last check of every row on the office's own lists; those as delivered were when written."""

from django.db import migrations, models

from jobs.delivery.reference import roads
from jobs.seeding.labels import STOCKS
from materials.estimator.reference import CHECKED_ON
from materials.estimator.reference.rows import PRACTICE

HELP = "The last day on which it was held against what it is known from."


def forwards(apps, schema_editor):
    for model, names, said in (
        ("Doorway", [door.name for door in roads.DOORS], {"source": PRACTICE, "checked_on": CHECKED_ON}),
        ("LabelStock", [name for name, *_ in STOCKS], {"source": PRACTICE, "checked_on": CHECKED_ON}),
        ("Transport", [vehicle.name for vehicle in roads.VEHICLES], {"checked_on": roads.CHECKED_ON}),
    ):
        apps.get_model("jobs", model).objects.filter(version=0, name__in=names).update(**said)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0029_winter_by_when"), ("materials", "0011_checked")]

    operations = [
        migrations.RenameField("roadlimit", "as_of", "checked_on"),
        migrations.AlterField("roadlimit", "checked_on", models.DateField(blank=True, help_text=HELP, null=True)),
        *(
            migrations.AddField(name, "checked_on", models.DateField(blank=True, help_text=HELP, null=True))
            for name in ("doorway", "transport", "sling", "labelstock")
        ),
        *(
            migrations.AddField(
                name, "source", models.CharField(blank=True, default="", max_length=160, verbose_name="known from"),
                preserve_default=False,
            )
            for name in ("doorway", "sling", "labelstock")
        ),
        migrations.AlterField(
            "sling",
            "capacity_kg",
            models.FloatField(
                help_text="As on its label, such as 1 t. A sling without a label is taken out of use.",
                verbose_name="working load limit of one leg, straight",
            ),
        ),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
