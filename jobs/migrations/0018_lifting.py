"""The studio's slings, the base of a commission, and the figures of handling, lifting and fixings."""

import django.core.validators
import django.db.models.deletion
from django.db import migrations, models

from jobs.seeding.figures import seed


def forwards(apps, schema_editor):
    seed(apps)


class Migration(migrations.Migration):

    dependencies = [
        ("jobs", "0017_hand_overs"),
    ]

    operations = [
        migrations.CreateModel(
            name='Sling',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('mark', models.CharField(max_length=40, unique=True)),
                ('kind', models.CharField(choices=[('round', 'Round sling'), ('web', 'Flat web sling'), ('rope', 'Wire rope'), ('chain', 'Chain')], default='round', max_length=5)),
                ('legs', models.PositiveSmallIntegerField(default=1, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(4)])),
                ('capacity_kg', models.FloatField(verbose_name='working load limit of one leg, straight')),
                ('length_m', models.FloatField(verbose_name='working length of a leg')),
                ('examined_until', models.DateField(blank=True, null=True, verbose_name='next thorough examination')),
                ('version', models.PositiveIntegerField(default=0)),
            ],
            options={
                'ordering': ['mark'],
            },
        ),
        migrations.CreateModel(
            name='CommissionBase',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('length', models.CharField(max_length=40, verbose_name='length of the plate')),
                ('width', models.CharField(max_length=40, verbose_name='width of the plate')),
                ('thickness', models.CharField(max_length=40, verbose_name='thickness of the plate')),
                ('mass', models.CharField(max_length=40, verbose_name='mass of the base')),
                ('bolts', models.TextField(help_text='One hole a line: x, y and the bolt, in mm from the middle.')),
                ('legs', models.TextField(blank=True, help_text='One leg a line: x, y, size in mm; lean and which way in degrees.')),
                ('version', models.PositiveIntegerField(default=0)),
                ('commission', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='base', to='jobs.commission')),
            ],
        ),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
