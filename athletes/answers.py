"""Answers of the API that REST framework has no exception for."""

from rest_framework.exceptions import APIException, ValidationError


class Conflict(APIException):
    """409: right in itself, but not as things stand."""

    status_code = 409
    default_code = "conflict"


class Unfit(APIException):
    """422: understood, and refused with a sentence."""

    status_code = 422
    default_code = "unfit"


class UnfitFields(ValidationError):
    """422 with the field that each sentence is about."""

    status_code = 422
