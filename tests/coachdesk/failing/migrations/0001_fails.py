"""Fails after the harmful one has gone through: all of both must be undone."""

from django.db import migrations


def fail(apps, schema_editor) -> None:
    raise ValueError("this migration cannot be done")


class Migration(migrations.Migration):
    dependencies = [("harmful", "0001_does_harm")]
    operations = [migrations.RunPython(fail)]
