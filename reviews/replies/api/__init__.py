"""REST of notes, rep calls and replies."""
