"""Django looks for models here; each wing keeps its own."""

from programming.movements.models import Movement

__all__ = ["Movement"]
