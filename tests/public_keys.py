"""The shape of what programs are given: its keys and kinds of value, as short text that is easy to compare."""

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path
from textwrap import fill
from typing import Any

from typer.core import TyperGroup

COMMANDS = Path(__file__).parent / "reference" / "command_keys.json"
INTERFACE = Path(__file__).parent / "reference" / "interface_keys.txt"
MAP = "*"
"""Stands for any name, where an answer has its keys from names of heads, lifts and the like."""
KINDS = {bool: "boolean", int: "number", float: "number", str: "text"}


def shape_of(value: Any) -> Any:
    """An answer's shape: keys with the shapes of what they hold, a list as one shape for all that is in it."""
    if isinstance(value, dict):
        return {k: shape_of(v) for k, v in value.items()}
    if isinstance(value, list):
        return [joined([shape_of(v) for v in value])]
    return "none" if value is None else KINDS[type(value)]


def joined(shapes: list[Any]) -> Any:
    """One shape for several: keys that some lack end in a question mark."""
    tables = [s for s in shapes if isinstance(s, dict)]
    if tables:
        names = {k.rstrip("?"): k for t in tables for k in t}
        each = {n: [t.get(n, t.get(f"{n}?")) for t in tables] for n in names}
        out = {}
        for name, found in each.items():
            lacking = any(f is None for f in found) or any(f"{name}?" in t for t in tables)
            out[f"{name}?" if lacking else name] = joined([f for f in found if f is not None])
        return out
    lists = [s for s in shapes if isinstance(s, list)]
    if lists:
        return [joined([s[0] for s in lists if s[0] is not None])]
    return "|".join(sorted({k for s in shapes if s for k in s.split("|")})) or None


def misfits(value: Any, shape: Any, at: str = "") -> list[str]:
    """Where an answer is not of a shape: keys that are gone or of another kind; more keys are no fault, nor is what was empty then."""
    if shape in (None, "none", {}):
        return []
    if isinstance(value, dict):
        return _misfits_of_table(value, shape, at)
    if isinstance(value, list):
        inside = shape[0] if isinstance(shape, list) else None
        return [] if isinstance(shape, list) and not value else [m for v in value for m in misfits(v, inside, f"{at}[]")]
    kind = "none" if value is None else KINDS[type(value)]
    fits = kind == "none" or (isinstance(shape, str) and kind in shape.split("|"))
    return [] if fits else [f"{at}: found {kind}; recorded {shape}"]


def _misfits_of_table(value: dict[str, Any], shape: Any, at: str) -> list[str]:
    if not isinstance(shape, dict):
        return [f"{at}: found a table; recorded {shape}"]
    if MAP in shape:
        return [m for v in value.values() for m in misfits(v, shape[MAP], f"{at}.*")]
    known = {k.rstrip("?"): s for k, s in shape.items()}
    gone = [f"{at}.{k}: gone" for k in shape if not k.endswith("?") and k not in value]
    return [*gone, *(m for k, v in value.items() if k in known for m in misfits(v, known[k], f"{at}.{k}"))]


@cache
def recorded() -> dict[str, Any]:
    """What each command takes and the shape of its answer for programs, by its words."""
    found: dict[str, Any] = json.loads(COMMANDS.read_text(encoding="utf-8"))
    return found


class Watched:
    """Stands for `json` where commands print: an answer becomes text once it is of the shape that is recorded for its command."""

    def __init__(self) -> None:
        self.name, self.dumps = "", self._dumps

    def follow(self, kind: Any) -> Callable[[Any, Any], Any]:
        """How commands of a kind are carried out, with their words kept in mind: `lengthwise log add` is `log add`."""
        carry_out = kind.invoke

        def invoke(command: Any, context: Any) -> Any:
            self.name = context.command_path.partition(" ")[2]
            return carry_out(command, context)

        return invoke

    def _dumps(self, answer: Any, **said: Any) -> str:
        found = misfits(answer, recorded().get(self.name, {}).get("answers"))
        assert not found, f"{self.name}: {found}"
        return json.dumps(answer, **said)


