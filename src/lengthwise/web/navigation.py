"""The pages in the order in which they stand in the masthead."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Entry:
    """A page in the masthead.

    Attributes:
        key: what a template sets as `here`. title: as it stands there. path: where it is.
        shows: what it shows, for the home page. needs: what to have before it helps.
    """

    key: str
    title: str
    path: str
    shows: str
    first: str


ENTRIES: tuple[Entry, ...] = (
    Entry(
        "choose",
        "Choose",
        "/choose",
        "Lifts for one muscle in order, how sure that order is, and why. Move a weight and watch the order follow.",
        "Pick a muscle.",
    ),
    Entry(
        "lift",
        "Lift",
        "/lift",
        "One lift on this body: the figure moves, every head shows how long it is and how hard it pulls, and what fails first.",
        "Pick a lift, then drag a set-up slider.",
    ),
    Entry(
        "side",
        "Side by side",
        "/side-by-side",
        "Two to four lifts on the same body, curve against curve, with what each head gains from which.",
        "Tick two lifts.",
    ),
    Entry(
        "posture",
        "Posture",
        "/posture",
        "Move the joints and watch the length of every head: where it is long, where it is short, which way it pulls.",
        "Drag shoulder flexion.",
    ),
    Entry(
        "evidence",
        "Evidence",
        "/evidence",
        "What the studies say for each claim behind the numbers, how sure that is, and what would change it.",
        "Open a claim, add a study of your own, or hold the model against published trials.",
    ),
    Entry(
        "people",
        "People",
        "/people",
        "Whose records are kept. Pick somebody, and every page computes for that body.",
        "Add somebody, or fill in the demo gym.",
    ),
    Entry(
        "week",
        "Week",
        "/week",
        "The lifts of a week on its days, with loads that exist. Drag a lift to another day; minutes and conflicts are explained at once.",
        "Plan, look, change, keep; then print the sheet.",
    ),
    Entry(
        "log",
        "Log",
        "/log",
        "Today's planned lifts with big buttons for load, repetitions and reserve, and the rest timer; works without a connection.",
        "Open it on the phone once, then take it to the gym.",
    ),
    Entry(
        "progress",
        "Progress",
        "/progress",
        "Strength, size against measurement error, sets and pain from the log; proposals to accept or refuse one by one.",
        "Log some weeks, then look.",
    ),
)
