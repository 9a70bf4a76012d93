"""Give every studio the figure of what dry paint weighs."""

from django.db import migrations

from materials.seeding import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("materials", "0011_checked")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
