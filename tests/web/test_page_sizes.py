"""How much a page sends before its figure; how quickly pages come is measured by bench/pages.py."""

from browsing import Walk, settled

MOST_BYTES = 300_000


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
