"""Pages of the coach's workbench and of the athlete's reading."""
