"""For whom an order holds, in sentences."""

from lengthwise.cli.shared import out
from lengthwise.known.population_answers import NOTE, ForWhom, ask_sentences

MOST_EFFECTS = 6
"""So many traits are told in a terminal."""


def show(found: ForWhom) -> None:
    """How many, how sure, who cannot, and the strongest traits."""
    for sentence in ask_sentences(found)[: 3 + MOST_EFFECTS]:
        out.print(sentence)
    out.print(NOTE, style="dim")
