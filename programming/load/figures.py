"""A number, or the reason why there is none."""

from dataclasses import dataclass
from enum import StrEnum


class Why(StrEnum):
    """Why a figure is not defined. The text is what a person reads in its place."""

    NOTHING = "nothing logged"
    GAP = "not all of it is known"
    NOT_OVER = "the week is not over"
    BEGAN = "logging began within it"
    NO_VARIATION = "every day was the same"
    UNDER_28 = "fewer than 28 known days in a row"
    NO_RECENT = "no load in the weeks before"


@dataclass(frozen=True)
class Figure:
    """Exactly one of the two is set: an undefined figure is never shown as 0 or capped."""

    value: float | None = None
    why: Why | None = None

    def __post_init__(self) -> None:
        if (self.value is None) == (self.why is None):
            raise ValueError("A figure has a value, or a reason why it has none.")

    @property
    def known(self) -> bool:
        return self.value is not None
