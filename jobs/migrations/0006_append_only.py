"""The database refuses to alter hours, moves of a stage, and what was issued to it."""

from django.db import migrations

from studio.triggers import refuse


class Migration(migrations.Migration):
    dependencies = [("jobs", "0005_workshop")]

    operations = [
        refuse("jobs_hourentry", ("UPDATE", "DELETE"), "an hour entry is never altered; book its reversal"),
        refuse("jobs_stagemove", ("UPDATE", "DELETE"), "a move of a stage is never altered"),
        refuse("jobs_stageissue", ("UPDATE", "DELETE"), "an issue to a stage is never altered; book its return"),
    ]
