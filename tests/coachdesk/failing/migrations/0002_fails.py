"""Fails after the one before it has gone through."""

from django.db import migrations


def fail(apps, schema_editor) -> None:
    raise ValueError("this migration cannot be done")


class Migration(migrations.Migration):
    dependencies = [("failing", "0001_changes_much")]
    operations = [migrations.RunPython(fail)]
