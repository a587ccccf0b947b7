"""Writes the types of `import lengthwise` from the questions, so that an editor completes them and a checker knows them.

python docs/stubs.py    (after a question was added or changed; a test holds the file against what there is)
"""

from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

import lengthwise
from lengthwise import questions
from lengthwise.asking import subjects_of
from lengthwise.questions.ask import Question

WHOM = {"client": "client: Whom", "person": "person: Who = None"}
FILE = Path(lengthwise.__file__).with_suffix(".pyi")
HEAD = '''"""Made by docs/stubs.py from the questions; not to be edited."""

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Literal

'''


def stub() -> str:
    """The whole file."""
    names = sorted(set(questions.says()) - set(lengthwise.WRITTEN))
    kinds = sorted({_place(questions.named(n).kind) for n in names})
    own = sorted(n for n in lengthwise.WRITTEN if n != "Person")
    imports = [
        "from lengthwise.records.whose import Whom",
        f"from lengthwise.asking import Who, {', '.join(f'{n} as {n}' for n in own)}",
        "from lengthwise.body.person import Person as Person",
        *(f"from {module} import {name} as {_alias(module, name)}" for module, name in kinds),
        "from lengthwise.questions.ask import Tell",
    ]
    last = ["__version__: str", "__all__: list[str]", "WRITTEN: tuple[str, ...]"]
    return HEAD + "\n".join([*sorted(imports), "", *last, "", *map(_function, names)])


def _place(kind: type) -> tuple[str, str]:
    return kind.__module__, kind.__name__


def _alias(module: str, name: str) -> str:
    return f"_{module.rpartition('.')[2]}_{name}"


def _function(name: str) -> str:
    question: Question[Any] = questions.named(name)
    said = {n: _argument(n, f) for n, f, said in question.fields() if not said.inside} | WHOM
    first = subjects_of(question)
    options = [words for n, words in said.items() if n not in {*first, *WHOM}]
    arguments = ", ".join([*(said[n] for n in first), "*", *options, "tell: Tell = ..."])
    answer = f"Answer[{_alias(*_place(question.kind))}]"
    return f'def {name}({arguments}) -> {answer}:\n    """{question.words}"""\n'


def _argument(name: str, field: FieldInfo) -> str:
    return f"{name}: {typed(field.annotation)}" + ("" if field.is_required() else " = ...")


def typed(kind: Any) -> str:
    """A type as it may be given: any list for a tuple, without what checks it."""
    origin, inside = get_origin(kind), get_args(kind)
    if origin is None:
        return "None" if kind is type(None) else kind.__name__
    if origin is Literal:
        return f"Literal[{', '.join(map(repr, inside))}]"
    if hasattr(kind, "__metadata__"):
        return typed(inside[0])
    if origin is tuple and Ellipsis in inside:
        return f"Iterable[{typed(inside[0])}]"
    if origin is tuple:
        return f"tuple[{', '.join(map(typed, inside))}]"
    if origin is Union or origin.__name__ == "UnionType":
        return " | ".join(map(typed, inside))
    return f"Mapping[{', '.join(map(typed, inside))}]"


if __name__ == "__main__":
    FILE.write_text(stub(), encoding="utf-8")
