"""The desk and the library, in the states a coach meets."""

from datetime import timedelta

from django.urls import reverse

from athletes.models import User
from reviews.desk.claiming import claim
from reviews.desk.handing import hand_over
from reviews.intake.angles import open_request
from reviews.intake.models import ClipState, State, Submission, View
from reviews.library.keeping import keep_under, retire
from reviews.library.merging import merge
from reviews.library.merging_hung import merge as merge_hung
from reviews.library.models import Cue, Drill, Fault
from tests.browser.pages import Look
from tests.conftest import Cast
from tests.reviews.desk.build import answered, sent
from tests.reviews.replies.rows import a_clip, a_submission

LONG = "Maximiliane Oyelaran-Szczepaniak von Hohenfelden"
NAMES = ["Dario Pellegrin", "Anneke Roos", "Jonas Eekman", "Priya Lindgard", "Lennart Vos", LONG]
QUESTIONS = [
    "Why do I tip forward on the last rep?",
    "My hips leave the bench on the last two. Where do my feet go, and does it matter if I only "
    "ever train touch and go, or should I change that first and look at the feet later?",
    "The bar swings out past the knee. Did I let the lats go?",
    "",
    "Left knee comes in at the turnaround, the right one does not.",
    "Am I deep enough on rep 2?",
]
MOVEMENTS = ["Low-bar squat", "Paused bench press", "Conventional deadlift", "Overhead press"]


def lifters(cast: Cast) -> list[User]:
    return [
        User.objects.create_user(f"lifter{n}@example.org", None, name=name, club=cast.coach.club)
        for n, name in enumerate(NAMES)
    ]


def busy(cast: Cast, count: int = 12) -> str:
    """Pain, a warning sign, a check-back, one overdue, one held, broken and unready clips."""
    people = lifters(cast)
    sent(cast.athlete, days=2, clips=2, pain=4, question="My lower back grips at the floor.")
    sent(people[5], days=1, pain=3, signs=("bladder", "weakness"), question="Is this only tight?")
    first = answered(cast.other_athlete, cast.coach, minutes=9)
    sent(cast.other_athlete, days=1, check_back_of=first, question="Do the hips still rise first?")
    sent(people[2], days=8, question="Why is the first rep always the slowest?", kg="182.5")
    for n in range(count):
        person, question = people[n % 6], QUESTIONS[n % 6]
        movement = MOVEMENTS[n % 4]
        sent(person, days=4 - n / 10, clips=1 + n % 3, question=question, movement=movement)
    rows = list(Submission.objects.filter(state=State.WAITING).order_by("-sent_at"))
    claim(submission=rows[-6], coach=cast.second_coach)
    claim(submission=rows[-8], coach=cast.coach)
    clip = rows[2].clips.first()
    clip.state, clip.reason = ClipState.FAILED, "The file stops at 60%. Send it again, please."
    clip.save()
    ready = rows[3].clips.first()
    ready.state = ClipState.PROCESSING
    ready.save()
    return reverse("desk")


def with_pace(cast: Cast) -> str:
    for n in range(7):
        answered(cast.athlete, cast.coach, minutes=6 + n)
    return busy(cast, count=70)


def only_held(cast: Cast) -> str:
    claim(submission=sent(cast.athlete), coach=cast.second_coach)
    return reverse("desk")


def with_question(cast: Cast, **facts: object) -> Submission:
    submission = sent(cast.athlete, clips=2, question=QUESTIONS[1], **facts)
    submission.clips.update(view="side")
    return submission


def angle_page(cast: Cast) -> str:
    return reverse("workbench-angle", args=[with_question(cast, pain=4).pk])


def angle_asked(cast: Cast) -> Submission:
    submission = a_submission(cast.athlete, question=QUESTIONS[1])
    a_clip(submission)  # its files are there: the athlete's page shows them
    why = "From the side I cannot tell whether both hands lower evenly. One set of three is enough."
    open_request(submission=submission, coach=cast.coach, view=View.FRONT, why=why)
    return submission


def handed(cast: Cast) -> str:
    """Two in the coach's hands from others, one of them pain, in a busy evening."""
    busy(cast)
    rows = Submission.objects.filter(state=State.WAITING, claim=None).order_by("urgency", "sent_at")
    for row, by in zip(rows[1:3], [cast.second_coach, cast.owner], strict=True):
        claim(submission=row, coach=by)
        hand_over(submission=row, holder=by, to=cast.coach, by=by)
    return reverse("desk")


def hand_page(cast: Cast, holder: str = "coach") -> str:
    submission = with_question(cast)
    claim(submission=submission, coach=getattr(cast, holder))
    return reverse("desk-hand", args=[submission.pk])


def fault(cast: Cast, name: str = "Hips rise first") -> Fault:
    return Fault.objects.get(club=cast.coach.club, name=name)


def fault_page(extra: str = "", name: str = "Hips rise first"):
    return lambda cast: reverse("library-fault", args=[fault(cast, name).pk]) + extra


def edited(cast: Cast) -> str:
    return reverse("library-edit", args=[fault(cast).pk])


