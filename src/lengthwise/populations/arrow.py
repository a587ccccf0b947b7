"""The one way to pyarrow, which an extra brings: tables by column, and Parquet."""

from typing import Any

from lengthwise.later import extra_package


def arrow() -> Any:
    """The package pyarrow.

    Raises:
        InputError: it is not installed.
    """
    found = extra_package("pyarrow", "populations need pyarrow", "population")
    import pyarrow.compute
    import pyarrow.parquet  # noqa: F401  both are parts of it from then on

    return found
