"""What programs are given keeps its keys: the interface's description and the commands' options and answers, held against a record.

After a change that is meant: `python tests/public_keys.py` writes the record anew; read the difference before keeping it.
"""

import pytest

from lengthwise.cli.commands import COMMANDS
from public_keys import INTERFACE, interface, misfits, options, recorded, shape_of


def test_the_interface_takes_and_answers_what_is_recorded():
    from lengthwise.web.app import create_app

    assert interface(create_app().openapi()) == INTERFACE.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_takes_the_options_that_are_recorded(name):
    known = {k: v["takes"] for k, v in recorded().items() if k.split()[0] == name}
    assert {k: sorted(v) for k, v in options(name).items()} == known


def test_a_key_that_is_renamed_gone_or_of_another_kind_is_found():
    shape = shape_of({"lift": "dip", "sets": [{"load_kg": 20.0, "note": ""}, {"load_kg": 1}], "heads": {"*": 0.5}})
    assert misfits({"lift": "dip", "sets": [], "heads": {"soleus": 1.0}}, shape) == []
    assert misfits({"name": "dip", "sets": [], "heads": {}}, shape) == [".lift: gone"]
    assert misfits({"lift": "dip", "sets": [{"load_kg": "20"}], "heads": {"soleus": "much"}}, shape) == [
        ".sets[].load_kg: found text; recorded number",
        ".heads.*: found text; recorded number",
    ]
