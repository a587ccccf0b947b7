import numpy as np
import pypdfium2
import pytest


@pytest.fixture
def rng() -> np.random.Generator:
    return np.random.default_rng(20)


@pytest.fixture(scope="session")
def text_of():
    """The text of a PDF, page after page, as a function of its bytes."""

    def read(made: bytes) -> str:
        document = pypdfium2.PdfDocument(made)
        return "\n".join(document[i].get_textpage().get_text_bounded() for i in range(len(document)))

    return read
