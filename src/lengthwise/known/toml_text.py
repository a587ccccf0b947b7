"""Tables as TOML text, so that what was kept can be read, changed and sent back as a file."""

from collections.abc import Mapping
from typing import Any

import tomli_w

from lengthwise.lifts.definition import Lift
from lengthwise.training.client import Client


def toml_of(table: Mapping[str, Any]) -> str:
    """A table as TOML; what has no value is left out, since TOML has no word for it."""
    return tomli_w.dumps(_plain(table))


def record_toml(client: Client) -> str:
    """A client's record as the file that would be read as the same record."""
    table = client.model_dump(exclude_defaults=True)
    table.pop("soreness", None)
    if client.sore_joints:
        words = {j: client.soreness.get(j, True) for j in client.sore_joints}
        table["sore_joints"] = {j: words[j] if most is None else most for j, most in client.sore_joints.items()}
    return toml_of(table)


def lift_toml(lift_id: str, lift: Lift) -> str:
    """A lift as the file that would be read as the same lift."""
    return toml_of({"lift": {lift_id: lift.model_dump(exclude_defaults=True)}})


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items() if v is not None}
    if isinstance(value, list | tuple):
        return [_plain(v) for v in value]
    return value
