from django.db import migrations

from programming.movements.shipped import SHIPPED


def ship(apps, schema_editor):
    movement = apps.get_model("programming", "Movement")
    for order, (family, name, bar, stance, grip, equipment, tempo) in enumerate(SHIPPED, 1):
        movement.objects.get_or_create(
            club=None,
            name=name,
            defaults={
                "family": family,
                "bar_position": bar,
                "stance": stance,
                "grip": grip,
                "equipment": equipment,
                "tempo": tempo,
                "order": order,
            },
        )


class Migration(migrations.Migration):
    dependencies = [("programming", "0001_initial")]
    operations = [migrations.RunPython(ship, migrations.RunPython.noop)]
