"""The kinds of mail about replies: who puts them into the outbox need not know who writes them."""

REPLY, MESSAGE, ANGLE, NOTICE = "reply", "message", "angle", "notice"
