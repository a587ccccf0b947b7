"""Lengthwise: which lifts, how, how much and why, computed from a musculoskeletal model and the studies.

import lengthwise as lw

lw.rank("triceps", lw.Person(sex="woman", stature_m=1.66, mass_kg=62)).to_frame()
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from lengthwise.asking import Answer, Person, Request, compare, pool, population, posture, profile, rank, week

__all__ = ["Answer", "Person", "Request", "__version__", "compare", "pool", "population", "posture", "profile", "rank", "week"]


def __getattr__(name: str) -> Any:
    """What is asked for, loaded when it is first named."""
    if name == "__version__":
        from importlib.metadata import version

        return version("lengthwise")
    if name in __all__:
        from importlib import import_module

        return getattr(import_module("lengthwise.asking"), name)
    raise AttributeError(f"module 'lengthwise' has no attribute {name!r}; it has {', '.join(__all__)}")


def __dir__() -> list[str]:
    return __all__
