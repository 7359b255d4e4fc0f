"""bin/run: everything on one machine, as children of one process that leaves no orphan."""
