"""The day on which the holds of each stage were last checked; those as delivered were when written."""

from django.db import migrations, models

from jobs.seeding.stages import STAGES
from materials.estimator.reference import CHECKED_ON

HELP = "The last day on which it was held against what it is known from."


def forwards(apps, schema_editor):
    delivered = [stage.key for stage in STAGES]
    rows = apps.get_model("jobs", "StageTemplate").objects.filter(version=0, key__in=delivered)
    rows.update(checked_on=CHECKED_ON)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0033_versions"), ("materials", "0011_checked")]

    operations = [
        migrations.AddField("stagetemplate", "checked_on", models.DateField(blank=True, help_text=HELP, null=True)),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
