"""Running the thing: health, metrics, logs, moving it, backup, restore, upgrade, doctor."""
