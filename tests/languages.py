# SPDX-License-Identifier: GPL-3.0-or-later
"""Whether each language of data/po is whole, measured by the words that the sources have
now. Gathers them anew with xgettext, so that a word without a translation is found the day
it comes in.

usage: languages.py ROOT [BUILD]      prints TAP"""
import os
import re
import subprocess
import sys
import tempfile

KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "ngettext:1,2"]
# As GLib marks them: a text in N_() may go to a format later on.
FLAGS = ["N_:1:pass-c-format", "NC_:2:pass-c-format", "C_:2:pass-c-format",
         "g_strdup_printf:1:c-format", "g_string_append_printf:2:c-format",
         "g_string_printf:2:c-format", "g_set_error:4:c-format"]
# Made when the program is built; its words are names in the tables of data/.
GENERATED = "core/catalogue/tables.c"
WORDS = re.compile(r"\b(?:N?C?_|ngettext) ?\(")
MNEMONIC = re.compile(r"_\w")


def run(*command):
    return subprocess.run(command, text=True, capture_output=True, check=False)


def sources(root):
    """The C files with words in them, as POTFILES lists them."""
    found = []
    for folder in ("app", "core", "ui"):
        for path, _, names in os.walk(os.path.join(root, folder)):
            for name in names:
                whole = os.path.join(path, name)
                if name.endswith(".c"):
                    with open(whole, encoding="utf-8") as file:
                        if WORDS.search(file.read()):
                            found.append(os.path.relpath(whole, root))
    return sorted(found)


def gather(root, build, files, pot):
    done = run("xgettext", "--from-code=UTF-8", f"--directory={root}", f"--directory={build}",
               f"--output={pot}",
               *[f"--keyword={k}" for k in KEYWORDS], *[f"--flag={f}" for f in FLAGS], *files)
    if done.returncode != 0:
        sys.exit(f"Bail out! {done.stderr}")


def count(po, *which):
    """How many messages msgattrib leaves, without the head of the file."""
    listed = run("msgattrib", "--no-obsolete", "--no-wrap", *which, po).stdout
    # The head is told by its first line alone: that of a plural ends in the same words.
    return [line for line in re.findall(r'^msgid (".*")$', listed, re.M) if line != '""']


def entries(po):
    """Pairs of message and translation, plurals by their first form."""
    text = run("msgcat", "--no-wrap", "--no-location", po).stdout
    pairs = []
    for block in text.split("\n\n"):
        if block.lstrip().startswith("#~"):
            continue
        said = {}
        key = None
        for line in block.split("\n"):
            match = re.match(r'(msgid|msgid_plural|msgstr(?:\[\d\])?|msgctxt) "(.*)"$', line)
            if match:
                key = match.group(1)
                said[key] = match.group(2)
            elif key and line.startswith('"'):
                said[key] += line[1:-1]
        if said.get("msgid"):
            pairs.append((said["msgid"], said.get("msgstr", said.get("msgstr[0]", ""))))
    return pairs


def unlike(message, translation):
    """What a translation must keep of the message and did not: '' when it kept all."""
    for edge in (r"^\s*", r"\s*$"):
        # A line end is written \n in the file.
        if re.search(edge, message.replace("\\n", "\n")).group() \
                != re.search(edge, translation.replace("\\n", "\n")).group():
            return "space at an end"
    if len(MNEMONIC.findall(message)) == 1 and re.search(r"(?:^|\W|[a-z])_[A-Za-z]", message) \
            and " " not in message and len(MNEMONIC.findall(translation)) != 1:
        return "key of a label"
    if message.endswith("…") != translation.endswith("…"):
        return "three dots"
    return ""


def main():
    root = sys.argv[1]
    build = sys.argv[2] if len(sys.argv) > 2 else os.path.join(root, "build")
    folder = os.path.join(root, "data", "po")
    with open(os.path.join(folder, "LINGUAS"), encoding="utf-8") as file:
        languages = file.read().split()
    with open(os.path.join(folder, "POTFILES"), encoding="utf-8") as file:
        listed = file.read().split()
    files = sorted([*sources(root), GENERATED])
    number = 0

    def say(good, what, *reasons):
        nonlocal number
        number += 1
        print(f"{'ok' if good else 'not ok'} {number} - {what}")
        for reason in reasons:
            print(f"# {reason}")

    wrong = [f"missing in POTFILES: {f}" for f in files if f not in listed]
    wrong += [f"in POTFILES, but without words: {f}" for f in listed if f not in files]
    say(not wrong and listed == sorted(listed), "POTFILES lists what has words, in order", *wrong)
    kept = sorted(name[:-3] for name in os.listdir(folder) if name.endswith(".po"))
    say(kept == sorted(languages) and len(kept) > 0, "LINGUAS lists what is there",
        f"LINGUAS {languages}, files {kept}")
    with tempfile.TemporaryDirectory() as work:
        pot = os.path.join(work, "now.pot")
        gather(root, build, files, pot)
        for language in kept:
            po = os.path.join(folder, language + ".po")
            now = os.path.join(work, language + ".po")
            run("msgmerge", "--quiet", "--no-fuzzy-matching", "-o", now, po, pot)
            check = run("msgfmt", "--check", "-o", os.devnull, now)
            say(check.returncode == 0, f"{language}: formats agree", *check.stderr.splitlines())
            missing = count(now, "--untranslated")
            say(not missing and len(count(now)) == len(count(pot)),
                f"{language}: all {len(count(pot))} messages are translated",
                *[f"not translated: {m}" for m in missing])
            fuzzy = count(po, "--only-fuzzy")
            say(not fuzzy, f"{language}: none is doubtful", *[f"doubtful: {m}" for m in fuzzy])
            odd = [f"{unlike(m, t)}: {m} -> {t}" for m, t in entries(now) if t and unlike(m, t)]
            say(not odd, f"{language}: ends and keys are kept", *odd)
    print(f"1..{number}")


main()
