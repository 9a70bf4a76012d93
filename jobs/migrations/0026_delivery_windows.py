"""From when until when the site takes a delivery, and on which days it does not."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0025_answers_days'),
    ]

    operations = [
        migrations.AddField(
            model_name='commission',
            name='site_from',
            field=models.DateField(blank=True, null=True, verbose_name='the site takes it from'),
        ),
        migrations.AddField(
            model_name='commission',
            name='site_until',
            field=models.DateField(blank=True, null=True, verbose_name='the site takes it until'),
        ),
        migrations.AddField(
            model_name='commission',
            name='site_shut',
            field=models.JSONField(blank=True, default=list, help_text='Days on which the site takes nothing, as dates.'),
        ),
    ]
