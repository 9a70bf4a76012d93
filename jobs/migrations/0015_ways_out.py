"""Doors, vehicles and limits of the road, with those that a new studio begins with."""

from django.db import migrations, models

from jobs.seeding.figures import seed_ways


def forwards(apps, schema_editor):
    seed_ways(apps)


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0014_sign_offs'),
    ]

    operations = [
        migrations.CreateModel(
            name='Doorway',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60, unique=True)),
                ('width_m', models.FloatField(verbose_name='clear width')),
                ('height_m', models.FloatField(verbose_name='clear height')),
                ('version', models.PositiveIntegerField(default=0)),
            ],
            options={
                'ordering': ['width_m', 'pk'],
            },
        ),
        migrations.CreateModel(
            name='RoadLimit',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('measure', models.CharField(max_length=8)),
                ('above_m', models.FloatField(verbose_name='beyond')),
                ('action', models.CharField(max_length=200, verbose_name='what is to be done')),
                ('source', models.CharField(blank=True, max_length=160, verbose_name='known from')),
                ('as_of', models.DateField(verbose_name='holds as of')),
                ('version', models.PositiveIntegerField(default=0)),
            ],
            options={
                'ordering': ['measure', 'above_m'],
                'constraints': [models.UniqueConstraint(fields=('measure', 'above_m'), name='one_limit_a_step')],
            },
        ),
        migrations.CreateModel(
            name='Transport',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60, unique=True)),
                ('length_m', models.FloatField(verbose_name='length inside')),
                ('width_m', models.FloatField(verbose_name='width inside')),
                ('height_m', models.FloatField(verbose_name='height inside')),
                ('door_width_m', models.FloatField(blank=True, null=True, verbose_name='width of its door')),
                ('door_height_m', models.FloatField(blank=True, null=True, verbose_name='height of its door')),
                ('payload_kg', models.FloatField(verbose_name='payload')),
                ('deck_m', models.FloatField(verbose_name='floor above the road')),
                ('overall_width_m', models.FloatField(verbose_name='overall width')),
                ('is_open', models.BooleanField(default=False, verbose_name='open: the load may stand out')),
                ('source', models.CharField(blank=True, max_length=160, verbose_name='known from')),
                ('version', models.PositiveIntegerField(default=0)),
            ],
            options={
                'ordering': ['is_open', 'payload_kg', 'pk'],
                'constraints': [models.CheckConstraint(condition=models.Q(models.Q(('door_height_m__isnull', True), ('door_width_m__isnull', True)), models.Q(('door_height_m__isnull', False), ('door_width_m__isnull', False)), _connector='OR'), name='a_door_has_both_measures')],
            },
        ),
        migrations.RunPython(forwards, migrations.RunPython.noop),
    ]
