"""Whether studies name heads of the body and lifts of the library, so that what is stored can be learned from."""

from collections.abc import Iterable, Iterator

from lengthwise.body import anatomy
from lengthwise.errors import InputError, nearest
from lengthwise.evidence.study import Study
from lengthwise.growth.programme import programme
from lengthwise.known.lifts import all_lifts


def strange_names(studies: Iterable[Study]) -> tuple[str, ...]:
    """A fault for every head that the body does not have or that only one of two compared arms names, and every lift that is not known."""
    heads, lifts = anatomy.heads(), tuple(all_lifts().lifts)
    return tuple(f for s in studies for f in (*_strange_heads(s, heads), *_other_heads(s), *_strange_lifts(s, lifts)))


def _strange_heads(study: Study, heads: tuple[str, ...]) -> Iterator[str]:
    for name in dict.fromkeys(h for o in study.outcomes for h in o.heads if h not in heads):
        yield f"study {study.id}, heads: the body has no {name!r}; allowed such as {_near(name, heads)}"


def _other_heads(study: Study) -> Iterator[str]:
    for c in study.contrasts:
        pair = [o for arm in (c.arm, c.versus) if (o := study.outcome(arm, c.muscle, c.site))]
        if len({o.heads for o in pair}) > 1:
            told = " and ".join("; ".join(o.heads) or "none" for o in pair)
            yield f"study {study.id}, heads: {c.arm!r} and {c.versus!r} name different heads for {c.muscle!r}: {told}"


def _strange_lifts(study: Study, lifts: tuple[str, ...]) -> Iterator[str]:
    for arm in study.arms:
        try:
            done = programme(arm.done)
        except InputError as error:
            yield f"study {study.id}, arm {arm.name!r}, done: {error}"
            continue
        for name in dict.fromkeys(d.lift for d in done if d.lift not in lifts):
            yield f"study {study.id}, arm {arm.name!r}, done: the library has no lift {name!r}; allowed such as {_near(name, lifts)}"


def _near(name: str, known: tuple[str, ...]) -> str:
    """Names like one; else those that begin as it does, or the first ones."""
    alike = nearest(name, known) or [k for k in known if k.startswith(name[:4])]
    return ", ".join((alike or list(known))[:5])
