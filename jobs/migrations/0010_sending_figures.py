"""Give every studio the figures of crates, doors, lorries and wind."""

from django.db import migrations

from jobs.seeding.figures import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0009_published"), ("materials", "0002_reference_rows")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
