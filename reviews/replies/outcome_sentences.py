"""What became of a point, as the athlete reads it: on the page and in the mail alike."""

from typing import Any

from reviews.replies.models import Result

SENTENCES = {
    Result.GONE: "it is gone.",
    Result.BETTER: "it is better than last time.",
    Result.SAME: "it is as it was.",
    Result.WORSE: "it is worse than last time.",
    Result.CANNOT_TELL: "this clip cannot tell.",
}


def outcome_sentences(content: dict[str, Any]) -> list[str]:
    """One for each outcome that was sent with this version; none for what is no check-back."""
    check_back = content["check_back"] or {"outcomes": []}
    return [
        f"{outcome['title'].rstrip('.')}: {SENTENCES[Result(outcome['result'])]}"
        for outcome in check_back["outcomes"]
    ]
