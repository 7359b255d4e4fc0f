"""Fields that several shapes of a review share."""

from typing import Any

from rest_framework import serializers

from athletes.permissions import signed_in
from reviews.replies.frame_times import Clock
from reviews.replies.models import Note, RepCall


class OpenChoiceField(serializers.ChoiceField):
    """A choice that may be left open: null in JSON, empty in the row."""

    def __init__(self, choices: Any, **kwargs: Any) -> None:
        super().__init__(choices, allow_null=True, allow_blank=True, default="", **kwargs)

    def run_validation(self, data: Any = serializers.empty) -> str:
        return super().run_validation(data) or ""

    def to_representation(self, value: Any) -> str | None:  # type: ignore[override]
        return super().to_representation(value) or None


class OwnWordsField(serializers.CharField):
    """The coach's own words in place of an entry of the library. Null or left out: what stands
    stays."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(allow_blank=True, default=None, **kwargs)

    def run_validation(self, data: Any = serializers.empty) -> str | None:
        return super().run_validation(serializers.empty if data is None else data)


class LibraryEntryField(serializers.PrimaryKeyRelatedField):
    """An entry of the coach's club; any other is unknown."""

    def get_queryset(self) -> Any:
        entries = super().get_queryset()
        assert entries is not None  # each field names its own
        return entries.filter(club_id=signed_in(self.context["request"]).club_id)


class StrippedField(serializers.CharField):
    """Words as they are sent."""

    def to_representation(self, value: str) -> str:
        return value.strip()


class FrameTimeField(serializers.FloatField):
    """When a row's frame appears, or with ``is_end`` is gone, in seconds; null without a frame or a
    frame table. The context holds each clip's clock, under ``clocks``."""

    def __init__(self, frame: str, *, is_end: bool = False) -> None:
        super().__init__(source="*", read_only=True, allow_null=True)
        self.frame, self.is_end = frame, is_end

    def to_representation(  # type: ignore[override]
        self, row: Note | RepCall
    ) -> float | None:
        frame: int | None = getattr(row, self.frame)
        clock: Clock | None = self.context["clocks"][row.clip_id]
        if clock is None or frame is None:
            return None
        return clock.until(frame) if self.is_end else clock.at(frame)
