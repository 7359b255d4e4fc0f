"""The settings of a later version, whose migration ends well and does harm."""

from coachdesk.settings import *  # noqa: F403
from coachdesk.settings import INSTALLED_APPS as NOW

INSTALLED_APPS = [*NOW, "tests.coachdesk.harmful"]
