"""The database refuses to alter an issued variation, its lines, its answer, what it did to budgets, and the account."""

from django.db import migrations

from studio.triggers import ACTS, refuse

ISSUED = (
    "EXISTS (SELECT 1 FROM jobs_variation WHERE jobs_variation.id = ROW.variation_id"
    " AND jobs_variation.issued_at IS NOT NULL)"
)
FROZEN = "an issued variation is never altered"


class Migration(migrations.Migration):
    dependencies = [("jobs", "0012_variations")]

    operations = [
        refuse("jobs_variation", ("UPDATE",), FROZEN, when="ROW.issued_at IS NOT NULL"),
        refuse("jobs_variation", ("DELETE",), "a variation keeps its number; withdraw it"),
        refuse("jobs_variationitem", ACTS, FROZEN, when=ISSUED),
        refuse("jobs_variationline", ACTS, FROZEN, when=ISSUED),
        refuse("jobs_variationpart", ACTS, FROZEN, when=ISSUED),
        refuse("jobs_variationanswer", ("UPDATE", "DELETE"), "an answer is never altered"),
        refuse("jobs_variationbudget", ("UPDATE", "DELETE"), "a budget is never altered"),
        refuse("jobs_accountentry", ("UPDATE", "DELETE"), "an entry of the account is never altered; take it back"),
    ]
