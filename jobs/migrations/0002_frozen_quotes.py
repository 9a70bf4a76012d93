"""The database refuses to alter an issued quote, its lines, an answer or a budget."""

from django.db import migrations

from studio.triggers import ACTS, refuse

ISSUED = "EXISTS (SELECT 1 FROM jobs_quote WHERE jobs_quote.id = ROW.quote_id AND jobs_quote.issued_at IS NOT NULL)"
FROZEN = "an issued quote is never altered"


class Migration(migrations.Migration):
    dependencies = [("jobs", "0001_initial")]

    operations = [
        refuse("jobs_quote", ("UPDATE", "DELETE"), FROZEN, when="ROW.issued_at IS NOT NULL"),
        refuse("jobs_quoteline", ACTS, FROZEN, when=ISSUED),
        refuse("jobs_quotepart", ACTS, FROZEN, when=ISSUED),
        refuse("jobs_quotepayment", ACTS, FROZEN, when=ISSUED),
        refuse("jobs_quotedecision", ("UPDATE", "DELETE"), "an answer is never altered"),
        refuse("jobs_budgetline", ("UPDATE", "DELETE"), "a budget is never altered"),
    ]
