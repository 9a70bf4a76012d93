"""The database refuses to alter or remove an audit entry."""

from django.db import migrations

from studio.triggers import refuse


class Migration(migrations.Migration):
    dependencies = [("accounts", "0001_initial")]

    operations = [refuse("accounts_auditentry", ("UPDATE", "DELETE"), "an audit entry is never altered")]
