"""A row that is to be told by e-mail: the row first, the mail after."""

from django.db import models
from django.utils import timezone


class Mailed(models.Model):
    """Unsent until `mailed_at` is set. `mail_due_at` is the lease of whoever is sending it now and,
    after a failure, the time of the next try; so two workers never send the same mail at once."""

    mailed_at = models.DateTimeField(null=True, blank=True)
    mail_due_at = models.DateTimeField(default=timezone.now)
    mail_tries = models.PositiveSmallIntegerField(default=0)

    class Meta:
        abstract = True
