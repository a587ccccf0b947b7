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
        "Lifts for one muscle, ranked, with the reason and how sure the order is. Move a weight and the order follows.",
        "Pick a muscle.",
    ),
    MenuEntry(
        "lift",
        "Lift",
        "/lift",
        "One lift on this body: a moving figure, how long each head gets and how hard it pulls, and what fails first.",
        "Pick a lift, then drag a set-up slider.",
    ),
    MenuEntry(
        "side",
        "Side by side",
        "/side-by-side",
        "Two to four lifts on the same body, curve against curve, and which head gains from which lift.",
        "Tick two lifts.",
    ),
    MenuEntry(
        "posture",
        "Posture",
        "/posture",
        "Move the joints and see each head: where it is long, where it is short, and which way it pulls.",
        "Drag shoulder flexion.",
    ),
    MenuEntry(
        "evidence",
        "Evidence",
        "/evidence",
        "What the studies say about each claim behind the numbers, how sure that is, and what would change it.",
        "Open a claim, add your own study, or test the model against published trials.",
    ),
    MenuEntry(
        "people",
        "People",
        "/people",
        "Your clients. Pick one and every page computes for that body.",
        "Add a client, or add the demo gym.",
    ),
    MenuEntry(
        "week",
        "Week",
        "/week",
        "A week of lifts, day by day, with available loads. Drag a lift to another day and see minutes and conflicts at once.",
        "Plan, adjust and save; then print the sheet.",
    ),
    MenuEntry(
        "log",
        "Log",
        "/log",
        "Today's planned lifts with big buttons for load, repetitions and reserve, and a rest timer. Works offline.",
        "Open it once on your phone, then take it to the gym.",
    ),
    MenuEntry(
        "progress",
        "Progress",
        "/progress",
        "Strength, size compared with measurement error, sets and pain from the log; suggestions to accept or refuse.",
        "Log a few weeks, then come back.",
    ),
)
