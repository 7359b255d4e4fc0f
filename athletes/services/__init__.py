"""What changes people, their roles and their reports: one use case, one transaction."""
