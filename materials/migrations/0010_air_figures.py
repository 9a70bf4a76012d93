"""Give the studio the figures of the air sheet."""

from django.db import migrations

from materials.seeding import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("materials", "0009_panel_figures")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
