# SPDX-License-Identifier: GPL-3.0-or-later
"""Turns the tables of data/ into C, so that a mistake in one stops the build and not the user.
Names that people see are marked for translation.

usage: generate.py OUT.c FILE.csv..."""
import csv
import os
import sys

# Columns whose cells are shown as words; gettext finds them in what is written here.
SHOWN = {("enclosures", "name"), ("covers", "name"), ("rooms", "room"), ("rooms", "climate"),
         ("plants", "group")}


READ = "read in the source"


def read(path):
    """The rows of a table, header first; ends the build with FILE:LINE for what is wrong."""
    def wrong(what):
        sys.exit(f"{path}:{lines.line_num}: {what}")

    rows = []
    with open(path, encoding="utf-8", newline="") as file:
        lines = csv.reader(file, strict=True)
        try:
            for row in lines:
                if rows and len(row) != len(rows[0]):
                    wrong(f"{len(row)} cells where the header has {len(rows[0])}")
                if any(ord(letter) < 32 for cell in row for letter in cell):
                    wrong("a control character in a cell")
                rows.append(row)
        except (csv.Error, UnicodeDecodeError) as error:
            wrong(error)
        if len(rows) < 2 or len(set(rows[0])) != len(rows[0]):
            wrong("there is no header with different names, or no row under it")
        for row in rows[1:]:
            if not row[rows[0].index("standing")]:
                wrong(f"{row[0]}: no word on what the figures are worth (standing)")
    return rows


def check_sources(path, rows, sources):
    """`sources`: rows by key. A figure that was read somewhere names a source that was read."""
    source, standing = rows[0].index("source"), rows[0].index("standing")
    for row in rows[1:]:
        keys = row[source].split(";")
        for key in keys:
            if key not in sources:
                sys.exit(f"{path}: {row[0]}: there is no source '{key}'")
        if READ in row[standing] and not any(sources[key]["standing"] == READ for key in keys):
            sys.exit(f"{path}: {row[0]}: {READ}, but in none of {row[source]}")


def literal(catalogue, column, cell):
    text = '"' + cell.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return f'NC_ ("catalogue", {text})' if (catalogue, column) in SHOWN else text


def main():
    out, *paths = sys.argv[1:]
    tables = {os.path.basename(path)[:-4]: (path, read(path)) for path in sorted(paths)}
    path, (head, *rows) = tables["sources"]
    sources = {row[0]: dict(zip(head, row)) for row in rows}
    for key, row in sources.items():
        if not row["reference"]:
            sys.exit(f"{path}: {key}: nothing by which a reader could find it (reference)")
    with open(out, "w", encoding="utf-8") as file:
        file.write('/* Made by generate.py from the tables of data/. */\n'
                   '#include "catalogue/catalogue-private.h"\n\n#include <glib/gi18n.h>\n')
        for name, (path, rows) in tables.items():
            if name != "sources":
                check_sources(path, rows, sources)
            file.write(f"\nstatic const char *const {name}_cells[] = {{\n")
            for row in rows[1:]:
                cells = (literal(name, column, cell) for column, cell in zip(rows[0], row))
                file.write("  " + ", ".join(cells) + ",\n")
            file.write(f"}};\nstatic const char *const {name}_columns[] = {{ "
                       + ", ".join(f'"{column}"' for column in rows[0]) + ", NULL };\n")
        file.write("\nconst DewCatalogue dew_catalogue_tables[] = {\n")
        for name, (_, rows) in tables.items():
            file.write(f'  {{ "{name}", {name}_columns, {name}_cells, '
                       f"{len(rows[0])}, {len(rows) - 1} }},\n")
        file.write("};\nconst char *const dew_catalogue_table_names[] = { "
                   + ", ".join(f'"{name}"' for name in tables) + ", NULL };\n")


main()
