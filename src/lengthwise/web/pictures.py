"""Pictures as files to be kept."""

from fastapi.responses import Response

from lengthwise.actions.grading_pictures import Kind, drawn
from lengthwise.report.picture import Picture

TYPES = {"svg": "image/svg+xml", "png": "image/png", "pdf": "application/pdf", "zip": "application/zip"}


def picture_file(picture: Picture, kind: Kind, name: str) -> Response:
    """A picture as a file of a name, without its ending."""
    return kept_file(drawn(picture, kind), f"{name}.{kind}")


def kept_file(content: bytes, name: str) -> Response:
    """A file that the browser keeps under its name."""
    kind = TYPES[name.rpartition(".")[2]]
    headers = {"content-disposition": f'attachment; filename="{name}"', "cache-control": "private, no-cache"}
    return Response(content, media_type=kind, headers=headers)
