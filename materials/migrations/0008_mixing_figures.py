"""Give the studio the figures of mixing."""

from django.db import migrations

from materials.seeding import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("materials", "0007_gel_times")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
