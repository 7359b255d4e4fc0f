"""Reads with a bounded number of statements."""
