"""The screens with the addresses they have in the demo."""

from __future__ import annotations

from tuner import services
from tuner.services import DevelopmentSummary


def demo(store_url: str) -> dict[str, DevelopmentSummary]:
    """The developments of a store by the first word of their dish."""
    space = services.open_workspace(store_url)
    try:
        found = services.list_developments(space, services.Actor("R. Osei"))
    finally:
        space.close()
    return {one.dish.split()[0].lower(): one for one in found}


def addresses(store_url: str) -> dict[str, str]:
    """Every screen by its name, on the development that shows the most of it."""
    known = demo(store_url)
    on_its_way, proven, stalled = known["lamb"].id, known["breaded"].id, known["breakfast"].id
    return {
        "who-waits": "",
        "development": f"development?development={on_its_way}",
        "development-proven": f"development?development={proven}",
        "development-stalled": f"development?development={stalled}",
        "next-cook": f"next-cook?development={on_its_way}",
        "log": f"log?development={on_its_way}",
        "brief": f"brief?development={on_its_way}",
        "brief-new": "brief?new=yes",
        "ovens": "ovens",
        "import": f"import?development={on_its_way}",
    }
