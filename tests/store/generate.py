# SPDX-License-Identifier: GPL-3.0-or-later
"""Whether a mistake in a table of data/ stops the build with its file and line.

usage: generate.py GENERATOR      prints TAP"""
import os
import subprocess
import sys
import tempfile

SOURCES = b"key,reference,standing\nS1,A book,read in the source\nS3,Growers,common practice\n"
# RFC 4180, section 2: quotes, doubled quotes and commas in cells, CRLF, no end of the last line.
GOOD = b'name,source,standing\r\n"x, ""y""",S1,z\r\n,S1,z'
# What is wrong with a table, and what is said of it.
BAD = [
    (b"", "no header"),
    (b"name,name,source,standing\na,b,S1,z\n", "no header"),
    (b"name,source,standing\na,S1\n", "fans.csv:2: 2 cells where the header has 3"),
    (b'name,source,standing\n"a,S1,z\n', "fans.csv:2: unexpected end of data"),
    (b'name,source,standing\n"a"b,S1,z\n', "fans.csv:2: "),
    (b'name,source,standing\n"a\nb",S1,z\n', "a control character"),
    (b"name,source,standing\na,S1,\n", "fans.csv:2: a: no word on what the figures are worth"),
    (b"name,source,standing\na,S2,z\n", "fans.csv: a: there is no source 'S2'"),
    (b"name,source,standing\na,S3,read in the source\n", "read in the source, but in none of S3"),
    (b"name,source,standing\n\377,S1,z\n", "fans.csv:"),
]


def generate(fans, sources=SOURCES):
    with tempfile.TemporaryDirectory() as work:
        for name, text in (("fans.csv", fans), ("sources.csv", sources)):
            with open(os.path.join(work, name), "wb") as file:
                file.write(text)
        out = os.path.join(work, "tables.c")
        done = subprocess.run([sys.executable, sys.argv[1], out, os.path.join(work, "fans.csv"),
                               os.path.join(work, "sources.csv")],
                              text=True, capture_output=True, check=False)
        if done.returncode != 0:
            return None, done.stderr
        with open(out, encoding="utf-8") as file:
            return file.read(), ""


text, _ = generate(GOOD)
good = text is not None and '"x, \\"y\\"", "S1", "z",\n  "", "S1", "z",' in text
print(f"{'ok' if good else 'not ok'} 1 - a table as RFC 4180 has it")
for number, (table, message) in enumerate(BAD, 2):
    text, said = generate(table)
    good = text is None and message in said and "Traceback" not in said
    print(f"{'ok' if good else 'not ok'} {number} - {table!r} is refused")
    if not good:
        print(f"# '{message}' is not in: {said}")
_, said = generate(GOOD, b"key,reference,standing\nS1,,read in the source\n")
good = "S1: nothing by which a reader could find it" in said
print(f"{'ok' if good else 'not ok'} {len(BAD) + 2} - a source without a reference is refused")
print(f"1..{len(BAD) + 2}")
