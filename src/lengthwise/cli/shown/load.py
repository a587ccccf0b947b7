"""The load of a lift, as a coach says it."""

from lengthwise.cli.shared import out
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.guessed import two_held
from lengthwise.quantities import MassUnit, day, left, likely, planned_load, repetitions, seconds, tempo
from lengthwise.quantities import load as in_words
from lengthwise.questions.load import LoadAsk
from lengthwise.training.prescription import Prescription
from lengthwise.weeks.clients import methods_on


def show(found: Prescription, asked: LoadAsk) -> None:
    """The set with its warm-up, the next load, how to test a guess, cautions, and ways to save time."""
    client = asked.client.client
    _show_set(found, client.mass_unit)
    for m in () if found.gentle else methods_on(client, found.lift):
        out.print(f"Short of time, {m.name} (counts {m.counts}, in place of {m.instead_of}; {m.claim}): {m.how}")


def _show_set(p: Prescription, unit: MassUnit) -> None:
    gear = all_lifts().lifts[p.lift].gear
    load = planned_load(p.load_kg, gear, unit, p.guess, two_held(all_lifts().lifts[p.lift]))
    expected = f", about {p.expected} today" if p.expected is not None else ""
    if p.rests_until:
        out.print(f"[bold]{all_lifts().lifts[p.lift].name} rests until {day(p.rests_until)}.[/] Then:")
    out.print(
        f"[bold]{all_lifts().lifts[p.lift].name}[/], {p.range} range: [bold]{load}[/], {repetitions(*p.up_to, p.held)}{'' if p.held else ' repetitions'}{expected}, {left(p.reserve, p.gentle, p.held)}."
    )
    if p.likely_kg is not None:
        out.print(f"The right load is between {likely(*p.likely_kg, gear, unit)} in eight of ten cases (based on: {p.source}).")
    pace = "" if p.held else f" Tempo {tempo(p.tempo.lower_s, p.tempo.pause_s, p.tempo.lift_s)}."
    out.print(f"Rest {seconds(p.rest_s)}.{pace} {p.cue}")
    if p.warm_up:
        out.print("Warm-up: " + ", ".join(f"{w.repetitions} × {in_words(w.load_kg, gear, unit)}" for w in p.warm_up) + ".")
    if then := p.then(gear, unit):
        out.print(then)
    for note in p.notes:
        out.print(f"- {note}")
    for i, words in enumerate(p.first_session, 1):
        out.print(f"First session, {i}: {words}")
    for caution in p.cautions:
        out.print(f"[yellow]{caution}[/]")
    out.print("Based on: " + ", ".join(f"{what}: {claim}" for what, claim in p.claims) + ".", style="dim")
