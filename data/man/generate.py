# SPDX-License-Identifier: GPL-3.0-or-later
"""The manual page, from what the program says of itself, so that no command is missing.

usage: generate.py PROGRAM VERSION OUT"""
import os
import re
import subprocess
import sys

HEAD = r""".\" SPDX-License-Identifier: GPL-3.0-or-later
.TH DEWTIER 1 "" "Dewtier {version}" "User commands"
.SH NAME
dewtier \- forecast humidity, temperature and moving air in a plant enclosure
.SH SYNOPSIS
.B dewtier
.RI [ FILE "]..."
.br
.B dewtier
.I COMMAND
.RI [ OPTION "]... " WORD "]..."
.SH DESCRIPTION
Dewtier draws a shelved enclosure for cool-growing, humidity-loving plants to scale and forecasts
on each of its shelves what the air does there. Given files, or nothing, it opens its window; given
a command it answers on the terminal, needs no display, and with
.B \-\-json
answers for programs.
.PP
A forecast is a prediction with error, not a measurement. See
.B dewtier cautions
for what can hurt people, animals or things.
.SH COMMANDS
"""
FOOT = r""".SH EXIT STATUS
0: fine. 1: the answer is no, or the input is bad. 2: not understood.
.SH FILES
.TP
.I NAME.dewtier
a document: one enclosure, its room and all its variants, in one SQLite file. Its form, and the
JSON that says the same, are described in
.IR /usr/share/doc/dewtier/README.md .
.SH ENVIRONMENT
.TP
.B LANG, LANGUAGE, LC_ALL
the language of words.
.TP
.B LC_MEASUREMENT
the units of paper and of the window.
"""


def roff(text):
    """Plain text as roff takes it."""
    text = text.replace("\\", r"\e").replace("-", r"\-")
    return "\n".join((r"\&" + line) if line[:1] in ".'" else line for line in text.split("\n"))


def ask(program, *words):
    answer = subprocess.run([program, *words], capture_output=True, text=True, check=True,
                            env={**os.environ, "LC_ALL": "C", "LANGUAGE": ""})
    return answer.stdout


def command(program, name):
    lines = ask(program, name, "--help").rstrip().split("\n")
    usage = next(line for line in lines if line.strip().startswith("dewtier ")).strip()
    out = [".SS", roff(usage)]
    summary, options = [], []
    for line in lines[lines.index(next(x for x in lines if x.strip() == usage)) + 1:]:
        option = re.match(r"^  (-[^ ].*?)(?:  +(.*))?$", line)
        if option:
            options.append([option.group(1), option.group(2) or ""])
        elif line.startswith("   ") and options:
            options[-1][1] += " " + line.strip()
        elif line.strip() and not line.rstrip().endswith(":"):
            summary.append(line.strip())
    out.append(roff("\n".join(summary)))
    for word, tells in options:
        out += [".TP", ".B " + roff(word), roff(tells.strip())]
    return "\n".join(out) + "\n"


def main():
    program, version, path = sys.argv[1:]
    names = re.findall(r"^  dewtier ([a-z][a-z-]*)", ask(program, "--help"), re.M)
    with open(path, "w", encoding="utf-8") as page:
        page.write(HEAD.replace("{version}", version))
        for name in names:
            page.write(command(program, name))
        page.write(FOOT)


main()
