"""Sets and reps stay together; a coach's words stay text."""

from reviews.templatetags.reply_words import kept

NO_BREAK = "\u00a0"


def test_sets_and_reps_stay_together() -> None:
    for written in ("3 × 4", "3x4", "3 x 4"):
        assert kept(f"Pause squat, {written}.") == f"Pause squat, 3{NO_BREAK}×{NO_BREAK}4."


def test_markup_in_a_note_is_shown_and_does_nothing() -> None:
    assert kept("<script>3x4</script>") == f"&lt;script&gt;3{NO_BREAK}×{NO_BREAK}4&lt;/script&gt;"
