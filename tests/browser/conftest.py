from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright import sync_api as playwright_api

from tests.browser.driving import Scheme, Size, chromium_path, go, launched, new_context
from tests.browser.serving import served
from tuner import services

Opener = Callable[..., "playwright_api.Page"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    missing = pytest.mark.skip(reason="no Chromium on this machine (looked for chromium, chromium-browser, google-chrome)")
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if chromium_path() is None:
                item.add_marker(missing)


@pytest.fixture(scope="session")
def store_url(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A store that holds the demo."""
    url = f"sqlite:///{tmp_path_factory.mktemp('browser') / 'demo.sqlite'}"
    space = services.open_workspace(url)
    services.load_demo(space, services.Actor("R. Osei"))
    space.close()
    return url


@pytest.fixture(scope="session")
def address(store_url: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The app, served on that store."""
    with served(store_url, tmp_path_factory.mktemp("served") / "app.log") as found:
        yield found


@pytest.fixture(scope="session")
def browser() -> Iterator[playwright_api.Browser]:
    with playwright_api.sync_playwright() as playwright:
        playwright_api.expect.set_options(timeout=30_000)
        found = launched(playwright)
        yield found
        found.close()


class Watch:
    """What a page did that no page may do: requests that leave the host, errors in its console."""

    def __init__(self, page: playwright_api.Page, address: str) -> None:
        self.outside: list[str] = []
        self.errors: list[str] = []
        own = (address, address.replace("http", "ws", 1), "data:", "blob:")
        page.on("request", lambda request: None if request.url.startswith(own) else self.outside.append(request.url))
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("console", self._said)

    def _said(self, message: playwright_api.ConsoleMessage) -> None:
        where = message.location.get("url", "")
        # After a deep link the front end looks for its parts below the page first: a 404 that Streamlit expects.
        if message.type == "error" and "/_stcore/" not in where:
            self.errors.append(f"{message.text} ({where})")


@pytest.fixture
def open_page(browser: playwright_api.Browser, address: str) -> Iterator[Opener]:
    """Opens a screen for a size and theme; in the end no request may have left the host and no script may have failed."""
    contexts, watches = [], []

    def opener(path: str = "", *, size: Size = "desk", scheme: Scheme = "light") -> playwright_api.Page:
        context = new_context(browser, size, scheme)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(30_000)
        watches.append(Watch(page, address))
        go(page, address, path)
        return page

    yield opener
    for context in contexts:
        context.close()
    assert [url for watch in watches for url in watch.outside] == []
    assert [error for watch in watches for error in watch.errors] == []
