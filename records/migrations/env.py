"""Alembic's way in: the register is already open and a transaction has begun (``records.upgrade``)."""

from __future__ import annotations

from alembic import context

context.configure(connection=context.config.attributes["connection"], transactional_ddl=True)
context.run_migrations()
