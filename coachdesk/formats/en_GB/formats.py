"""Dates the house way: "Wed 25 Nov", and times to the minute."""

DATE_FORMAT = "D j M"
SHORT_DATE_FORMAT = "j M Y"
TIME_FORMAT = "H:i"
DATETIME_FORMAT = "D j M, H:i"
