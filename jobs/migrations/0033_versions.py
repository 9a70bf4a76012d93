"""What counts the edits of a draft is called as everywhere else; renaming a column keeps the triggers of its table."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("jobs", "0032_crate_masses")]

    operations = [
        migrations.RenameField("quote", "lock", "version"),
        migrations.RenameField("variation", "lock", "version"),
    ]
