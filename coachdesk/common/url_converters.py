"""A day in an address: 2026-11-30."""

from datetime import date

from django.urls import register_converter


class IsoDay:
    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, value: str) -> date:
        """ValueError (no such day) makes the address match nothing."""
        return date.fromisoformat(value)

    def to_url(self, value: date | str) -> str:
        return value if isinstance(value, str) else value.isoformat()


register_converter(IsoDay, "day")
