"""People: the club they belong to, what they may do, what hurts."""

import uuid
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.contrib.auth.models import PermissionsMixin
from django.core.validators import MaxValueValidator
from django.db import models, transaction
from django.db.models.functions import Lower
from django.utils.timezone import now

from coachdesk.common.validators import validate_name


class Club(models.Model):
    name = models.CharField(max_length=120, validators=[validate_name])
    timezone = models.CharField(max_length=64, default="UTC")
    created_at = models.DateTimeField(default=now, editable=False)

    def __str__(self) -> str:
        return self.name


class UserManager(BaseUserManager["User"]):
    @transaction.atomic
    def create_user(self, email: str, password: str | None = None, **fields: Any) -> "User":
        """An account with a proven address: by the invitation that arrived there, or by whoever
        runs the server. An unproven one would be overwritten when its owner changes it."""
        from allauth.account.models import EmailAddress  # needs the finished user model

        user = self.model(email=email.strip().lower(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        EmailAddress.objects.create(user=user, email=user.email, verified=True, primary=True)
        return user

    def create_superuser(self, email: str, password: str | None = None, **fields: Any) -> "User":
        """The first owner, from the command line; makes a club when there is none."""
        club = Club.objects.order_by("pk").first() or Club.objects.create(name="Our club")
        defaults = {"club": club, "role": Role.OWNER, "is_staff": True, "is_superuser": True}
        return self.create_user(email, password, **{**defaults, **fields})

    def get_by_natural_key(self, username: str | None) -> "User":
        return self.get(email__iexact=username)


class Role(models.TextChoices):
    ATHLETE = "athlete", "Athlete"
    COACH = "coach", "Coach"
    OWNER = "owner", "Owner"


class Unit(models.TextChoices):
    KG = "kg", "kilograms"
    LB = "lb", "pounds"


class User(AbstractBaseUser, PermissionsMixin):
    email = models.EmailField(unique=True)
    name = models.CharField(max_length=120, validators=[validate_name])
    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="people")
    role = models.CharField(max_length=8, choices=Role.choices, default=Role.ATHLETE)
    main_coach = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="athletes"
    )
    unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.KG)
    timezone = models.CharField(max_length=64, default="UTC")
    # Shortcuts of one character can be switched off: who dictates would set them off (WCAG 2.1.4).
    letter_keys = models.BooleanField(default=True)
    is_active = models.BooleanField(default=True)
    is_staff = models.BooleanField(default=False)
    joined_at = models.DateTimeField(default=now, editable=False)

    objects: ClassVar[UserManager] = UserManager()
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ["name", "pk"]
        constraints = [models.UniqueConstraint(Lower("email"), name="one_account_per_email")]

    def __str__(self) -> str:
        return self.name

    def get_full_name(self) -> str:
        return self.name

    @property
    def first_name(self) -> str:
        return self.name.split()[0] if self.name else ""

    @property
    def is_athlete(self) -> bool:
        return self.role == Role.ATHLETE

    @property
    def is_coach(self) -> bool:
        """An owner coaches too: in a small club they are the same person."""
        return self.role in {Role.COACH, Role.OWNER}

    @property
    def is_owner(self) -> bool:
        return self.role == Role.OWNER


class InvitationQuerySet(models.QuerySet["Invitation"]):
    def pending(self) -> "InvitationQuerySet":
        """Neither accepted nor withdrawn; one that has run out is still pending."""
        return self.filter(accepted_at=None, withdrawn_at=None)


class Invitation(models.Model):
    """A way in: one person, one role, once, for a limited time."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="invitations")
    email = models.EmailField()
    name = models.CharField(max_length=120, blank=True, validators=[validate_name])
    role = models.CharField(max_length=8, choices=Role.choices, default=Role.ATHLETE)
    coach = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    # Only the digest is kept: a leaked database opens no door.
    token_digest = models.CharField(max_length=64, unique=True, editable=False)
    # Nobody invites the first owner: the command line does.
    invited_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    invited_at = models.DateTimeField(default=now, editable=False)
    expires_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    accepted_at = models.DateTimeField(null=True, blank=True)
    accepted_by = models.OneToOneField(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="invitation"
    )

    objects = InvitationQuerySet.as_manager()

    class Meta:
        ordering = ["-invited_at"]
        constraints = [
            models.UniqueConstraint(
                "club",
                Lower("email"),
                condition=models.Q(accepted_at=None, withdrawn_at=None),
                name="one_pending_invitation_per_address",
            ),
            models.CheckConstraint(
                condition=models.Q(accepted_at=None) | models.Q(withdrawn_at=None),
                name="accepted_or_withdrawn_not_both",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.email} as {self.role}"

    @property
    def state(self) -> str:
        """One of: open, accepted, withdrawn, expired."""
        if self.accepted_at:
            return "accepted"
        if self.withdrawn_at:
            return "withdrawn"
        return "open" if self.expires_at > now() else "expired"


class WarningSign(models.TextChoices):
    """Signs that end form advice and point to care. Asked as plain questions."""

    BLADDER = "bladder", "New trouble holding or passing water or stool?"
    SADDLE = "saddle", "Numbness between the legs or around the seat?"
    WEAKNESS = "weakness", "A leg, foot, arm or hand that is getting weaker?"
    SPREADING = "spreading", "Pain, tingling or numbness that spreads down an arm or leg?"
    NIGHT = "night", "Pain that wakes you at night or does not ease in any position?"
    SHARP = "sharp", "A sudden sharp pain, a pop, or a joint that gave way or locked?"
    UNWELL = "unwell", "Fever, chills, or weight loss you cannot explain, with the pain?"
    CHEST = "chest", "Chest pain, fainting, or breathlessness that is not from the set?"


class PainReport(models.Model):
    """What an athlete said hurts. It is shown first, with a caution; it is never diagnosed."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="pain_reports")
    where = models.CharField(max_length=120)
    score = models.PositiveSmallIntegerField(validators=[MaxValueValidator(10)])
    since = models.CharField(max_length=80, blank=True)
    signs = models.JSONField(default=list, blank=True)  # values of WarningSign
    # Empty while it stands in a draft: what has not been sent has not been said to anybody.
    reported_at = models.DateTimeField(null=True, blank=True, default=now)
    # The athlete says that it no longer hurts, or a coach has talked to them. Until then every page
    # that plans or loads training shows it.
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-reported_at"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(score__gte=0, score__lte=10), name="pain_is_0_to_10"
            )
        ]

    def __str__(self) -> str:
        return f"{self.where} {self.score} of 10"

    @property
    def sign_questions(self) -> list[str]:
        return [WarningSign(sign).label for sign in self.signs]
