"""Give the studio the figures of the lay-up card."""

from django.db import migrations

from materials.seeding import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("materials", "0005_append_only")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
