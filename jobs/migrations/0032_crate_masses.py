"""Give every studio the figures of what pads and screws of a crate weigh."""

from django.db import migrations

from jobs.seeding.figures import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0031_doubts"), ("materials", "0012_paint_density")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
