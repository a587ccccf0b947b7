"""Libraries that are slow to load and often not needed: loaded when something of theirs is first asked for."""

from importlib import import_module
from typing import Any

from lengthwise.errors import InputError


def extra_package(name: str, need: str, extra: str, more: str = "") -> Any:
    """A package that one of the extras brings; `need` says what for, and `more` how else to install it.

    Raises:
        InputError: it is not installed.
    """
    try:
        return import_module(name)
    except ImportError:
        install = f"pip install 'lengthwise[{extra}]'"
        raise InputError(f"{need}, which is not installed: {install}{more}", asked=extra, allowed=[install]) from None


class Later:
    """Stands for a module by name; whatever is asked of it is the module's own, and looked up once."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __getattr__(self, what: str) -> Any:
        found = getattr(import_module(self._name), what)
        setattr(self, what, found)
        return found


class LaterCall:
    """Stands for one class of a module, to be called or written in front of a name."""

    def __init__(self, module: str, name: str) -> None:
        self._module, self._name = module, name

    def __call__(self, *given: Any, **named: Any) -> Any:
        """What the class itself makes."""
        return getattr(import_module(self._module), self._name)(*given, **named)


special: Any = Later("scipy.special")
"""A quarter of a second to load."""
