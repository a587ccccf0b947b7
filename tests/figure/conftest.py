import pytest
from drawn_lifts import COMMON


@pytest.fixture(params=COMMON)
def lift(request) -> str:
    return str(request.param)
