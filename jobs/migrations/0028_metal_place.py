"""Where the steel inside a section balances."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0027_issued_for_a_cast'),
    ]

    operations = [
        migrations.AddField(
            model_name='section',
            name='metal_height',
            field=models.CharField(blank=True, max_length=40, verbose_name='height of the steel above the foot'),
        ),
        migrations.AddField(
            model_name='section',
            name='metal_offset',
            field=models.CharField(blank=True, max_length=40, verbose_name='steel sideways from the middle'),
        ),
    ]
