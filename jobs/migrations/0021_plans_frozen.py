"""Keep published plans as they are; say how the stages as delivered are planned; add figures."""

from django.db import migrations

from jobs.seeding.figures import seed
from jobs.seeding.stages import seed_planning
from studio.triggers import refuse


def forwards(apps, schema_editor):
    seed(apps)
    seed_planning(apps)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0020_plans"), ("materials", "0002_reference_rows")]

    operations = [
        migrations.RunPython(forwards, migrations.RunPython.noop),
        refuse(
            "jobs_plan",
            ("UPDATE", "DELETE"),
            "a published plan is never altered; make a new one",
            when="ROW.published_at IS NOT NULL",
        ),
    ]
