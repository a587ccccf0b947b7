"""Bring a store's tables to the newest version, one writer at a time."""

from importlib.resources import files

from alembic import command
from alembic.config import Config
from sqlalchemy import Engine, text

LOCK = 7_163_001
"""Number of the PostgreSQL advisory lock that migrations hold."""


def configuration() -> Config:
    """Where the migrations lie; they come with the package."""
    config = Config()
    config.set_main_option("script_location", str(files("lengthwise.storage").joinpath("migrations")))
    return config


def migrate(engine: Engine) -> None:
    """Run every migration that the store has not had; all of them or none."""
    config = configuration()
    with engine.connect().execution_options(writing=True) as db, db.begin():
        if engine.dialect.name == "postgresql":
            db.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": LOCK})
        config.attributes["connection"] = db
        command.upgrade(config, "head")
