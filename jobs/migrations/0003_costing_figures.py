"""Give a new studio its figures of costing and of waiting."""

from django.db import migrations

from jobs.seeding.figures import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0002_frozen_quotes"), ("materials", "0002_reference_rows")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
