"""How far the scores on trials left out hang on the priors: every prior's standard deviation halved, doubled and trebled.

    python validation/growth_priors.py          half a minute of processor time

Prints log score, lead over no difference and over the best simple rule, coverage of 90 % intervals, and posterior means.
"""

from unittest.mock import patch

from lengthwise.evidence.claims import starter_library
from lengthwise.growth import fit
from lengthwise.growth.design import Trial
from lengthwise.growth.law import NAMES, PRIOR_SD
from lengthwise.growth.likelihood import Data
from lengthwise.growth.rivals import RIVALS
from lengthwise.growth.scores import gain, learned_without, left_out, score
from lengthwise.known.trial_answers import learned

TIMES = (0.5, 1.0, 2.0, 3.0)


def told(trials: tuple[Trial, ...], times: float) -> str:
    """The scores with priors so many times as wide."""
    with patch.object(fit, "PRIOR_SD", times * PRIOR_SD):
        posterior = fit.fitted(Data(trials))
        compared = left_out(trials, learned_without(trials, posterior))
    lead = {name: gain(compared, name)[0] for name in RIVALS}
    own = score(compared, "model")
    means = ", ".join(f"{name} {mean:.2f}" for name, mean in zip(NAMES, posterior.mean, strict=True))
    return (
        f"{times:g} × as wide: log score {own.log_score:.1f}, ahead of none by {lead['no_difference']:.1f}, of the best rule by "
        f"{min(lead.values()):.1f}; 90 % intervals hold {own.coverage90:.1%}; {means}"
    )


if __name__ == "__main__":
    known = learned(starter_library().studies)[0]
    for times in TIMES:
        print(told(known, times), flush=True)
