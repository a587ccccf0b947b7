"""The types that the pages' code is compiled against: one for every shape of the interface, each under a name of its own."""

import re
import runpy
from pathlib import Path

from lengthwise.web.app import create_app

WRITER = runpy.run_path(str(Path(__file__).parents[2] / "web" / "api_types.py"))


def test_every_shape_has_a_type_of_its_own():
    description = create_app().openapi()
    made = WRITER["types_of"](description)
    names = re.findall(r"^export type (\w+) = .+;$", made, re.MULTILINE)
    assert len(names) == len(set(names)) == len(description["components"]["schemas"])
    assert "unknown" not in made.partition("export type OrderOfLifts")[2].partition("\n")[0]


def test_schemas_are_written_as_types():
    written = WRITER["written"]
    assert written({"type": "array", "items": {"anyOf": [{"type": "number"}, {"type": "null"}]}}) == "(number | null)[]"
    assert written({"type": "array", "items": {"type": "integer"}, "minItems": 2, "maxItems": 2}) == "[number, number]"
    assert written({"type": "object", "additionalProperties": {"$ref": "#/components/schemas/Growth"}}) == "Record<string, Growth>"
    assert written({"enum": ["full", "long"]}) == '"full" | "long"'
    assert written({"type": "object", "properties": {"sets": {"type": "integer"}}}) == "{ sets?: number }"
