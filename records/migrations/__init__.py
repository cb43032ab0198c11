"""How a register becomes one of the present version: one module a version in ``versions``, run by Alembic."""
