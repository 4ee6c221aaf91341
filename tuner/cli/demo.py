"""Commands that serve the app: on the invented demo, or on one's own workspace."""

from __future__ import annotations

import argparse

from rich.text import Text

from tuner import services
from tuner.cli.documents import read_json
from tuner.cli.entry import DONE, REFUSED
from tuner.cli.output import Output, write_json
from tuner.cli.serving import open_browser, served_app, served_folder
from tuner.cli.session import Session, opened, workspace_url
from tuner.domain import NotAllowed


def run_demo(arguments: argparse.Namespace, output: Output) -> int:
    """Load the invented demo and serve the app."""
    with opened(arguments) as session:
        _keep_own_work_apart(session)
        loaded = services.load_demo(session.space, session.who)
        url = session.url
    loaded_facts = {"developments": loaded, "workspace": url}
    if arguments.no_serve:
        output.answer(
            loaded_facts,
            lambda: [Text(f"The demo's {loaded} invented developments are in {url}. `tuner status` lists them.")],
        )
        return DONE
    output.remark(f"The demo's {loaded} invented developments are in {url}.")
    return _serve(arguments, output, url, browser=arguments.open)


def run_open(arguments: argparse.Namespace, output: Output) -> int:
    """Serve the app on the workspace."""
    url = workspace_url(arguments.db)
    services.open_workspace(url).close()  # a workspace that can't be opened is told here, not inside the app
    return _serve(arguments, output, url, browser=not arguments.no_browser)


def _keep_own_work_apart(session: Session) -> None:
    """Refuse to mix the invented demo into a workspace that holds somebody's own developments.

    Raises
    ------
    NotAllowed
        If there are developments and none of them is of the demo.
    """
    dishes = {summary.dish for summary in services.list_developments(session.space, session.who, include_archived=True)}
    demo = read_json(str(served_folder() / "trials_demo" / "demo.json"))
    invented = {development["brief"]["dish"] for development in demo["developments"]}
    if dishes and not dishes & invented:
        raise NotAllowed(
            f"{session.url} holds {len(dishes)} developments of your own. The demo is invented and is kept apart from them. "
            "Give it a file of its own: tuner demo --db demo.sqlite"
        )


def _serve(arguments: argparse.Namespace, output: Output, url: str, *, browser: bool) -> int:
    """Serve until Ctrl-C, whenever it comes, or until the app ends by itself."""
    try:
        code = _served_until_it_ends(arguments, output, url, browser=browser)
    except KeyboardInterrupt:
        output.remark("Ended. Everything is kept.")
        return DONE
    output.remark(f"The app ended by itself (exit code {code}).")
    return REFUSED if code else DONE


def _served_until_it_ends(arguments: argparse.Namespace, output: Output, url: str, *, browser: bool) -> int:
    with served_app(db=url, host=arguments.host, first_port=arguments.port) as served:
        if output.as_json:
            write_json({"address": served.address, "address_elsewhere": served.address_elsewhere, "workspace": url})
        else:
            elsewhere = [Text(f"From other screens: {served.address_elsewhere}")] if served.address_elsewhere else []
            output.answer(None, lambda: [Text(f"The app is at {served.address}  (Ctrl-C ends it)"), *elsewhere])
        if browser and not open_browser(served.address):
            output.remark("No browser was found here; open the address on any screen that reaches this machine.")
        return served.process.wait()
