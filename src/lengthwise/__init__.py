"""Lengthwise: which lifts, how, how much and why, computed from a musculoskeletal model and the studies.

import lengthwise as lw

lw.rank("triceps", lw.Person(sex="woman", stature_m=1.66, mass_kg=62)).to_frame()
"""

from importlib import import_module
from typing import Any

WRITTEN = ("Answer", "Person", "add_studies", "pool", "study_effect")
"""What `lengthwise.asking` writes; the questions come from their folder, the types of all of it from `__init__.pyi`."""


def __getattr__(name: str) -> Any:
    """What is asked for, loaded when it is first named; `__all__` names everything."""
    if name == "__version__":
        from importlib.metadata import version

        return version("lengthwise")
    if name in WRITTEN:
        return getattr(import_module("lengthwise.asking"), name)
    if name == "__all__":
        return sorted({*WRITTEN, "__version__", *import_module("lengthwise.questions").says()})
    if not name.startswith("_") and name in import_module("lengthwise.questions").says():
        return import_module("lengthwise.asking").call_of(name)
    raise AttributeError(f"module 'lengthwise' has no attribute {name!r}; it has {', '.join(__getattr__('__all__'))}")


def __dir__() -> list[str]:
    return list(__getattr__("__all__"))
