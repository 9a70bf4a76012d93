"""Say when a stage may begin and where a hold comes from, and give a new studio its stages."""

from django.db import migrations, models

from jobs.seeding.figures import seed
from jobs.seeding.stages import seed_stages

WAITS = [
    ("", "Begins at any time"),
    ("begun", "Begins when all before it have begun"),
    ("passed", "Begins when all before it have passed"),
]


def forwards(apps, schema_editor):
    seed(apps)
    seed_stages(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0006_append_only"), ("materials", "0002_reference_rows")]

    operations = [
        migrations.AddField(
            model_name="stage",
            name="waits",
            field=models.CharField("beginning", blank=True, choices=WAITS, max_length=6),
        ),
        migrations.AddField(
            model_name="stagetemplate",
            name="waits",
            field=models.CharField("beginning", blank=True, choices=WAITS, max_length=6),
        ),
        migrations.AddField(
            model_name="steptemplate",
            name="hold_evidence",
            field=models.CharField("where the hold comes from", blank=True, max_length=120),
        ),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
