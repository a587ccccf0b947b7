"""A population on disk: a folder with a file for each body and, once a hundred bodies are done, one file for all of these.

    about.json            the question: seed, lifts, positions, and the state of Lengthwise that answers it
    people.parquet        who the people are: a row a body, a column a trait
    bodies/000123.parquet what lifts ask of one body
    hundreds/0001.parquet the same of bodies 100 to 199, by lift and body

Every file is written whole or not at all, so whatever stops the work costs at most the bodies that were under way.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

from lengthwise.errors import DataFileError, InputError
from lengthwise.files.whole_files import write_whole
from lengthwise.grading.study_names import code_hash
from lengthwise.populations.adults import draw
from lengthwise.populations.arrow import arrow
from lengthwise.populations.body_table import Wanted, joined, parquet, schema
from lengthwise.populations.traits import traits_of

TOGETHER = 100
"""Bodies of one file once all of them are done."""
GATHERING = 4
"""Hundreds that are put together at a time, each by one processor."""
_DRAWN = ("data/adults.toml", "adults.py", "body_table.py", "differing.py", "traits.py")


def begin(folder: Path, wanted: Wanted, people: int) -> None:
    """Make the folder of a population, or check that it holds the same question, and write who its people are.

    Raises:
        InputError: it holds another question, or cannot be written.
    """
    for part in ("bodies", "hundreds"):
        _made(folder / part)
    about, file = _about(wanted), folder / "about.json"
    if not file.exists():
        write_whole(file, json.dumps(about, indent=1))
    elif (found := _read_about(folder)) != about:
        other = [k for k in about if found.get(k) != about[k]]
        said = {k: found.get(k) for k in other if k not in ("lifts", "state", "adults")} or ", ".join(other)
        raise InputError(f"{folder} holds a different population ({said}); choose another folder", asked=str(folder))
    _write_people(folder, wanted.seed, people)


def _made(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError(f"{folder} cannot be made: {error}", asked=str(folder)) from None


def _about(wanted: Wanted) -> dict[str, Any]:
    """The question as plain values; `state` and `adults` change when what answers it changes."""
    lifts = {i: sha256(lift.model_dump_json(warnings=False).encode()).hexdigest()[:16] for i, lift in wanted.lifts}
    drawn = sha256()
    for name in _DRAWN:
        drawn.update(files("lengthwise.populations").joinpath(name).read_bytes())
    return {"seed": wanted.seed, "positions": wanted.n_pos, "lifts": lifts, "state": code_hash(), "adults": drawn.hexdigest()}


def _read_about(folder: Path) -> dict[str, Any]:
    try:
        found: dict[str, Any] = json.loads((folder / "about.json").read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise DataFileError(
            [f"{folder}: there is no population; make one with: lengthwise population make --to {folder}"], asked=str(folder)
        ) from None
    except (OSError, ValueError) as error:
        raise DataFileError([f"{folder / 'about.json'}: not a population's settings: {error}"], asked=str(folder)) from None
    return found


def lifts_of(folder: Path) -> tuple[str, ...]:
    """The lifts that a population was asked for, by id.

    Raises:
        DataFileError: the folder holds no population.
    """
    return tuple(_read_about(folder)["lifts"])


def seed_of(folder: Path) -> int:
    """The seed of a population."""
    return int(_read_about(folder)["seed"])


def _write_people(folder: Path, seed: int, people: int) -> None:
    """Who the people are; nobody who was there before goes."""
    known, file = 0, folder / "people.parquet"
    if file.exists():
        known = arrow().parquet.read_metadata(file).num_rows
    if people > known:
        rows = [{"body": n, **traits_of(draw(seed, n))} for n in range(people)]
        write_whole(file, parquet_of(rows))


def parquet_of(rows: Sequence[dict[str, Any]]) -> bytes:
    """Rows of plain values as the content of a Parquet file."""
    return parquet(arrow().Table.from_pylist(list(rows)))


def done(folder: Path) -> set[int]:
    """Places of the bodies that are kept."""
    single = {int(f.stem) for f in (folder / "bodies").glob("*.parquet")}
    return single.union(n for k in _hundreds(folder) for n in range(k * TOGETHER, (k + 1) * TOGETHER))


def _hundreds(folder: Path) -> set[int]:
    return {int(f.stem) for f in (folder / "hundreds").glob("*.parquet")}


@contextmanager
def keeping(folder: Path) -> Iterator[Callable[[int, bytes], None]]:
    """Keeps the file of the body at a place; beside it hundreds that are whole are put together, all of them by the end."""
    running = list[Future[None]]()

    def keep(number: int, content: bytes) -> None:
        write_whole(folder / "bodies" / f"{number:06d}.parquet", content)
        if all(file.exists() for file in _singles(folder, number // TOGETHER)):
            running.append(pool.submit(gather, folder, number // TOGETHER))

    with ThreadPoolExecutor(GATHERING) as pool:
        try:
            yield keep
            for hundred in running:
                hundred.result()
        finally:
            pool.shutdown(cancel_futures=True)


def gather(folder: Path, hundred: int) -> None:
    """Put the bodies of a hundred into one file, if all are there, and then remove theirs."""
    singles, whole = _singles(folder, hundred), folder / "hundreds" / f"{hundred:04d}.parquet"
    if not whole.exists():
        if not all(f.exists() for f in singles):
            return
        write_whole(whole, parquet(joined([arrow().parquet.read_table(singles, schema=schema())])))
    for file in singles:
        file.unlink(missing_ok=True)


def _singles(folder: Path, hundred: int) -> list[Path]:
    return [folder / "bodies" / f"{n:06d}.parquet" for n in range(hundred * TOGETHER, (hundred + 1) * TOGETHER)]


def tidy(folder: Path) -> None:
    """Finish what a stop left between putting a hundred together and removing its single files."""
    for hundred in {int(f.stem) // TOGETHER for f in (folder / "bodies").glob("*.parquet")}:
        gather(folder, hundred)


def facts(folder: Path, lifts: Iterable[str], heads: Iterable[str], columns: Sequence[str]) -> Any:
    """Some columns of the rows of some lifts and heads, with the rows of who cannot take them (head null).

    Raises:
        DataFileError: the folder holds no population. InputError: no body is done yet.
    """
    stored = sorted([*(folder / "hundreds").glob("*.parquet"), *(folder / "bodies").glob("*.parquet")])
    if not stored:
        raise InputError(f"no body in {folder} is finished yet; continue with population make", asked=str(folder))
    asked, pa = tuple(lifts), arrow()
    field = pa.compute.field
    mine = field("lift").isin(list(asked)) & (field("head").isin(list(heads)) | field("head").is_null())
    found = [_rows(file, asked, ["body", "lift", "head", *columns]).filter(mine) for file in stored]
    return pa.concat_tables(found).unify_dictionaries().combine_chunks()


def _rows(file: Path, lifts: Sequence[str], columns: Sequence[str]) -> Any:
    """Some columns of those row groups of a file that may hold some lifts: pyarrow's own filter does not skip by words."""
    source = arrow().parquet.ParquetFile(file)
    at = source.schema_arrow.get_field_index("lift")
    ends = [source.metadata.row_group(k).column(at).statistics for k in range(source.metadata.num_row_groups)]
    return source.read_row_groups(
        [k for k, e in enumerate(ends) if any(e.min <= lift <= e.max for lift in lifts)], columns=list(columns)
    )


def people(folder: Path) -> Any:
    """Who the people are: a row a body that is done, a column a trait."""
    table = arrow().parquet.read_table(folder / "people.parquet")
    there = done(folder)
    return table.filter(arrow().array([n in there for n in table["body"].to_pylist()]))
