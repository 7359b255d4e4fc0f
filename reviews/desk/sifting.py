"""Looking at a part of the queue: whose, which lift, what about it. Kept in the address."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Self
from urllib.parse import urlencode

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.utils import timezone

from athletes.models import User
from athletes.permissions import athletes_without_coach
from programming.movements.families import Family
from reviews.desk.models import Claim
from reviews.desk.queries import free_for, overdue_before, waiting_for
from reviews.intake.models import Clip, Submission, Urgency

WHOSE = [
    ("mine", "My athletes, and in my hands"),
    ("no-coach", "Athletes without a main coach"),
]
WHAT = [
    ("pain", "Pain, warning signs"),
    ("check-back", "Check-backs"),
    ("overdue", "Overdue"),
    ("back", "Back with another angle"),
]
CHOICES = {"whose": WHOSE, "family": Family.choices, "what": WHAT}


@dataclass(frozen=True)
class Sifted:
    """What is looked at; an empty word is no limit."""

    whose: str = ""
    family: str = ""
    what: str = ""

    @classmethod
    def asked(cls, words: Mapping[str, Any]) -> Self:
        """From an address or a form; a word that is not offered limits nothing."""
        known = {name: {value for value, _ in of} for name, of in CHOICES.items()}
        given = {name: words.get(name, "") for name in CHOICES}
        return cls(**{name: word for name, word in given.items() if word in known[name]})

    def __bool__(self) -> bool:
        return any(asdict(self).values())

    @property
    def kept(self) -> dict[str, str]:
        """Only what limits, by name."""
        return {name: word for name, word in asdict(self).items() if word}

    @property
    def query(self) -> str:
        """``?what=pain``, or nothing."""
        return f"?{urlencode(self.kept)}" if self else ""

    @property
    def said(self) -> str:
        """In words, as the desk says it."""
        labels = [str(dict(CHOICES[name])[word]) for name, word in self.kept.items()]
        return ", ".join(label if at == 0 else label.lower() for at, label in enumerate(labels))

    def of(self, queue: QuerySet[Submission], coach: User) -> QuerySet[Submission]:
        """These of a queue. No statement of its own."""
        if self.whose == "no-coach":
            queue = queue.filter(athlete__in=athletes_without_coach(coach.club))
        elif self.whose:
            live = Claim.objects.filter(submission=OuterRef("pk"), until__gt=timezone.now())
            queue = queue.filter(Q(athlete__main_coach=coach) | Exists(live.filter(coach=coach)))
        if self.family:
            clips = Clip.objects.filter(submission=OuterRef("pk"), movement__family=self.family)
            queue = queue.filter(Exists(clips))
        if self.what:
            queue = queue.filter(self._about())
        return queue

    def _about(self) -> Q:
        return {
            "pain": Q(urgency__lt=Urgency.FORM),
            "check-back": Q(check_back_of__isnull=False),
            "overdue": Q(sent_at__lt=overdue_before(timezone.now())),
            "back": Q(back_at__isnull=False),
        }[self.what]

    def waiting(self, coach: User) -> QuerySet[Submission]:
        return self.of(waiting_for(coach), coach)

    def free(self, coach: User) -> QuerySet[Submission]:
        return self.of(free_for(coach), coach)


EVERYTHING = Sifted()
