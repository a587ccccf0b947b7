import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest


@pytest.fixture(scope="session")
def worked() -> Callable[[str], tuple[dict[str, np.ndarray], dict[str, Any]]]:
    """A worked meta-analysis: (columns, outside results). R 4.2.2, metafor 3.8-1, clubSandwich 0.5.8, robumeta 2.0."""

    def load(name: str) -> tuple[dict[str, np.ndarray], dict[str, Any]]:
        path = Path(__file__).parent.parent / "reference" / f"meta_{name}.json"
        content = json.loads(path.read_text(encoding="utf-8"))
        return {k: np.array(v) for k, v in content.get("columns", {}).items()}, content["expected"]

    return load


@pytest.fixture
def bcg(worked):
    """BCG against tuberculosis, log risk ratios of 13 trials (Colditz et al. 1994, JAMA 271:698-702)."""
    columns, expected = worked("bcg")
    return columns["yi"], columns["vi"], columns, expected
