"""What keeps a club's data: moving it to another database, backup, restore, upgrade, doctor."""
