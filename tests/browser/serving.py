"""Serves the app as a process of its own on a store of its own, for a real browser."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
_STARTS_WITHIN_S = 60.0
_POLL_S = 0.1


def free_port() -> int:
    """A port nobody listens at."""
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        return int(probe.getsockname()[1])


def _answers(address: str) -> bool:
    try:
        with urllib.request.urlopen(f"{address}/_stcore/health", timeout=2) as answer:
            return bool(answer.status == 200)
    except (urllib.error.URLError, OSError):
        return False


@contextlib.contextmanager
def served(database_url: str, log: Path) -> Iterator[str]:
    """Address of the app while the block runs."""
    port = free_port()
    address = f"http://localhost:{port}"
    command = [sys.executable, "-m", "streamlit", "run", str(ROOT / "app.py"), "--server.port", str(port)]
    environment = {**os.environ, "TUNER_DB": database_url, "TUNER_ACTOR": "R. Osei", "OMP_NUM_THREADS": "1"}
    with log.open("wb") as written:
        process = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=written, stderr=written, stdin=subprocess.DEVNULL)
        try:
            deadline = time.monotonic() + _STARTS_WITHIN_S
            while not _answers(address):
                if process.poll() is not None or time.monotonic() > deadline:
                    raise RuntimeError(f"the app did not start: {log.read_text(errors='replace')[-2000:]}")
                time.sleep(_POLL_S)
            yield address
        finally:
            process.terminate()
            process.wait(timeout=20)
