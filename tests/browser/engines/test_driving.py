"""That a window hears and does what the other tests trust it with."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.browser.engines.window import EngineError, Window


@pytest.mark.parametrize(
    "trouble",
    [
        "console.error('heard')",
        "setTimeout(() => { throw new Error('heard'); })",
        "void Promise.reject(new Error('heard'))",
    ],
)
def test_what_goes_wrong_in_a_page_is_heard(new_window, live_server, trouble: str) -> None:
    window = new_window()
    window.base = live_server.url
    window.open("/accounts/login/")
    assert window.errors == []
    window.evaluate(f"() => new Promise((done) => {{ {trouble}; setTimeout(done, 200); }})")
    assert any("heard" in error for error in window.errors), window.errors
    window.close()


def test_what_the_policy_refuses_is_heard(new_window, live_server) -> None:
    window = new_window()
    window.base = live_server.url
    window.open("/accounts/login/")
    window.evaluate("""() => new Promise((done) => {
        const script = document.createElement("script");
        script.textContent = "1";
        document.body.append(script);
        setTimeout(done, 200);
    })""")
    assert any("Content Security Policy" in error for error in window.errors), window.errors
    window.close()


@pytest.mark.parametrize("width", [390, 1440])
def test_a_window_is_as_wide_as_was_asked(site: Window, tmp_path: Path, width: int) -> None:
    site.resize(width, 844)
    site.open("/accounts/login/")
    assert site.evaluate("() => [innerWidth, innerHeight]") == [width, 844]
    site.screenshot(tmp_path / "shot.png")
    assert Image.open(tmp_path / "shot.png").size == (width, 844)


def test_keys_and_clicks_are_a_persons(site: Window) -> None:
    site.open("/accounts/login/")
    site.evaluate("""() => {
        window.seen = [];
        for (const kind of ["keydown", "click"])
            addEventListener(kind, (event) => seen.push([event.isTrusted, event.key ?? kind,
                event.shiftKey]), { capture: true });
    }""")
    site.click("input[name=login]")
    site.write("aB@")
    assert site.evaluate("() => document.activeElement.value") == "aB@"
    site.press("Shift+ArrowLeft")
    heard = site.evaluate("() => seen")
    assert [True, "click", False] in heard
    assert [True, "ArrowLeft", True] in heard


def test_a_function_that_throws_says_so(window: Window) -> None:
    with pytest.raises(EngineError, match="mine"):
        window.evaluate("() => { throw new Error('mine'); }")
    assert window.evaluate("(one, two) => [one, two]", 1, "it's") == [1, "it's"]
    assert window.evaluate("() => {}") is None


LANDS_AT = "() => fetch('/').then((answer) => new URL(answer.url).pathname)"


@pytest.mark.short_walk
def test_who_signs_in_does_so_in_one_window(site: Window, new_window, cast) -> None:
    site.open("/accounts/login/")
    site.sign_in(cast.coach)
    assert not site.evaluate(LANDS_AT).startswith("/accounts/")
    other = new_window()
    other.go(f"{site.base}/accounts/login/")
    assert other.evaluate(LANDS_AT).startswith("/accounts/")
    other.close()
