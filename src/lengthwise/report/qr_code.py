"""A text as a QR code (ISO/IEC 18004) for a phone's camera."""

import io

import segno


def qr_png(text: str) -> bytes:
    """The picture (PNG), five pixels a module."""
    picture = io.BytesIO()
    segno.make(text, error="m").save(picture, kind="png", scale=5)
    return picture.getvalue()
