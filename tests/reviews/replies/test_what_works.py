"""How often a fault was gone, and how sure that is."""

import pytest
from django.utils import timezone

from reviews.library.merging_hung import merge
from reviews.library.models import Cue, Fault
from reviews.replies.models import Outcome
from reviews.replies.selectors.what_works import what_works, wilson
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer


# Newcombe RG, Stat Med 1998;17:857-872: 81/263 and 0/20, four digits as printed.
@pytest.mark.parametrize(
    ("hits", "of", "low", "high"), [(81, 263, 0.2553, 0.3662), (0, 20, 0.0, 0.1611)]
)
def test_the_interval_is_the_published_one(hits, of, low, high) -> None:
    assert wilson(hits, of) == pytest.approx((low, high), abs=5e-5)


def by_scipy(hits: int, of: int) -> tuple[float, float]:
    from scipy.stats import binomtest  # slow to import, in every process of a run

    interval = binomtest(hits, of).proportion_ci(confidence_level=0.95, method="wilson")
    return interval.low, interval.high


@pytest.mark.parametrize(
    ("hits", "of"), [(0, 1), (1, 1), (9, 10), (23, 60), (0, 10), (10, 10), (1, 1000)]
)
def test_the_interval_is_that_of_scipy(hits, of) -> None:
    assert wilson(hits, of) == pytest.approx(by_scipy(hits, of), abs=1e-9)


def test_none_and_all_end_exactly() -> None:
    assert wilson(0, 7)[0] == 0.0
    assert wilson(7, 7)[1] == 1.0


@pytest.mark.parametrize(("hits", "of"), [(0, 0), (2, 1), (-1, 3)])
def test_a_share_of_nothing_is_refused(hits, of) -> None:
    with pytest.raises(ValueError, match="no share"):
        wilson(hits, of)


@pytest.fixture
def said(cast):
    """said(cue, result, again=False) records an outcome; `again` changes the mind on the last."""
    fault = Fault.objects.get(club=cast.coach.club, name="Hips rise first")
    earlier = a_submission(cast.athlete)
    note = a_note(cast.coach, a_clip(earlier), fault=fault, rank=1)
    version = an_answer(cast.coach, earlier)
    back = [None]

    def record(cue: Cue, result: str, *, again: bool = False, named: Fault = fault) -> None:
        back[0] = back[0] if again else a_submission(cast.athlete, check_back_of=earlier)
        Outcome.objects.create(
            check_back=back[0], version=version, note=note.pk, number=1, fault=named,
            fault_name=named.name, cue=cue, cue_text=cue.text, result=result,
            confirmed_by=cast.coach,
        )  # fmt: skip

    return fault, record


@pytest.mark.django_db
def test_only_the_newest_word_counts_and_can_t_tell_never(cast, said, client) -> None:
    fault, record = said
    wall = Cue.objects.create(club=cast.coach.club, text="Into the wall.")
    floor = Cue.objects.create(club=cast.coach.club, text="Flat on the floor.")
    record(wall, "worse")
    record(wall, "gone", again=True)
    for result in ["gone", "gone", "better", "same", "cannot-tell"]:
        record(wall, result)
    record(floor, "gone")
    works = what_works(fault)
    assert (works.fault.told, works.fault.gone, works.fault.unsure) == (6, 4, 1)
    first, second = works.cues
    assert (first.name, first.told, first.gone, first.percent) == ("Into the wall.", 5, 3, 60)
    low, high = by_scipy(3, 5)
    assert (first.low, first.high) == (round(100 * low), round(100 * high))
    assert not second.enough
    client.force_login(cast.coach)
    page = client.get(f"/library/{fault.pk}/what-works/").content.decode()
    assert "Gone in 3 of 5: 60%, could be 23 to 88%." in page
    assert "Too few to say: 1 outcome, 5 are needed." in page


@pytest.mark.django_db
def test_what_was_merged_into_it_counts_along(cast, said) -> None:
    fault, record = said
    old = Fault.objects.exclude(pk=fault.pk).filter(club=cast.coach.club).first()
    Fault.objects.filter(pk=old.pk).update(merged_into=fault, retired_at=timezone.now())
    record(Cue.objects.create(club=cast.coach.club, text="x"), "gone", named=old)
    assert what_works(fault).fault.gone == 1


@pytest.mark.django_db
def test_a_merged_cue_counts_for_the_one_that_stays(cast, said) -> None:
    fault, record = said
    old, kept = (Cue.objects.create(club=cast.coach.club, text=text) for text in ("Old.", "Kept."))
    record(old, "gone")
    record(kept, "same")
    merge(entry=old, into=kept, by=cast.coach)
    (only,) = what_works(fault).cues
    assert (only.name, only.told, only.gone) == ("Kept.", 2, 1)


@pytest.mark.django_db
def test_a_point_that_names_another_fault_now_counts_for_that_one_alone(cast, said) -> None:
    """A new version of the reply renamed the fault between two words on the same point."""
    fault, record = said
    other = Fault.objects.get(club=cast.coach.club, name="Short of depth")
    wall = Cue.objects.create(club=cast.coach.club, text="Into the wall.")
    record(wall, "gone")
    record(wall, "better", again=True, named=other)
    assert what_works(fault).fault.results == []
    assert what_works(other).fault.results == ["better"]
