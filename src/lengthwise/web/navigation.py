"""The pages in the order in which they stand in the masthead."""

from dataclasses import dataclass


@dataclass(frozen=True)
class MenuEntry:
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


ENTRIES: tuple[MenuEntry, ...] = (
    MenuEntry(
        "choose",
        "Choose",
        "/choose",
        "Lifts for one muscle in order, how sure that order is, and why. Move a weight and watch the order follow.",
        "Pick a muscle.",
    ),
    MenuEntry(
        "lift",
        "Lift",
        "/lift",
        "One lift on this body: the figure moves, every head shows how long it is and how hard it pulls, and what fails first.",
        "Pick a lift, then drag a set-up slider.",
    ),
    MenuEntry(
        "side",
        "Side by side",
        "/side-by-side",
        "Two to four lifts on the same body, curve against curve, with what each head gains from which.",
        "Tick two lifts.",
    ),
    MenuEntry(
        "posture",
        "Posture",
        "/posture",
        "Move the joints and watch the length of every head: where it is long, where it is short, which way it pulls.",
        "Drag shoulder flexion.",
    ),
    MenuEntry(
        "evidence",
        "Evidence",
        "/evidence",
        "What the studies say for each claim behind the numbers, how sure that is, and what would change it.",
        "Open a claim, add a study of your own, or hold the model against published trials.",
    ),
    MenuEntry(
        "people",
        "People",
        "/people",
        "Whose records are kept. Pick somebody, and every page computes for that body.",
        "Add a client, or fill in the demo gym.",
    ),
    MenuEntry(
        "week",
        "Week",
        "/week",
        "The lifts of a week on its days, with loads that exist. Drag a lift to another day; minutes and conflicts are explained at once.",
        "Plan, look, change, keep; then print the sheet.",
    ),
    MenuEntry(
        "log",
        "Log",
        "/log",
        "Today's planned lifts with big buttons for load, repetitions and reserve, and the rest timer; works without a connection.",
        "Open it on the phone once, then take it to the gym.",
    ),
    MenuEntry(
        "progress",
        "Progress",
        "/progress",
        "Strength, size against measurement error, sets and pain from the log; proposals to accept or refuse one by one.",
        "Log some weeks, then look.",
    ),
)
