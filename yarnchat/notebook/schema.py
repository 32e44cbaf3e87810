"""The tables, as numbered steps: step n brings a file from version n to n + 1.

A step once released never changes. Before-images in the journal are JSON of whole rows: a step that
renames or drops a column has to rewrite them too; one that adds a column need not.
"""

from __future__ import annotations

APPLICATION_ID = 0x7961726E  # "yarn" in ASCII: SQLite's own mark of whose file it is

_FIRST = (
    """
    CREATE TABLE entry (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        kind TEXT NOT NULL CHECK (kind IN ('yarn', 'swatch', 'stash')),
        name TEXT NOT NULL,
        name_key TEXT NOT NULL,
        since TEXT NOT NULL,
        yarn_name TEXT,
        yarn_key TEXT,
        weight_class TEXT,
        class_as_said TEXT,
        length REAL, length_unit TEXT,
        mass REAL, mass_unit TEXT,
        other_length REAL, other_length_unit TEXT,
        other_mass REAL, other_mass_unit TEXT,
        per_skein INTEGER,
        gauge_stitches REAL, gauge_over REAL, gauge_over_unit TEXT,
        gauge_rows REAL, gauge_spread REAL, gauge_rows_spread REAL,
        needle TEXT, needle_system TEXT,
        wpi REAL,
        strands INTEGER,
        swatch_mass REAL, swatch_mass_unit TEXT, swatch_mass_step REAL,
        swatch_width REAL, swatch_width_unit TEXT,
        swatch_height REAL, swatch_height_unit TEXT,
        swatch_stitches REAL, swatch_rows REAL,
        skeins REAL, grams REAL,
        UNIQUE (name_key, kind)
    )
    """,
    "CREATE INDEX entry_kind ON entry (kind)",
    "CREATE INDEX entry_yarn ON entry (yarn_key, kind)",
    "CREATE TABLE setting (name TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL)",
    """
    CREATE TABLE change (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        made TEXT NOT NULL,
        sentence TEXT NOT NULL
    )
    """,
    """
    CREATE TABLE before_image (
        change_id INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE,
        place TEXT NOT NULL CHECK (place IN ('entry', 'setting')),
        row_key TEXT NOT NULL,
        image TEXT,
        PRIMARY KEY (change_id, place, row_key)
    ) WITHOUT ROWID
    """,
    f"PRAGMA application_id = {APPLICATION_ID}",
)

_PRICE_FIBRE_AND_SECOND_GAUGE = (
    "ALTER TABLE entry ADD COLUMN price REAL",
    "ALTER TABLE entry ADD COLUMN price_sign TEXT",
    "ALTER TABLE entry ADD COLUMN fibre TEXT",
    "ALTER TABLE entry ADD COLUMN gauge_other_over REAL",
    "ALTER TABLE entry ADD COLUMN gauge_other_over_unit TEXT",
    "ALTER TABLE entry ADD COLUMN other_gauge_stitches REAL",
    "ALTER TABLE entry ADD COLUMN other_gauge_over REAL",
    "ALTER TABLE entry ADD COLUMN other_gauge_over_unit TEXT",
    "ALTER TABLE entry ADD COLUMN other_gauge_rows REAL",
    "ALTER TABLE entry ADD COLUMN other_gauge_spread REAL",
    "ALTER TABLE entry ADD COLUMN other_gauge_rows_spread REAL",
    "ALTER TABLE entry ADD COLUMN other_gauge_other_over REAL",
    "ALTER TABLE entry ADD COLUMN other_gauge_other_over_unit TEXT",
    "ALTER TABLE entry ADD COLUMN other_needle TEXT",
    "ALTER TABLE entry ADD COLUMN other_needle_system TEXT",
)

STEPS: tuple[tuple[str, ...], ...] = (_FIRST, _PRICE_FIBRE_AND_SECOND_GAUGE)
VERSION = len(STEPS)
