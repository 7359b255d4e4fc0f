"""Signed messages to a club's own programs when something happened."""
