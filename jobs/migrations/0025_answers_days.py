"""Let the answer to a quote carry the moment it was given; a change of the model alone, the table stays as it is."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("jobs", "0024_kept_sheets")]

    operations = [
        migrations.SeparateDatabaseAndState(
            state_operations=[
                migrations.AlterField(model_name="quotedecision", name="at", field=models.DateTimeField()),
            ]
        ),
    ]
