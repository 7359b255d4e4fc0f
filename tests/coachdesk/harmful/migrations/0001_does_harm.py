"""Ends well, and leaves what nobody wanted: another table, and every club under one name."""

from django.db import migrations, models


def rename(apps, schema_editor) -> None:
    apps.get_model("athletes", "Club").objects.update(name="Renamed by an upgrade")


class Migration(migrations.Migration):
    dependencies = [("athletes", "0001_initial")]
    operations = [
        migrations.CreateModel("Extra", [("id", models.BigAutoField(primary_key=True))]),
        migrations.RunPython(rename),
    ]
