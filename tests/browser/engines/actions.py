"""Keys and presses in the words that WebDriver, classic and BiDi alike, takes them
(https://www.w3.org/TR/webdriver2/#keyboard-actions)."""

from __future__ import annotations

from typing import Any

KEYS = {
    "Backspace": "\ue003", "Tab": "\ue004", "Enter": "\ue007", "Shift": "\ue008",
    "Control": "\ue009", "Alt": "\ue00a", "Escape": "\ue00c", " ": " ", "PageUp": "\ue00e",
    "PageDown": "\ue00f", "End": "\ue010", "Home": "\ue011", "ArrowLeft": "\ue012",
    "ArrowUp": "\ue013", "ArrowRight": "\ue014", "ArrowDown": "\ue015", "Delete": "\ue017",
}  # fmt: skip

Actions = list[dict[str, Any]]


def chord(keys: str) -> Actions:
    """Held down one after the other, let go the other way round."""
    parts = [KEYS.get(key, key) for key in keys.split("+")]
    down = [{"type": "keyDown", "value": key} for key in parts]
    up = [{"type": "keyUp", "value": key} for key in reversed(parts)]
    return [{"type": "key", "id": "keyboard", "actions": [*down, *up]}]


def typed(text: str) -> Actions:
    strokes = [{"type": kind, "value": key} for key in text for kind in ("keyDown", "keyUp")]
    return [{"type": "key", "id": "keyboard", "actions": strokes}]


def click(x: int, y: int) -> Actions:
    steps = [
        {"type": "pointerMove", "x": x, "y": y, "origin": "viewport", "duration": 0},
        {"type": "pointerDown", "button": 0},
        {"type": "pointerUp", "button": 0},
    ]
    return [
        {"type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"}, "actions": steps}
    ]
