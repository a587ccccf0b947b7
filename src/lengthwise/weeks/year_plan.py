"""A client's year on one page: phases with their weeks and what each asks of every muscle."""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.week_lifts import named_muscles
from lengthwise.training.client import Client
from lengthwise.training.phases import PhaseSpan, phases, year
from lengthwise.training.weekly_sets import SetsBand, weekly_band


@dataclass(frozen=True)
class YearRow:
    """Some weeks with the band of weekly sets of each muscle."""

    PUBLIC: ClassVar = """
        phase=span.phase monday=span.monday last=span.last weeks=span.weeks words claim
        weekly_sets
    """
    span: PhaseSpan
    words: str
    claim: str
    bands: dict[str, SetsBand]

    @property
    def weekly_sets(self) -> dict[str, tuple[float, float]]:
        """Least and most of each muscle."""
        return {m: (b.low, b.high) for m, b in self.bands.items()}


@dataclass(frozen=True)
class Year:
    """A client's year."""

    person: str
    phases: tuple[YearRow, ...]


def year_of(client: Client, first: date) -> Year:
    """The year of a client from a day on; nothing where the screening says to see a clinician first.

    Raises:
        InputError: the screening says to see a clinician first.
    """
    starts_easy(client)
    rows = []
    for span in year(client, first):
        then = client.model_copy(update={"wishes": client.wishes.model_copy(update={"phase": span.phase})})
        rule = phases()[span.phase]
        rows.append(YearRow(span, rule.words, rule.claim, {m: weekly_band(then, m) for m in named_muscles(client)}))
    return Year(client.name, tuple(rows))
