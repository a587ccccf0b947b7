"""What goes out under /api beside answers."""

from pydantic import BaseModel, ConfigDict


class Out(BaseModel):
    """An answer: nothing in it that is not described."""

    model_config = ConfigDict(extra="forbid")


class Progress(Out):
    """A question that is being computed: ask again, within 20 s; one that nobody asks for longer is dropped while it waits for its turn."""

    done: int
    total: int
