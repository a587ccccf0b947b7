"""Figures are drawn one at a time."""

from threading import Lock

drawing = Lock()
