import gc
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from argon2 import PasswordHasher
from hypothesis import HealthCheck, settings
from typer.core import TyperCommand, TyperGroup

from kept_gym import filled_gym, folder_of_the_run, share_computed
from lengthwise.cli import SELDOM
from lengthwise.storage import passwords
from pictures import PICTURES
from public_keys import Watched

gc.set_threshold(*SELDOM)
settings.register_profile("any machine", deadline=None, suppress_health_check=[HealthCheck.too_slow])  # no clock decides
settings.load_profile("any machine")
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # else each program that a test starts compiles all sources anew
sys.dont_write_bytecode = False
LEAST_MARGIN_MM = 6.0
"""What usual printers leave white at an edge at most (common practice, no source)."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What needs a browser first: one worker then keeps it and its servers, while another does all else and helps in the end."""
    items.sort(key=lambda item: "browser" not in getattr(item, "fixturenames", ()))


def pytest_collection_finish() -> None:
    """What was loaded for all tests stays: no search for garbage looks through it again, pytest's own five at the end included."""
    gc.freeze()


@pytest.fixture
def rng() -> np.random.Generator:
    return np.random.default_rng(20)


def _draw(document: pypdfium2.PdfDocument, name: str) -> None:
    """A page is not empty and leaves a printer's margins white; each is kept as a picture where a folder for pictures is given."""
    for i in range(len(document)):
        picture = document[i].render(scale=1.5).to_pil()
        if PICTURES:
            picture.save(Path(PICTURES) / f"paper_{name}_{i + 1}.png")
        rows, columns = np.nonzero(np.asarray(picture.convert("L")) < 200)
        edge = LEAST_MARGIN_MM / 25.4 * 72 * 1.5
        assert len(rows), f"page {i + 1} is empty"
        assert (
            min(rows.min(), columns.min()) >= edge and rows.max() <= picture.height - edge and columns.max() <= picture.width - edge
        )


@pytest.fixture
def text_of(request):
    """The text of a PDF, page after page, as a function of its bytes; its pages are drawn as well."""

    def read(made: bytes) -> str:
        document = pypdfium2.PdfDocument(made)
        _draw(document, request.node.name.removeprefix("test_").split("[")[0])
        return "\n".join(document[i].get_textpage().get_text_bounded() for i in range(len(document)))

    return read


@pytest.fixture(scope="session", autouse=True)
def _answers_keep_their_keys():
    """Every answer that a test has a command print for programs is held against its record."""
    from lengthwise.cli import shared

    watched = Watched()
    with pytest.MonkeyPatch.context() as patch:
        for kind in (TyperCommand, TyperGroup):
            patch.setattr(kind, "invoke", watched.follow(kind))
        patch.setattr(shared, "json", watched)
        yield


@pytest.fixture(scope="session", autouse=True)
def slow_hasher() -> Iterator[PasswordHasher]:
    """How the program hashes passwords; what tests keep is hashed quickly instead."""
    with pytest.MonkeyPatch.context() as patch:
        slow = passwords.HASHER
        patch.setattr(passwords, "HASHER", PasswordHasher(time_cost=1, memory_cost=64, parallelism=1))
        passwords._of_nobody.cache_clear()
        yield slow


@pytest.fixture(scope="session")
def computed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where tests that share what they compute keep it."""
    return folder_of_the_run(tmp_path_factory) / "computed"


@pytest.fixture(scope="session", autouse=True)
def _nobodys_folder(tmp_path_factory: pytest.TempPathFactory, computed: Path) -> Iterator[None]:
    """Tests that need no folder of their own find what others computed, and neither read nor fill that of whoever runs them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("nobody"), computed)))
        patch.delenv("LENGTHWISE_DATABASE", raising=False)
        yield


@pytest.fixture
def own_folder(tmp_path: Path, computed: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder of a test's own, in use; what is computed of bodies is found there where others left it."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path, computed)))
    return tmp_path


@pytest.fixture(scope="session")
def demo_gym(tmp_path_factory: pytest.TempPathFactory, computed: Path) -> Path:
    """Data with the demo gym, to be copied and never changed."""
    return filled_gym(folder_of_the_run(tmp_path_factory), computed)
