"""The reply while it takes shape, and whether it may go out."""

from rest_framework import serializers

from reviews.replies.models import Reply
from reviews.replies.readiness import MayPublish


class ReplySchema(serializers.Serializer[Reply]):
    """``ranks``: the notes that are focus points, in order. ``version`` is the last one sent, 0
    while none was; ``published`` says that it is done: sent, and not taken up again by this reader
    (``is_working`` in the context) to become the next version."""

    opening = serializers.CharField(allow_blank=True, max_length=8000)
    film_again_by = serializers.DateField(allow_null=True)
    film_again_note = serializers.CharField(allow_blank=True, max_length=2000)
    ranks = serializers.ListField(
        child=serializers.UUIDField(), max_length=99, required=False, write_only=True
    )
    published = serializers.SerializerMethodField()
    version = serializers.IntegerField(source="last_number", read_only=True)

    def get_published(self, reply: Reply) -> bool:
        return reply.last_number > 0 and not self.context["is_working"]


class MayPublishSchema(serializers.Serializer[MayPublish]):
    """``why``: what stands in the way, or, when nothing does, what is worth knowing."""

    ok = serializers.BooleanField()
    why = serializers.CharField()
