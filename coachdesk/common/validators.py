"""What a name may hold: it stands in lists, mails and files beside other names, and must not turn
them round, break their lines or look empty."""

import unicodedata

from django.core.exceptions import ValidationError

JOINERS = "\u200c\u200d"  # spelling in Persian and in Indian scripts needs them
# Unicode general categories: control, format (direction among them), surrogate, private use,
# unassigned, and separators of lines and paragraphs.
FORBIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def validate_name(value: str) -> None:
    """For a field of a model, a form or a serializer. Raises ValidationError with a sentence."""
    if any(unicodedata.category(c) in FORBIDDEN and c not in JOINERS for c in value):
        raise ValidationError(
            "A name cannot hold control characters or marks that turn the direction of the text. "
            "Type it anew instead of pasting it."
        )
    if value and not any(c.isalnum() for c in value):
        raise ValidationError("A name needs at least one letter or digit.")
