"""What a form sent, where its fields are known only when it comes."""

from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import FormData


async def sent(request: Request) -> FormData:
    """Every field of a form that was sent."""
    return await request.form(max_fields=2000)


Sent = Annotated[FormData, Depends(sent)]
