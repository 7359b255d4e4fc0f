"""What the application hears of a request (PEP 3333)."""

from typing import Any

from coachdesk.server.wsgi_call import environ_of


def environ(headers: list[tuple[bytes, bytes]], path: bytes = b"/") -> dict[str, Any]:
    scope = {
        "method": "GET",
        "raw_path": path,
        "query_string": b"a=%20",
        "http_version": "1.1",
        "server": ("127.0.0.1", 8000),
        "client": ("192.0.2.7", 4711),
        "scheme": "http",
        "headers": headers,
    }
    return environ_of(scope, None)


def test_the_path_is_bytes_as_latin_1() -> None:
    assert environ([], b"/caf%C3%A9/%ff")["PATH_INFO"] == "/caf\u00c3\u00a9/\u00ff"
    assert environ([])["QUERY_STRING"] == "a=%20"
    assert environ([])["REMOTE_ADDR"] == "192.0.2.7"


def test_a_name_with_an_underscore_does_not_pass_for_one_with_a_hyphen() -> None:
    heard = environ([(b"x_forwarded_for", b"203.0.113.9"), (b"x-forwarded-proto", b"https")])
    assert "HTTP_X_FORWARDED_FOR" not in heard
    assert heard["HTTP_X_FORWARDED_PROTO"] == "https"


def test_a_repeated_name_is_joined_and_cookies_by_their_own_rule() -> None:
    heard = environ(
        [(b"accept", b"a"), (b"accept", b"b"), (b"cookie", b"c=1"), (b"cookie", b"d=2")]
    )
    assert heard["HTTP_ACCEPT"] == "a,b"
    assert heard["HTTP_COOKIE"] == "c=1; d=2"  # RFC 9113, section 8.2.3


def test_type_and_length_have_their_own_names() -> None:
    heard = environ([(b"content-type", b"text/plain"), (b"content-length", b"5")])
    assert (heard["CONTENT_TYPE"], heard["CONTENT_LENGTH"]) == ("text/plain", "5")
    assert not [name for name in heard if name.startswith("HTTP_")]
