from typing import Any

import django.utils.timezone
from django.db import migrations, models
from django.db.models.functions import Coalesce


def fill(apps: Any, editor: Any) -> None:
    """What ended is due no more; the rest, when its lease or its wait is over."""
    jobs = apps.get_model("reviews", "MediaJob").objects
    jobs.filter(state__in=["done", "failed"]).update(due_at=None)
    jobs.filter(state="queued").update(due_at=Coalesce("not_before", "queued_at"))
    jobs.filter(state="running").update(due_at=models.F("lease_until"))


class Migration(migrations.Migration):
    dependencies = [("reviews", "0001_initial")]

    operations = [
        migrations.RemoveConstraint("mediajob", "running_has_a_lease"),
        migrations.RemoveIndex("mediajob", "job_sweep"),
        migrations.AddField(
            "mediajob",
            "due_at",
            models.DateTimeField(default=django.utils.timezone.now, null=True),
        ),
        migrations.RunPython(fill, migrations.RunPython.noop, elidable=True),
        migrations.RemoveField("mediajob", "lease_until"),
        migrations.RemoveField("mediajob", "not_before"),
        migrations.AddIndex(
            "mediajob", models.Index(fields=["state", "due_at"], name="job_sweep")
        ),
        migrations.AddConstraint(
            "mediajob",
            models.CheckConstraint(
                condition=~models.Q(state="running")
                | (models.Q(due_at__isnull=False) & ~models.Q(holder="")),
                name="running_has_a_lease",
            ),
        ),
    ]