def retired(cast: Cast) -> str:
    entry = fault(cast)
    retire(entry=entry)
    retire(entry=entry.cues.get(text="Push the floor away."))
    type(entry).objects.filter(pk=entry.pk).update(
        retired_at=entry.retired_at - timedelta(days=3), name=f"{entry.name} and {LONG}"
    )
    return reverse("library-fault", args=[entry.pk])


def bare(cast: Cast) -> str:
    entry = Fault.objects.create(
        club=cast.coach.club, family="other", phase="setup", name="Row pulled with the back"
    )
    return reverse("library-fault", args=[entry.pk])


def merge_page(query: str = ""):
    """Choosing, or with the query what would happen: a doubled cue, and some that move."""

    def build(cast: Cast) -> str:
        going, staying = fault(cast), fault(cast, "Knees come in")
        keep_under(entry=Cue(text=str(staying.cues.first())), fault=going, by=cast.coach)
        url = reverse("library-merge", args=[going.pk])
        return f"{url}{query}{staying.pk}" if query else url

    return build


def hung_merge_page(kind: str, *, chosen: bool = False):
    """A cue with many words, or a drill whose dose would be dropped."""
    words: dict[str, list[Cue | Drill]] = {
        "cues": [Cue(text="Push the floor away, then stand up."), Cue(text="Legs first.")],
        "drills": [
            Drill(name="Pause squat, light", dose="3 × 3 at 60%, 2 s pause"),
            Drill(name="Squat held at the bottom", dose="3 × 4 at 65 to 70%, 3 s pause"),
        ],
    }

    def build(cast: Cast) -> str:
        going, staying = words[kind]
        keep_under(entry=going, fault=fault(cast), by=cast.coach)
        keep_under(entry=going, fault=fault(cast, "Loose brace"), by=cast.coach)
        keep_under(entry=staying, fault=fault(cast, "Loose brace"), by=cast.coach)
        url = reverse("library-hang-merge", args=[fault(cast).pk, kind, going.pk])
        return f"{url}?into={staying.pk}" if chosen else url

    return build


def hung_merged(cast: Cast) -> str:
    entry = Cue(text="Push the floor away first.")
    keep_under(entry=entry, fault=fault(cast), by=cast.coach)
    merge_hung(entry=entry, into=fault(cast).cues.all()[0], by=cast.coach)
    return reverse("library-fault", args=[fault(cast).pk])


def merged(cast: Cast) -> str:
    going = fault(cast)
    merge(fault=going, into=fault(cast, "Knees come in"), by=cast.coach)
    return reverse("library-fault", args=[going.pk])


PAGES = [
    Look("desk", "coach", busy),
    Look("desk", "coach", with_pace, state="long"),
    Look("desk", "coach", lambda cast: reverse("desk"), state="clear"),
    Look("desk", "coach", only_held, state="held"),
    Look("desk", "coach", handed, state="handed"),
    Look("desk", "coach", lambda cast: busy(cast) + "?family=squat&what=pain", state="part"),
    Look("desk", "coach", lambda cast: busy(cast) + "?family=other", state="nothing fits"),
    Look("desk-hand", "coach", hand_page),
    Look("desk-hand", "coach", lambda cast: hand_page(cast, "second_coach"), state="not mine"),
    Look("workbench-angle", "coach", angle_page),
    Look(
        "workbench-angle",
        "coach",
        lambda cast: reverse("workbench-angle", args=[angle_asked(cast).pk]),
        state="asked",
    ),
    Look(
        "submit-draft",
        "athlete",
        lambda cast: reverse("submit-draft", args=[angle_asked(cast).pk]),
        state="another angle",
    ),
    Look(
        "submission",
        "athlete",
        lambda cast: reverse("submission", args=[angle_asked(cast).pk]),
        state="another angle",
    ),
    Look(
        "athlete-home",
        "athlete",
        lambda cast: angle_asked(cast) and reverse("athlete-home"),
        state="another angle",
    ),
    Look("library", "coach", lambda cast: reverse("library")),
    Look("library", "coach", lambda cast: reverse("library") + "?q=floor", state="found"),
    Look("library", "coach", lambda cast: reverse("library") + "?q=zzz", state="nothing"),
    Look("library", "coach", lambda cast: reverse("library") + "?family=other", state="none"),
    Look("library-fault", "coach", fault_page()),
    Look("library-fault", "coach", fault_page("?cues=new#cues"), state="adding"),
    Look("library-fault", "coach", retired, state="retired"),
    Look("library-fault", "coach", bare, state="bare"),
    Look("library-fault", "coach", merged, state="merged"),
    Look("library-merge", "coach", merge_page()),
    Look("library-merge", "coach", merge_page("?into="), state="preview"),
    Look("library-hang-merge", "coach", hung_merge_page("cues")),
    Look("library-hang-merge", "coach", hung_merge_page("drills", chosen=True), state="preview"),
    Look("library-fault", "coach", hung_merged, state="cue merged"),
    Look("library-add", "coach", lambda cast: reverse("library-add")),
    Look("library-edit", "coach", edited),
]
