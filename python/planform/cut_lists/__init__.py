"""The cut list: materials, tables, its page, its plates in rows."""
