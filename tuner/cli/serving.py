"""Serving the app: finds it, finds a free port, starts it as a process of its own and waits until it answers."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
import webbrowser
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from urllib.parse import urlsplit

from tuner.domain.errors import StoreProblem

PORTS_TRIED = 200
"""How many ports above the first are tried."""
_THIS_MACHINE = ("localhost", "127.0.0.1", "::1")
_EVERYWHERE = "0.0.0.0"
_STARTS_WITHIN_S = 60.0
_ENDS_WITHIN_S = 10.0
_POLL_S = 0.1


def served_folder() -> Path:
    """Folder that holds `app.py`: inside the installed package, or the root of the checkout.

    Raises
    ------
    StoreProblem
        If the app is in neither place.
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_served", package.parent):
        if (folder / "app.py").is_file() and (folder / ".streamlit").is_dir():
            return folder
    raise StoreProblem(
        f"app.py is missing beside {package.parent}. The app is part of the installation. Install the tuner again."
    )


def free_port(first: int, host: str) -> int:
    """The first port from `first` on that nobody listens at.

    Raises
    ------
    StoreProblem
        If none of the ports tried is free.
    """
    last = min(first + PORTS_TRIED, 65536)
    for port in range(first, last):
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
            # Without it a port whose last connection ended a moment ago would be passed over.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
            except OSError:
                continue
            return port
    raise StoreProblem(f"no port from {first} to {last - 1} is free at {host}. Close a program that holds one, or give --port.")


def has_browser(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> bool:
    """Whether a browser with a window can be opened; a text browser would take the terminal over."""
    if platform.startswith(("win", "darwin", "cygwin")):
        return True
    return any(environment.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"))


@dataclass(frozen=True, slots=True)
class Served:
    """The running app: its process, its address, and the one for other screens (None where only this machine is let in)."""

    process: subprocess.Popen[bytes]
    address: str
    address_elsewhere: str | None


def own_address() -> str | None:
    """Address of this machine in its network, None without a network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for documentation: chooses the way out, sends nothing
        except OSError:
            return None
        return str(probe.getsockname()[0])


def names_let_in(host: str) -> tuple[str, ...]:
    """Names under which a browser may ask for the app; others are refused, so that no foreign page can reach it."""
    if host in _THIS_MACHINE:
        return _THIS_MACHINE
    if host != _EVERYWHERE:
        return (*_THIS_MACHINE, host)
    machine = socket.gethostname()
    own = own_address()
    return (*_THIS_MACHINE, machine, f"{machine}.local", *([own] if own else []))


def _command(folder: Path, host: str, port: int) -> list[str]:
    options = [("server.address", host), ("server.port", str(port)), ("server.headless", "true")]
    # Without a name of its own the app would ask a server outside for this machine's address.
    options += [("browser.serverAddress", urlsplit(_addresses(host, port)[0]).hostname or host)]
    options += [("browser.gatherUsageStats", "false"), *(("server.allowedHosts", name) for name in names_let_in(host))]
    flags = [text for name, value in options for text in (f"--{name}", value)]
    return [sys.executable, "-m", "streamlit", "run", str(folder / "app.py"), *flags]


def _addresses(host: str, port: int) -> tuple[str, str | None]:
    """Address for this machine, and for other screens."""
    if host in _THIS_MACHINE:
        return f"http://localhost:{port}", None
    if host != _EVERYWHERE:
        return f"http://{host}:{port}", f"http://{host}:{port}"
    own = own_address()
    return f"http://localhost:{port}", f"http://{own}:{port}" if own else None


def _started(command: list[str], folder: Path, db: str) -> subprocess.Popen[bytes]:
    """Start the app. It ignores Ctrl-C, which a terminal sends to it as well: we end it in order."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        return subprocess.Popen(
            command,
            cwd=folder,
            env={**os.environ, "TUNER_DB": db},
            stdout=subprocess.DEVNULL,  # its greeting would repeat the address in other words
            stdin=subprocess.DEVNULL,
        )
    finally:
        signal.signal(signal.SIGINT, before)


def _answers(address: str) -> bool:
    try:
        with urllib.request.urlopen(f"{address}/_stcore/health", timeout=2) as answer:
            return bool(answer.status == 200)
    except (urllib.error.URLError, OSError):
        return False


def _wait_until_it_answers(served: Served) -> None:
    for _ in range(int(_STARTS_WITHIN_S / _POLL_S)):
        if _answers(served.address):
            return
        try:
            code = served.process.wait(timeout=_POLL_S)
        except subprocess.TimeoutExpired:
            continue
        raise StoreProblem(f"the app ended at once (exit code {code}). Its message is above. Free the port or give --port.")
    raise StoreProblem(f"the app did not answer at {served.address} within {_STARTS_WITHIN_S:g} s. Start it again.")


def _end(process: subprocess.Popen[bytes]) -> None:
    """End the app: asked first, stopped if it does not listen."""
    if process.poll() is not None:
        return
    process.terminate()
    try:
        process.wait(timeout=_ENDS_WITHIN_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def _asked_to_end(_number: int, _frame: FrameType | None) -> None:
    """A request to end (SIGTERM) is Ctrl-C by another way."""
    raise KeyboardInterrupt


@contextlib.contextmanager
def served_app(*, db: str, host: str, first_port: int) -> Iterator[Served]:
    """Serve the app on a workspace while the block runs; it is ended with the block.

    Raises
    ------
    StoreProblem
        If the app is not there, no port is free, or it does not start.
    """
    folder = served_folder()
    port = free_port(first_port, host)
    process = _started(_command(folder, host, port), folder, db)
    before = signal.signal(signal.SIGTERM, _asked_to_end)
    try:
        served = Served(process, *_addresses(host, port))
        _wait_until_it_answers(served)
        yield served
    finally:
        _end(process)
        signal.signal(signal.SIGTERM, before)


def open_browser(address: str) -> bool:
    """Open a browser at `address`; False where there is none."""
    if not has_browser():
        return False
    try:
        return webbrowser.open(address)
    except webbrowser.Error:
        return False