def options(name: str) -> dict[str, list[str]]:
    """What a command and those below it take: a word, words, options as written; what may be left out ends in a question mark."""
    from lengthwise.cli.commands import load

    return _options(name, load(name))


def _options(name: str, command: Any) -> dict[str, list[str]]:
    if isinstance(command, TyperGroup):
        return {k: v for n, own in command.commands.items() for k, v in _options(f"{name} {n}", own).items()}
    return {name: [f"{_written(p)}{'' if p.required else '?'}" for p in command.params]}


def _written(parameter: Any) -> str:
    if parameter.param_type_name == "argument":
        return "word" if parameter.nargs == 1 else "words"
    return "/".join([*parameter.opts, *parameter.secondary_opts])


def interface(description: dict[str, Any]) -> str:
    """Every operation of the interface for programs: what it takes and the keys of what it answers."""
    parts = description["components"]["schemas"]
    out = []
    for path, methods in sorted(description["paths"].items()):
        for method, own in sorted(methods.items()):
            out += [f"{method.upper()} {path}", *(fill(line, 100, initial_indent="  ", subsequent_indent="    ",
                    break_long_words=False, break_on_hyphens=False) for line in _lines(own, parts))]  # fmt: skip
    return "\n".join(out) + "\n"


def _lines(operation: dict[str, Any], parts: dict[str, Any]) -> list[str]:
    asks = [f"{p['name']}{'' if p.get('required') else '?'}:{_said(p['schema'], parts)}" for p in operation.get("parameters", ())]
    sent = operation.get("requestBody", {}).get("content", {})
    answers = {code: own.get("content", {}) for code, own in operation["responses"].items() if code[0] in "23"}
    return [
        *([f"asks {' '.join(asks)}"] if asks else []),
        *(f"sent {kind} {_said(own.get('schema', {}), parts)}" for kind, own in sent.items()),
        *(f"{code} {kind} {_said(c.get('schema', {}), parts)}" for code, own in answers.items() for kind, c in own.items()),
    ]


def _said(schema: dict[str, Any], parts: dict[str, Any]) -> str:
    """A schema in short: bounds in brackets, choices by name, tables with their keys."""
    if "$ref" in schema:
        return _said(parts[schema["$ref"].rpartition("/")[2]], parts)
    if "anyOf" in schema or "oneOf" in schema:
        return " | ".join(_said(s, parts) for s in schema.get("anyOf", schema.get("oneOf")))
    if "enum" in schema or "const" in schema:
        return f"({', '.join(sorted(str(v) for v in schema.get('enum', [schema.get('const')])))})"
    kind = schema.get("type", "any")
    if kind == "array":
        inside = schema["prefixItems"] if "prefixItems" in schema else [schema.get("items", {})]
        return f"[{' '.join(_said(s, parts) for s in inside)}]"
    if kind == "object":
        return _table(schema, parts)
    bounds = [str(schema.get(k, "")) for k in ("minimum", "maximum")]
    return f"{kind}({bounds[0]}..{bounds[1]})" if any(bounds) else kind


def _table(schema: dict[str, Any], parts: dict[str, Any]) -> str:
    more = schema.get("additionalProperties")
    keys = [
        f"{k}{'' if k in schema.get('required', ()) else '?'}:{_said(v, parts)}" for k, v in schema.get("properties", {}).items()
    ]
    keys += [f"*:{_said(more, parts)}"] if isinstance(more, dict) and more else []
    return "{" + " ".join(keys) + "}"


def write_record() -> None:
    """Write the record anew from what there is; the answers of commands stay as they are recorded."""
    from lengthwise.cli.commands import COMMANDS as every
    from lengthwise.web.app import create_app

    INTERFACE.write_text(interface(create_app().openapi()), encoding="utf-8")
    taken = {k: sorted(v) for name in every for k, v in options(name).items()}
    lines = (f"{json.dumps(k)}: {json.dumps({**recorded().get(k, {}), 'takes': v})}" for k, v in sorted(taken.items()))
    COMMANDS.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    write_record()
