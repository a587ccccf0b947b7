"""Pictures as files to be kept."""

from fastapi.responses import Response

from lengthwise.questions.answering.grading_pictures import Kind, drawn
from lengthwise.report.picture import Picture

TYPES = {
    "svg": "image/svg+xml", "png": "image/png", "pdf": "application/pdf", "zip": "application/zip", "csv": "text/csv", "json": "application/json",
    "ics": "text/calendar", "html": "text/html", "toml": "application/toml",
}  # fmt: skip


def picture_file(picture: Picture, kind: Kind, name: str) -> Response:
    """A picture as a file of a name, without its ending."""
    return kept_file(drawn(picture, kind), f"{name}.{kind}")


def kept_file(content: bytes, name: str) -> Response:
    """A file of a picture or paper that the browser keeps under its name, and may be asked for again."""
    found = saved_file(content, name)
    found.headers["cache-control"] = "private, no-cache"
    return found


def saved_file(content: bytes | str, name: str) -> Response:
    """A file that the browser saves under its name."""
    plain = name.encode("ascii", "replace").decode().replace("?", "_").replace('"', "_")
    headers = {"content-disposition": f'attachment; filename="{plain}"'}
    return Response(content, media_type=TYPES[name.rpartition(".")[2]], headers=headers)
