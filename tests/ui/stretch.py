# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes a language out of the program's own words: every message about 40 % longer, its
vowels accented, in brackets. Formats, marks of keys and line ends stay. What is cut off in
it would be cut off in a language with long words; what is without accents is not
translatable.

usage: stretch.py ROOT BUILD FOLDER      writes FOLDER/LANGUAGE/LC_MESSAGES/dewtier.mo

Ends with an error when a source with words in it is missing in data/po/POTFILES."""
import ast
import os
import re
import subprocess
import sys

LANGUAGE = "qps"  # of those kept free for private use
GROWTH = 0.4
KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "ngettext:1,2"]
ACCENTED = str.maketrans("aeiouyAEIOUY", "áéíóúýÁÉÍÓÚÝ")
# A format with its flags and length, or %%.
FORMAT = re.compile(r"(%(?:\d+\$)?[-+ #0']*(?:\d+|\*)?(?:\.(?:\d+|\*))?"
                    r"(?:hh|h|ll|l|z|j|t|L)?[diouxXeEfFgGaAcsp%]|</?[a-z]+>)")
WORDS = re.compile(r"\b(?:N?C?_|ngettext) ?\(")


def longer(words, more):
    """Accented, and `more` letters longer: vowels are said twice."""
    out = ""
    for letter in words:
        accented = letter.translate(ACCENTED)
        out += accented
        if accented != letter and more > 0:
            out += accented.lower()
            more -= 1
    return out, more


def filling(length, may_break):
    """That many more letters, in words of ordinary length where there may be several."""
    return re.sub("(.{8})", r" \1", "~" * length) if may_break else "~" * length


def stretched(message):
    """Each line by itself: texts of several paragraphs are shown in several pieces."""
    return "\n".join(stretched_line(line) for line in message.split("\n"))


def stretched_line(message):
    core = message.strip()
    if not core:
        return message
    start = message.index(core)
    parts = FORMAT.split(core)
    more = round(GROWTH * sum(len(part) for part in parts[::2]))
    for i in range(0, len(parts), 2):
        parts[i], more = longer(parts[i], more)
    return (message[:start] + "[" + "".join(parts) + filling(max(0, more), " " in core)
            + "]" + message[start + len(core):])


def quoted(text):
    return '"' + (text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
                  .replace("\t", "\\t")) + '"'


def stretched_entry(entry):
    """An entry of the gathered words with its translation, or None for the header."""
    fields, name = {}, None
    for line in entry.splitlines():
        if line.startswith("#"):
            continue
        head, _, rest = line.partition('"')
        if head.strip():
            name = head.strip()
            fields[name] = ""
        fields[name] += ast.literal_eval('"' + rest)
    if not fields.get("msgid"):
        return None
    lines = [line for line in entry.splitlines() if line.startswith("#,")]
    for name in ("msgctxt", "msgid", "msgid_plural"):
        if name in fields:
            lines.append(f"{name} {quoted(fields[name])}")
    if "msgid_plural" in fields:
        lines.append(f"msgstr[0] {quoted(stretched(fields['msgid']))}")
        lines.append(f"msgstr[1] {quoted(stretched(fields['msgid_plural']))}")
    else:
        lines.append(f"msgstr {quoted(stretched(fields['msgid']))}")
    return "\n".join(lines)


def sources_with_words(root):
    for top in ("app", "core", "ui"):
        for folder, _, names in os.walk(os.path.join(root, top)):
            for name in names:
                path = os.path.join(folder, name)
                if name.endswith(".c") and WORDS.search(open(path, encoding="utf-8").read()):
                    yield os.path.relpath(path, root)


def main(root, build, folder):
    potfiles = os.path.join(root, "data/po/POTFILES")
    listed = set(open(potfiles, encoding="utf-8").read().split())
    missing = sorted(set(sources_with_words(root)) - listed)
    if missing:
        sys.exit("not in data/po/POTFILES: " + " ".join(missing))

    gathered = subprocess.run(
        ["xgettext", "--from-code=UTF-8", "--no-location", "--language=C", "--output=-",
         *["--keyword=" + keyword for keyword in KEYWORDS], "--directory=" + root,
         "--directory=" + build, "--files-from=" + potfiles],
        check=True, stdout=subprocess.PIPE, encoding="utf-8").stdout
    entries = [stretched_entry(entry) for entry in gathered.split("\n\n")]
    header = ('msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n'
              '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"')
    target = os.path.join(folder, LANGUAGE, "LC_MESSAGES")
    os.makedirs(target, exist_ok=True)
    # --check holds the formats of both sides against each other.
    subprocess.run(
        ["msgfmt", "--check-format", "--output-file=" + os.path.join(target, "dewtier.mo"), "-"],
        check=True, input="\n\n".join([header] + [entry for entry in entries if entry]) + "\n",
        encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
