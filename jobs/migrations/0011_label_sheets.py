"""Sheets of labels, and the common ones."""

import django.core.validators
from django.db import migrations, models

from jobs.seeding.labels import seed_labels


def forwards(apps, schema_editor):
    seed_labels(apps)


class Migration(migrations.Migration):

    dependencies = [
        ("jobs", "0010_sending_figures"),
    ]

    operations = [
        migrations.CreateModel(
            name='LabelStock',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60, unique=True)),
                ('paper', models.CharField(choices=[('a4', 'A4'), ('letter', 'Letter')], default='a4', max_length=6)),
                ('columns', models.PositiveSmallIntegerField(validators=[django.core.validators.MinValueValidator(1)], verbose_name='labels across')),
                ('rows', models.PositiveSmallIntegerField(validators=[django.core.validators.MinValueValidator(1)], verbose_name='labels down')),
                ('width_mm', models.FloatField(verbose_name='width of a label, mm')),
                ('height_mm', models.FloatField(verbose_name='height of a label, mm')),
                ('left_mm', models.FloatField(verbose_name="from the paper's left edge to the first label, mm")),
                ('top_mm', models.FloatField(verbose_name="from the paper's top edge to the first label, mm")),
                ('across_mm', models.FloatField(verbose_name="from a label's left edge to the next one's, mm")),
                ('down_mm', models.FloatField(verbose_name="from a label's top edge to the next one's, mm")),
                ('version', models.PositiveIntegerField(default=0)),
            ],
            options={
                'ordering': ['name'],
            },
        ),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
