"""Words about people and their devices."""

from datetime import date, datetime

from django import template

from athletes.local_time import day_at
from athletes.models import User

register = template.Library()

# The order matters: most browsers also claim to be the ones before them in history.
BROWSERS = [("Edg", "Edge"), ("OPR", "Opera"), ("Firefox", "Firefox"), ("Chrom", "Chromium")]
BROWSERS += [("CriOS", "Chromium"), ("FxiOS", "Firefox"), ("Safari", "Safari")]
SYSTEMS = [("iPhone", "an iPhone"), ("iPad", "an iPad"), ("Android", "Android")]
SYSTEMS += [("Windows", "Windows"), ("Mac OS", "a Mac"), ("CrOS", "ChromeOS"), ("Linux", "Linux")]


@register.filter
def browser(user_agent: str) -> str:
    """A user-agent string as a person would say it: "Firefox on Android"."""
    name = next((word for sign, word in BROWSERS if sign in user_agent), "A browser")
    system = next((word for sign, word in SYSTEMS if sign in user_agent), "")
    return f"{name} on {system}" if system else name


@register.filter
def day_of(moment: datetime, person: User) -> date:
    """The date where this person was: what happened to them belongs to a day of theirs."""
    return day_at(person, moment)
