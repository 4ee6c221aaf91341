"""The app served as a new user would: from an empty folder, on the next free port, ended by Ctrl-C."""

import re
import signal
import subprocess
import sys
import urllib.request

import pytest

pytestmark = pytest.mark.slow


# As from a terminal, also where the tests themselves run in the background of a shell, which makes children deaf to Ctrl-C.
AS_TYPED = (
    "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); "
    "from tuner.cli import main; raise SystemExit(main())"
)


def served(folder, *typed):
    """Start `tuner` in a folder and read its address from the first lines."""
    process = subprocess.Popen(
        [sys.executable, "-c", AS_TYPED, *typed],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        stdin=subprocess.DEVNULL,
        text=True,
    )
    lines = []
    for line in process.stdout:
        lines.append(line)
        found = re.search(r"http://\S+", line)
        if found:
            return process, found[0]
    raise AssertionError("no address:\n" + "".join(lines))


def ended(process):
    process.send_signal(signal.SIGINT)
    said, _ = process.communicate(timeout=60)
    return process.returncode, said


def answer(address):
    with urllib.request.urlopen(address, timeout=30) as got:
        return got.status, got.read()


def test_the_demo_is_served_with_a_file_of_its_own_and_ends_cleanly(tmp_path):
    process, address = served(tmp_path, "demo", "--port", "18501")
    try:
        assert answer(f"{address}/_stcore/health")[0] == 200
        status, page = answer(address)
        assert (status, b"<html" in page.lower()) == (200, True)
        assert (tmp_path / "tuner.sqlite").is_file()
    finally:
        code, said = ended(process)
    assert code == 0
    assert "Traceback" not in said


def test_two_at_once_get_two_ports(tmp_path):
    first, one = served(tmp_path, "open", "--no-browser", "--port", "18601", "--db", "a.sqlite")
    try:
        second, other = served(tmp_path, "open", "--no-browser", "--port", "18601", "--db", "b.sqlite")
        assert ended(second)[0] == 0
    finally:
        assert ended(first)[0] == 0
    assert one != other


def test_a_request_to_end_ends_the_app_with_it(tmp_path):
    process, address = served(tmp_path, "open", "--no-browser", "--port", "18701", "--db", "a.sqlite")
    process.terminate()
    process.communicate(timeout=60)
    assert process.returncode == 0
    with pytest.raises(OSError):
        answer(address)
