"""What was decided on workshop sheets and holds from then on."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0023_piece_notes'),
    ]

    operations = [
        migrations.CreateModel(
            name='KeptSheet',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('group', models.SlugField(max_length=30)),
                ('answers', models.JSONField(default=dict)),
                ('commission', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='kept_sheets', to='jobs.commission')),
                ('section', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='kept_sheets', to='jobs.section')),
            ],
            options={
                'ordering': ['pk'],
                'constraints': [models.UniqueConstraint(fields=('section', 'group'), name='one_kept_sheet_a_section_and_group'), models.UniqueConstraint(condition=models.Q(('section__isnull', True)), fields=('commission', 'group'), name='one_kept_sheet_of_the_whole_a_group')],
            },
        ),
    ]
