"""Logs that name no person: structured, and cleaned of addresses, tokens and rows.

What people write is never logged by us; what slips in with an error of somebody else's code (a
row in a message of the database, a link in a path) is taken out of every line on its way.
"""

import re
from collections.abc import MutableMapping
from typing import Any

import structlog

ADDRESS = re.compile(r"[\w.+%-]+@[\w-]+(?:\.[\w-]+)+")
SECRET = re.compile(r"(?<=://)[^/\s@]+@")  # user and password in the address of a service
# Longer than any word of ours, with a digit or a capital in it: a key, a token, a digest.
TOKEN = re.compile(r"(?=[\w-]*[0-9A-Z])[\w-]{20,}")
IDENTIFIER = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")
QUERY = re.compile(r"(?<=[\w/-])\?[^\s\"']+")
ROW = re.compile(r"^(?:DETAIL|CONTEXT):.*$", re.MULTILINE)  # PostgreSQL tells the failing row


def clean(text: str) -> str:
    """The text without e-mail addresses, passwords, tokens, queries of links and rows."""
    text = ROW.sub("DETAIL: […]", text)
    text = SECRET.sub("[secret]@", text)
    text = ADDRESS.sub("[address]", text)
    text = QUERY.sub("?[…]", text)
    return TOKEN.sub(lambda hit: hit[0] if _says_nothing(hit[0]) else "[token]", text)


def _says_nothing(word: str) -> bool:
    """Row identifiers stay, or nobody could find what a line is about; so do names in code."""
    return bool(IDENTIFIER.fullmatch(word)) or (word.isidentifier() and not re.search(r"\d", word))


def clean_event(logger: Any, method: str, event: MutableMapping[str, Any]) -> Any:
    """structlog's processor: every value of the line that is text."""
    for name, value in event.items():
        if name not in {"timestamp", "level", "logger"}:
            event[name] = clean(value) if isinstance(value, str) else value
    return event


def logging_settings(*, level: str, as_json: bool) -> dict[str, Any]:
    """Django's LOGGING: one line a record on stderr, JSON or for reading."""
    shared = [
        structlog.stdlib.add_log_level,
        structlog.stdlib.add_logger_name,
        structlog.stdlib.ExtraAdder(["route", "method", "status", "ms"]),
        structlog.processors.TimeStamper(fmt="iso", utc=True),
    ]
    plain = structlog.dev.ConsoleRenderer(colors=False)
    last: list[Any] = [
        structlog.stdlib.ProcessorFormatter.remove_processors_meta,
        structlog.processors.format_exc_info,
        clean_event,
        structlog.processors.JSONRenderer() if as_json else plain,
    ]
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "clean": {
                "()": structlog.stdlib.ProcessorFormatter,
                "foreign_pre_chain": shared,
                "processors": last,
            }
        },
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "clean"}},
        "root": {"handlers": ["stderr"], "level": level},
        # Each request is told once, by route; these would name its path as well.
        "loggers": {"django.server": {"handlers": [], "propagate": False}},
    }
