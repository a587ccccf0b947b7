"""A muscle explained on paper, for a client or an audience: the explainer's pictures and sentences, typeset."""

from lengthwise.body.muscle_names import plain
from lengthwise.grading.long_half import LONG_HALVES
from lengthwise.grading.ranking import turn_sentence
from lengthwise.populations.order_words import adults_sentences
from lengthwise.report.grading_explainer import (
    TERMS,
    WIDE,
    Explained,
    best_lifts,
    caution_texts,
    does_sentence,
    long_postures,
    study_texts,
)
from lengthwise.report.typeset import Sheet


def muscle_sheet(found: Explained, person: str) -> Sheet:
    """The explainer of a muscle for one person (in words)."""
    pictures = found.pictures[WIDE]
    drawn = [pictures[0].close_svg, *(p.svg() for p in pictures[1:])]
    shown = {p.name: f"{p.name}.svg" for p in pictures}
    content = {
        "title": f"{plain(found.ranking.target.name).capitalize()}, explained",
        "who": f"For {person}.",
        "does": does_sentence(found),
        "long": long_postures(found),
        "lifts": [{"name": name, "why": why, "how": how} for name, why, how in best_lifts(found)],
        "halves": {"why": LONG_HALVES, "offers": [half.sentence for half in found.ranking.long_halves]},
        "turn": " ".join([turn_sentence(found.ranking), *adults_sentences(found.ranking)]),
        "studies": [{"head": head, "text": text, "note": note} for head, text, note in study_texts(found)],
        "cautions": caution_texts(found),
        "words": [{"term": term, "means": means} for term, means in TERMS.items()],
        "pictures": {name: {"file": file, "alt": p.sentence} for (name, file), p in zip(shown.items(), pictures, strict=True)},
    }
    return Sheet(
        found.ranking.target.name,
        "muscle.typ",
        content,
        {f"{p.name}.svg": svg.encode() for p, svg in zip(pictures, drawn, strict=True)},
    )
