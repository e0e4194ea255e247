# SPDX-License-Identifier: GPL-3.0-or-later
"""Kills programs while they save, replace and bring up documents, and looks whether the document
is afterwards that of the step before or the new one, whole, with nothing mixed.

usage: kills.py BUILD [COUNT [SEED]]      prints TAP; COUNT kills of each kind, usual are 5"""
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time

BUILD = os.path.abspath(sys.argv[1])
COUNT = int(sys.argv[2]) if len(sys.argv) > 2 else 5
DEWTIER, STORE = f"{BUILD}/app/dewtier", f"{BUILD}/tests/test-store"
HERE = os.path.dirname(os.path.abspath(__file__))
CHANCE = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 14)


def run(*words):
    """Of the real program; its answer has to be that all is well."""
    done = subprocess.run([DEWTIER, *words], capture_output=True, text=True, check=False)
    if done.returncode:
        raise AssertionError(f"{' '.join(words)}: {done.stderr}")


def read(path, folder):
    """The document as JSON, by a command that only reads: no byte of the folder may change."""
    def state():
        return {name: open(f"{folder}/{name}", "rb").read() for name in sorted(os.listdir(folder))}
    before = state()
    with tempfile.TemporaryDirectory() as other:
        run("convert", path, f"{other}/a.json")
        with open(f"{other}/a.json", encoding="utf-8") as file:
            text = file.read()
    assert state() == before, "reading changed the folder"
    return json.loads(text)


class Wait:
    """How long until the kill: longer where nothing had happened yet."""
    most = 0.15

    def kill(self, command):
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                                 start_new_session=True)
        time.sleep(CHANCE.uniform(self.most / 10, self.most))
        os.killpg(child.pid, signal.SIGKILL)
        child.wait()

    def learn(self, moved):
        self.most = self.most if moved else min(self.most * 1.5, 3.0)


def save(folder):
    """A save is a step of the document."""
    path, wait, moved = f"{folder}/a.dewtier", Wait(), 0
    run("demo", path)
    last = read(path, folder)["outer_m"][0]
    for _ in range(COUNT):
        wait.kill([STORE, "--hammer", path])
        is_now = read(path, folder)
        width = is_now["outer_m"][0]
        if width != last:
            assert width == is_now["outer_m"][1] == is_now["room"]["altitude_m"], "mixed"
            assert width in {t.get("load_limit_kg") for v in is_now["variants"]
                             for t in v["things"]}, "mixed"
            moved += 1
        wait.learn(width != last)
        last = width
    return moved


def replace(folder):
    """Another document takes the place, also of one whose save was cut off."""
    path, wait, moved = f"{folder}/a.dewtier", Wait(), 0
    with tempfile.TemporaryDirectory() as other:
        run("demo", f"{other}/0.json")
        for i in (1, 2):
            with open(f"{other}/0.json", encoding="utf-8") as file:
                document = json.load(file)
            document["name"] = f"Number {i}"
            with open(f"{other}/{i}.json", "w", encoding="utf-8") as file:
                json.dump(document, file)
        run("convert", f"{other}/1.json", path)
        for n in range(COUNT):
            if n % 2:
                wait.kill([STORE, "--hammer", path])
            loop = "while :; do for i in 2 1; do {} convert --replace {}/$i.json {}; done; done"
            wait.kill(["sh", "-c", loop.format(DEWTIER, other, path)])
            is_now = read(path, folder)
            assert is_now["name"] in ("Number 1", "Number 2"), "mixed"
            moved += is_now["name"] == "Number 2"
            wait.learn(is_now["name"] == "Number 2")
            run("convert", "--replace", f"{other}/1.json", path)
            whole = read(path, folder)
            assert whole["outer_m"][0] == 0.7 and whole["name"] == "Number 1", "inherited"
    left = [name for name in os.listdir(folder) if name.endswith("-journal")]
    assert not left, f"left: {left}"
    return moved


def bring_up(folder):
    """A document of an older form is that, or one of this form with a copy beside it."""
    wait, moved = Wait(), 0
    path = f"{folder}/a.dewtier"
    for n in range(COUNT):
        for name in os.listdir(folder):
            os.unlink(f"{folder}/{name}")
        form = 1 + n % 3
        shutil.copy(f"{HERE}/version-{form}.dewtier", path)
        wanted = read(path, folder)
        wait.kill([STORE, "--migrate", path])
        assert read(path, folder) == wanted, "not what it was"
        with open(path, "rb") as file:
            new = file.read(64)[63] != form
        if new:
            assert read(f"{folder}/a.form-{form}.dewtier", folder) == wanted, "no copy"
        moved += new
        wait.learn(new)
    return moved


def main():
    kinds = [save, replace, bring_up]
    print(f"1..{len(kinds)}")
    for number, kind in enumerate(kinds, 1):
        with tempfile.TemporaryDirectory(prefix="dewtier-kills-") as folder:
            try:
                moved = kind(folder)
                print(f"ok {number} - {kind.__name__}: {COUNT} kills, {moved} after a write")
            except (AssertionError, OSError, KeyError) as wrong:
                print(f"not ok {number} - {kind.__name__}: {wrong}")
        sys.stdout.flush()


main()
