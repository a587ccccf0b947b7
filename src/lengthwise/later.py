"""Libraries that are slow to load and often not needed: loaded when something of theirs is first asked for."""

from importlib import import_module
from typing import Any


class Later:
    """Stands for a module by name; whatever is asked of it is the module's own."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __getattr__(self, what: str) -> Any:
        found = getattr(import_module(self._name), what)
        setattr(self, what, found)  # the next time it is found without coming here
        return found


special: Any = Later("scipy.special")
"""A quarter of a second to load."""
