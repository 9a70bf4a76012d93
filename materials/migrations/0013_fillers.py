"""Give every studio the figures of fillers."""

from django.db import migrations

from materials.seeding import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("materials", "0012_paint_density")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
