"""Give a new studio its figures, norms, lay-ups, paint systems and catalogue."""

from django.db import migrations

from materials.seeding import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):
    dependencies = [("materials", "0001_initial")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
