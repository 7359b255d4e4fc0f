"""What one button of the programme's page changed, kept so that it can be undone."""

from django.db import models
from django.utils import timezone

from athletes.models import User
from programming.plans.models.programme import Programme


class StructureChange(models.Model):
    """``difference`` and ``links`` are written and read by `services.undo_change`."""

    programme = models.ForeignKey(
        Programme, on_delete=models.CASCADE, related_name="structure_changes"
    )
    label = models.CharField(max_length=200)  # the sentence that said it was done
    made_by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    # [[table, id, values before or null, values after or null]] of the rows that differ.
    difference = models.JSONField(default=list)
    # [[model, id, column, id]]: rows elsewhere that named a row which was deleted.
    links = models.JSONField(default=list)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.label
