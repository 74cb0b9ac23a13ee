"""Writes one reference table: comment lines, a header, rows.

What a table holds is the business of the script that makes it; this file only
fixes the form, so that every table says how and when it was made.
"""

import csv
import datetime
import importlib.metadata
import pathlib
import platform

HERE = pathlib.Path(__file__).resolve().parent


def write(name, script, libraries, about, columns, rows):
    """Write `name` beside this file.

    `columns` maps each column to its meaning and unit. A float is written with
    twelve significant digits, far beyond any tolerance used against it.
    """
    versions = [f"{library} {importlib.metadata.version(library)}" for library in libraries]
    # All rows first: a script that fails leaves the table as it was.
    rows = list(rows)
    made_with = ", ".join([f"Python {platform.python_version()}", *versions])
    with open(HERE / name, "w", newline="") as file:
        for line in about.strip().splitlines():
            file.write(f"# {line}".rstrip() + "\n")
        file.write(f"# Made by {pathlib.Path(script).name} on {datetime.date.today()} with {made_with}.\n")
        for column, meaning in columns.items():
            file.write(f"# {column}: {meaning}\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        for row in rows:
            if len(row) != len(columns):
                raise ValueError(f"{name}: {len(row)} fields for {len(columns)} columns in {row}")
            writer.writerow([written(field) for field in row])


def written(field):
    """A field as text; a float in twelve significant digits."""
    return f"{field:.12g}" if isinstance(field, float) else str(field)
