"""bin/test and bin/bench bring the browsers they need by one way, or say what is missing."""

from __future__ import annotations

import importlib
import os
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

BIN = Path(__file__).resolve().parents[2] / "bin"


@pytest.fixture
def programs(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    monkeypatch.syspath_prepend(str(BIN))
    return importlib.import_module("programs")


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with all the programs there are."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("COACHDESK_CHROMIUM", "")
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    return tmp_path


def put(folder: Path, name: str, script: str = "") -> Path:
    program = folder / name
    program.write_text(f"#!/bin/sh\n{script}\n")
    program.chmod(0o755)
    return program


def package_manager(machine: Path, brings: str) -> Path:
    """Keeps what it was asked for, and brings one program with the package of its name."""
    asked = machine / "asked"
    bring = f'printf "#!/bin/sh\\n" > {machine}/{brings}; /bin/chmod 755 {machine}/{brings}'
    put(machine, "apt-get", f'echo "$@" >> {asked}; case "$*" in *" {brings}") {bring};; esac')
    return asked


def test_chromium_is_brought_where_it_may_be(programs: ModuleType, machine: Path) -> None:
    asked = package_manager(machine, brings="chromium")
    programs.ensure_chromium(who="the browser tests")
    assert os.environ["COACHDESK_CHROMIUM"] == str(machine / "chromium")
    # The one without windows is asked for first.
    wanted = [line.split()[3] for line in asked.read_text().splitlines() if "install" in line]
    assert wanted == ["chromium-headless-shell", "chromium"]


def test_what_is_there_is_not_brought_again(programs: ModuleType, machine: Path) -> None:
    asked = package_manager(machine, brings="chromium")
    put(machine, "chromium-headless-shell")
    programs.ensure_chromium(who="the browser tests")
    assert os.environ["COACHDESK_CHROMIUM"] == str(machine / "chromium-headless-shell")
    assert not asked.exists()


def test_the_figures_say_that_chromium_is_missing(machine: Path) -> None:
    ended = subprocess.run([sys.executable, BIN / "bench"], capture_output=True, text=True)
    assert ended.returncode == 1
    assert "chromium-headless-shell is missing, and the figures" in ended.stderr
    assert "apt-get install chromium-headless-shell" in ended.stderr


def test_engines_that_are_not_installed_are_named(
    programs: ModuleType, machine: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    has_firefox = 'case "$*" in *firefox-esr*) echo installed; echo installed;; *) exit 1;; esac'
    put(machine, "dpkg-query", has_firefox)
    assert programs.engines_here() == ["firefox"]
    printed = capsys.readouterr().out
    assert "No test runs in webkit, which is not installed: apt-get install webkit2gtk" in printed
    assert "firefox," not in printed
    with pytest.raises(SystemExit, match="webkit is missing, and bin/test --whole needs it"):
        programs.ensure_engines()
