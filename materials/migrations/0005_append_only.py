"""The database refuses to alter a movement of the stores."""

from django.db import migrations

from studio.triggers import refuse


class Migration(migrations.Migration):
    dependencies = [("materials", "0004_stores")]

    operations = [refuse("materials_movement", ("UPDATE", "DELETE"), "a movement is never altered; book a count")]
