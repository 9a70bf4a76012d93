"""Give every studio the figures of how far signatures, work sent out and winter may lie from what is likely."""

from django.db import migrations

from jobs.seeding.figures import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0030_own_rows"), ("materials", "0002_reference_rows")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
