from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("programming", "0002_shipped_movements"),
    ]

    operations = [
        migrations.RenameModel("TouchedDay", "DirtyDay"),
        migrations.RenameField("dirtyday", "touched_at", "marked_at"),
        migrations.AlterField(
            "dirtyday",
            "athlete",
            models.ForeignKey(
                on_delete=models.CASCADE,
                related_name="dirty_days",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
    ]
