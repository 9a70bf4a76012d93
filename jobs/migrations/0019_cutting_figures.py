"""Give every studio the figure of foam left to carve."""

from django.db import migrations

from jobs.seeding.figures import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0018_lifting"), ("materials", "0002_reference_rows")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
