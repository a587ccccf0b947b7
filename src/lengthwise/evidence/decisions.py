"""What rests on a claim: orders of lifts and numbers of a week that would come out otherwise without what it feeds."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Annotated

from pydantic import ConfigDict, Field

from lengthwise.errors import DataFileError
from lengthwise.evidence.claims import Claim
from lengthwise.evidence.study import Exact, Name, Text

Count = Annotated[int, Field(ge=0)]


class Learned(Exact):
    """A coefficient of the law of growth as trials taught it: mean, standard deviation, and of how many trials."""

    mean: float
    sd: Annotated[float, Field(gt=0)]
    trials: Annotated[int, Field(ge=1)]


class DecisionLever(Exact):
    """Something of the product that claims move (data/decisions.toml, made by validation/decisions.py).

    Attributes:
        feeds: names in claims that move it. claims: claims that move this alone, whatever they feed.
        orders: pairs of lifts, of the first ten for each muscle, that change places without it.
        week: numbers of a usual week that it sets. counted: how, in words. learned: what trials taught of it, where they did.
    """

    model_config = ConfigDict(strict=False, extra="forbid", frozen=True)  # TOML has lists, no tuples

    feeds: tuple[Name, ...] = ()
    claims: tuple[Name, ...] = ()
    orders: Count = 0
    week: Count = 0
    counted: Text
    learned: Learned | None = None


@dataclass(frozen=True)
class Resting:
    """Decisions that rest on a claim: pairs of lifts in their order, and numbers of a week. learned: see `Lever`."""

    orders: int = 0
    week: int = 0
    learned: Learned | None = None

    @property
    def decisions(self) -> int:
        """Both together."""
        return self.orders + self.week


@cache
def levers() -> Mapping[str, DecisionLever]:
    """Everything that claims move, by name.

    Raises:
        DataFileError: the package's file is damaged.
    """
    text = files("lengthwise.evidence").joinpath("data", "decisions.toml").read_text(encoding="utf-8")
    try:
        return {k: DecisionLever.model_validate(v) for k, v in tomllib.loads(text)["lever"].items()}
    except (KeyError, ValueError) as error:
        raise DataFileError([f"decisions.toml: {error}"]) from error


def resting_on(claim: Claim) -> Resting:
    """What rests on a claim; nothing where no lever has a name that it feeds."""
    own = [x for x in levers().values() if claim.id in x.claims]
    some = own or [x for x in levers().values() if set(x.feeds) & set(claim.feeds)]
    learned = next((x.learned for x in some if x.learned), None)
    return Resting(sum(x.orders for x in some), sum(x.week for x in some), learned)
