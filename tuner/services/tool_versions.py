"""With what a proposal was computed: versions of the tool, of Python and of the libraries behind the numbers."""

from __future__ import annotations

import platform
from functools import cache
from importlib.metadata import version

from tuner import __version__

LIBRARIES = ("numpy", "scipy", "scikit-learn", "pydantic", "sqlalchemy")


@cache
def tool_versions() -> dict[str, str]:
    """Version of each, by name."""
    return {"tuner": __version__, "python": platform.python_version(), **{name: version(name) for name in LIBRARIES}}
