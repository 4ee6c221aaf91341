"""Finding the app, a port and a browser."""

import socket

import pytest

from tuner.cli import serving
from tuner.domain import StoreProblem


def test_the_app_of_the_checkout_is_found_with_its_configuration():
    folder = serving.served_folder()
    assert (folder / "app.py").is_file()
    assert (folder / ".streamlit").is_dir()


def test_a_port_somebody_listens_at_is_passed_over():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert serving.free_port(port, "127.0.0.1") > port


def test_no_free_port_is_said_in_words(monkeypatch):
    monkeypatch.setattr(serving, "PORTS_TRIED", 1)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(StoreProblem, match="--port"):
            serving.free_port(taken.getsockname()[1], "127.0.0.1")


@pytest.mark.parametrize(
    ("environment", "platform", "expected"),
    [
        ({}, "linux", False),
        ({"DISPLAY": ":0"}, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({}, "darwin", True),
        ({}, "win32", True),
    ],
)
def test_a_browser_is_opened_only_where_there_is_a_window(environment, platform, expected):
    assert serving.has_browser(environment, platform) is expected


def test_without_a_window_no_browser_is_opened(monkeypatch):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(serving.sys, "platform", "linux")
    assert serving.open_browser("http://localhost:1") is False


def test_only_this_machine_is_let_in_unless_asked_for_more():
    assert serving.names_let_in("127.0.0.1") == ("localhost", "127.0.0.1", "::1")
    assert serving.names_let_in("kitchen.example")[-1] == "kitchen.example"
    assert socket.gethostname() in serving.names_let_in("0.0.0.0")
    assert "*" not in serving.names_let_in("0.0.0.0")
