"""Every template is one that the engine takes; a fault in one shows only when its part is asked for."""

import pytest

from lengthwise.web.rendering import environment


@pytest.mark.parametrize("name", environment().list_templates())
def test_a_template_is_well_formed(name: str):
    assert environment().get_template(name).name == name
