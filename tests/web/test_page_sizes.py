"""How much a page sends before its figure and for it, and in which order; how quickly pages come is measured by bench/pages.py."""

from browsing import Open, Walk, settled

from lengthwise.web.assets import bundle

MOST_BYTES = 300_000
FIRST_POSITION = 750_000
"""Of the figure's script, the bones, and a lift's curves and first position together, as they are sent (own choice; 645,000 found)."""
NEEDED = ("/assets/lift-", "/assets/figure-", "/assets/curves-", "/api/bones", "/motion?", "/solids/first")
NAMED = ("link", "other")
"""Who asked, as browsers tell it, where the page itself named a file: Chromium says so of scripts with the second word."""


def test_pages_are_small_before_the_figure(look: Walk):
    for path in ("/", "/choose?muscle=tibialis", "/lift", "/lift/back_squat", "/posture", "/evidence"):
        page = look(path)
        settled(page)
        files = page.evaluate(
            "performance.getEntries().filter(e => e.decodedBodySize).map(e => [e.name, e.encodedBodySize || e.decodedBodySize])"
        )
        before = [(name, size) for name, size in files if "/assets/figure" not in name and "/api/" not in name]
        assert len(before) >= 3
        assert sum(size for _, size in before) < MOST_BYTES, path


def test_a_lift_asks_at_once_for_all_that_its_figure_needs(open_page: Open):
    """The page itself names what its script will ask, word for word, so that nothing waits for a script and nothing comes twice.

    Of a lift that no other test shows: all its positions are sent where somebody has asked for them before.
    """
    page = open_page("/lift/barbell_calf_raise", new=True)
    page.wait_for_selector("lw-figure[data-dressed=yes]")
    asked = page.evaluate("performance.getEntriesByType('resource').map((r) => [r.name, r.initiatorType, r.encodedBodySize])")
    for part in NEEDED:
        found = [(by, name) for name, by, _ in asked if part in name and ".css" not in name]
        assert len(found) == 1 and found[0][0] in NAMED, (part, found)
    sent = sum(size for name, _, size in asked if any(part in name for part in NEEDED))
    assert sent < FIRST_POSITION


def test_a_set_up_in_the_address_is_asked_by_the_page_alone(open_page: Open):
    """Sliders may round what an address says, so that nothing is asked ahead that the page then asks otherwise."""
    page = open_page("/lift/back_squat?setup=depth_deg%3D100")
    page.wait_for_selector("lw-figure[data-dressed=yes]")
    asked = page.evaluate("performance.getEntriesByType('resource').map((r) => r.name).filter((n) => n.includes('/motion?'))")
    assert len(asked) == 1 and "setup=" in asked[0]


def test_pages_that_may_never_draw_fetch_nothing_that_draws():
    ahead = bundle().ahead
    assert {page for page, files in ahead.items() if any("/figure-" in f for f in files)} == {"home", "lift", "posture"}
    assert all(len(set(files)) == len(files) >= 1 for files in ahead.values())
