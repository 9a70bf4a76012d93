"""Say when people are at work, how stages are planned, and keep plans."""

import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0019_cutting_figures"),
        ("tasks", "0001_background_work"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name="stagetemplate",
            name="crew",
            field=models.PositiveSmallIntegerField(
                default=1,
                validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(12)],
                verbose_name="people at once",
            ),
        ),
        migrations.AddField(
            model_name="stagetemplate",
            name="room",
            field=models.CharField(
                blank=True,
                choices=[("", "Anywhere"), ("bay", "In a bay indoors"), ("outdoors", "Outdoors")],
                max_length=8,
                verbose_name="worked",
            ),
        ),
        migrations.AddField(
            model_name="step",
            name="in_booth",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="steptemplate",
            name="in_booth",
            field=models.BooleanField(default=False, verbose_name="in the spray booth"),
        ),
        migrations.CreateModel(
            name="CrewMember",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "hours",
                    models.JSONField(default=list, help_text="Hours of each weekday from Monday, seven of them."),
                ),
                ("version", models.PositiveIntegerField(default=0)),
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="crew_member",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "stages",
                    models.ManyToManyField(
                        blank=True, help_text="None stands for every one.", related_name="+", to="jobs.stagetemplate"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Plan",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("made_at", models.DateTimeField(auto_now_add=True)),
                ("begins", models.DateField()),
                (
                    "suppositions",
                    models.JSONField(default=list, help_text="What is supposed; none for the plan as things are."),
                ),
                (
                    "seconds",
                    models.PositiveSmallIntegerField(default=10, help_text="How long a better plan was looked for."),
                ),
                (
                    "digest",
                    models.CharField(blank=True, help_text="Of everything it was worked out from.", max_length=64),
                ),
                ("inputs", models.JSONField(default=dict, help_text="Everything it was worked out from.")),
                (
                    "result",
                    models.JSONField(default=dict, help_text="When each activity begins, and what is known of that."),
                ),
                ("kept_at", models.DateTimeField(null=True)),
                ("published_at", models.DateTimeField(null=True)),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "published_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "work",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to="tasks.work"
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Absence",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("first", models.DateField()),
                ("last", models.DateField()),
                ("reason", models.CharField(blank=True, max_length=80)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="absences",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["first", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("last__gte", models.F("first"))), name="absence_in_order"
                    )
                ],
            },
        ),
    ]
