"""What happened to people, for the apps that athletes must not know of."""

from django.dispatch import Signal

# ``person`` no longer coaches in their club; sent inside the transaction that ends it.
coach_left = Signal()
