"""The machine's own programs that tests and figures need: looked for, and brought where we may."""

import os
import shutil
import subprocess

import bootstrap

CHROMIUM = ["chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"]
# Without windows it does not bring the letters that pages are drawn in.
CHROMIUM_PACKAGES = ["chromium-headless-shell fonts-liberation", "chromium"]
# What Debian calls the two other engines, how they are driven, and how they play H.264.
ENGINES = {
    "firefox": "firefox-esr gstreamer1.0-libav",
    "webkit": "webkit2gtk-driver xvfb python3-gi gir1.2-webkit2-4.1 gstreamer1.0-libav "
    "gstreamer1.0-plugins-good gstreamer1.0-plugins-bad",
}


def ensure_chromium(*, who: str) -> None:
    os.environ["COACHDESK_CHROMIUM"] = ensure(CHROMIUM, CHROMIUM_PACKAGES, who=who)


def ensure(names: list[str], packages: list[str], *, who: str) -> str:
    """A program of the system, or of the package manager where it may install one."""
    if not find(names) and may_install():
        apt_get("update")
        for package in packages:
            install(package)
            if find(names):
                break
    found = find(names)
    if not found:
        bootstrap.stop(f"{names[0]} is missing, and {who} need it: apt-get install {packages[0]}")
    return str(found)


def find(names: list[str]) -> str | None:
    path = f"{os.environ['PATH']}:/usr/sbin"
    return next((it for name in names if (it := shutil.which(name, path=path))), None)


def ensure_engines() -> None:
    """Firefox and WebKit, or an end with the sentence that says what to install."""
    missing = [packages for packages in ENGINES.values() if not installed(packages)]
    if missing and may_install():
        apt_get("update")
        install(" ".join(missing), "--no-install-recommends")
    for name, packages in ENGINES.items():
        if not installed(packages):
            bootstrap.stop(f"{name} is missing, and bin/test --whole needs it: {advice(packages)}")


def engines_here() -> list[str]:
    """Those of Firefox and WebKit that are installed; the others are named, never skipped
    silently."""
    for name, packages in ENGINES.items():
        if not installed(packages):
            bootstrap.say(f"No test runs in {name}, which is not installed: {advice(packages)}")
    return [name for name, packages in ENGINES.items() if installed(packages)]


def installed(packages: str) -> bool:
    if not shutil.which("dpkg-query"):
        return False
    command = ["dpkg-query", "--show", "--showformat", "${db:Status-Status}\n", *packages.split()]
    states = subprocess.run(command, capture_output=True, text=True).stdout.split()
    return states == ["installed"] * len(packages.split())


def advice(packages: str) -> str:
    return f"apt-get install {packages}"


def may_install() -> bool:
    return os.geteuid() == 0 and shutil.which("apt-get") is not None


def install(packages: str, *options: str) -> None:
    bootstrap.say(f"Installing {packages} with apt-get")
    apt_get("install", "-y", *options, *packages.split())


def apt_get(*words: str) -> None:
    # A runlevel without services: what is installed must not start to listen by itself.
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive", "RUNLEVEL": "1"}
    subprocess.run(["apt-get", "-qq", *words], stdout=subprocess.DEVNULL, env=environment)
