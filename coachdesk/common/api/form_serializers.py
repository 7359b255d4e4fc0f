"""The pages' forms as bodies of the API: one rule for both.

A body is checked twice: for its kinds of values (numbers a database can hold, days, choices), which
is also what the OpenAPI document says, and then by the form itself.
"""

from typing import Any

from django import forms
from django.http import QueryDict
from rest_framework import serializers
from rest_framework.exceptions import ValidationError

MAX_INT = 2**31 - 1  # PostgreSQL's integer: a larger number is nobody's key


def form_serializer(name: str, form: Any, **more: serializers.Field) -> Any:
    """A serializer class with the form's fields, and ``more`` that it makes as it begins."""
    fields: dict[str, Any] = {key: _field(one) for key, one in form.base_fields.items()}
    return type(name, (serializers.Serializer,), {**fields, **more})


def _field(field: Any) -> serializers.Field:
    """``field`` of a form: bounds and choices are values here, never functions."""
    asked: dict[str, Any] = {"required": field.required, "allow_null": not field.required}
    match field:
        case forms.MultipleChoiceField():
            return serializers.ListField(child=_choice(field), required=field.required)
        case forms.ModelChoiceField():
            return serializers.IntegerField(min_value=1, max_value=MAX_INT, **asked)
        case forms.ChoiceField():
            return _choice(field, **asked)
        case forms.DecimalField():
            asked |= {"min_value": field.min_value, "max_value": field.max_value}
            return serializers.DecimalField(max_digits=12, decimal_places=3, **asked)
        case forms.IntegerField():
            asked["min_value"] = 1 if field.min_value is None else field.min_value
            asked["max_value"] = MAX_INT if field.max_value is None else field.max_value
            return serializers.IntegerField(**asked)
        case forms.UUIDField():
            return serializers.UUIDField(**asked)
        case forms.DateField():
            return serializers.DateField(**asked)
        case forms.BooleanField():
            return serializers.BooleanField(required=False)
    blank: dict[str, Any] = {"allow_blank": not field.required, "required": field.required}
    return serializers.CharField(max_length=getattr(field, "max_length", None) or 10_000, **blank)


def _choice(field: Any, **asked: Any) -> serializers.ChoiceField:
    values = [str(value) for value, _ in field.choices if value != ""]
    return serializers.ChoiceField(choices=values, allow_blank=not field.required, **asked)


def validated_data(body: Any, data: Any, *, partly: bool = False) -> dict[str, Any]:
    """The body's values as a form takes them; what is null or false is left out."""
    sent = body(data=data, partial=partly)
    sent.is_valid(raise_exception=True)
    return dict(sent.validated_data)


def as_form_data(values: dict[str, Any]) -> QueryDict:
    """As a browser would send it."""
    data = QueryDict(mutable=True)
    for name, value in values.items():
        if isinstance(value, list | tuple):
            data.setlist(name, [str(one) for one in value])
        elif value is not None and value is not False:
            data[name] = str(value)
    return data


def cleaned_data(form: forms.BaseForm) -> dict[str, Any]:
    """What the form makes of it. Raises ValidationError (400) with its sentences by field."""
    if not form.is_valid():
        raise ValidationError({name: list(map(str, said)) for name, said in form.errors.items()})
    return form.cleaned_data
