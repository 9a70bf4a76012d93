"""Make the one row of the house, and the tax categories, with what a new studio starts with."""

from django.db import migrations

from studio.office import defaults


def forwards(apps, schema_editor):
    House = apps.get_model("office", "House")
    TaxCategory = apps.get_model("office", "TaxCategory")
    TaxRate = apps.get_model("office", "TaxRate")
    House.objects.create(
        pk=1,
        working_days=defaults.WORKING_DAYS,
        payment_stages=defaults.PAYMENT_STAGES,
        included=defaults.INCLUDED,
        assumed=defaults.ASSUMED,
        excluded=defaults.EXCLUDED,
        approvals=defaults.APPROVALS,
        care=defaults.CARE,
        terms=defaults.TERMS,
    )
    for position, (name, rates) in enumerate(defaults.TAX_RATES.items()):
        category = TaxCategory.objects.create(name=name, position=position)
        for rate, valid_from in rates:
            TaxRate.objects.create(category=category, rate=rate, valid_from=valid_from)


class Migration(migrations.Migration):
    dependencies = [("office", "0001_initial")]

    operations = [migrations.RunPython(forwards, migrations.RunPython.noop)]
