# SPDX-License-Identifier: GPL-3.0-or-later
"""Whether each room of the house includes only what stands below it, and whether what a room
must not know (GTK, SQL, numerics) stays out of it.

usage: house.py ROOT      prints TAP"""
import os
import re
import sys

# What each room may include, of ours. A room may always include itself. Rooms of the core
# see the core alone; every room of the ui and the app may include every room of the core.
CORE = {
    "moist": [],
    "readings": [],
    "chamber": ["moist"],
    "geometry": ["chamber", "moist"],
    "catalogue": ["geometry", "chamber", "moist"],
    "edit": ["geometry", "chamber", "moist"],
    "zones": ["geometry", "chamber", "moist"],
    "flow": ["zones", "geometry", "chamber", "moist"],
    "transport": ["flow", "zones", "catalogue", "geometry", "chamber", "moist"],
    "forecast": ["transport", "flow", "zones", "catalogue", "geometry", "chamber", "moist"],
    "day": ["forecast", "transport", "flow", "zones", "catalogue", "geometry", "chamber", "moist"],
    "packing": [],
    "advice": ["forecast", "packing", "edit", "transport", "flow", "zones", "catalogue",
               "geometry", "chamber", "moist"],
    "calibrate": ["readings", "forecast", "transport", "flow", "zones", "catalogue", "geometry",
                  "chamber", "moist"],
    "store": ["calibrate", "readings", "forecast", "edit", "catalogue", "geometry", "chamber",
              "moist"],
    "say": ["store", "calibrate", "readings", "advice", "day", "forecast", "packing", "edit",
            "transport", "flow", "zones", "catalogue", "geometry", "chamber", "moist"],
}
# The foot of say: units, names and what is wrong with an enclosure, in words. It knows the
# chamber alone, so that every room above the chamber may refuse something with it.
FOOT = {"say/factors", "say/names", "say/problems", "say/typed", "say/units"}
UI = {
    "toolkit": [],  # the precompiled header
    "document": [],
    "paint": ["document"],
    "sheets": ["paint", "document"],
    "canvas": ["paint", "document"],
    "widgets": ["canvas", "paint", "document"],
    "panes": ["widgets", "canvas", "paint", "document"],
    "questions": ["panes", "widgets", "canvas", "paint", "document"],
    "compare": ["panes", "widgets", "canvas", "paint", "document"],
    "hours": ["compare", "panes", "widgets", "canvas", "paint", "document"],
    "readings": ["panes", "widgets", "canvas", "paint", "document"],
    "pages": ["panes", "widgets", "canvas", "paint", "document"],
    "window": ["pages", "hours", "readings", "compare", "questions", "panes", "widgets", "canvas",
               "sheets", "paint",
               "document"],
}
# Includes that go the wrong way and are still to be mended: none may be added, and one that
# is gone must leave this list.
STRAY = {
}
# What the command line sees of the ui, and the files of app that make the window instead.
DRAWING = ["sheets", "paint"]
WINDOW = ("app/application.", "app/window.c")
# Libraries, and the rooms that may know them.
LIBRARIES = {
    r"gtk/|gdk/": tuple(f"ui/{room}/" for room in UI if room not in DRAWING) + WINDOW,
    r"cairo|pango/": ("ui/",),
    r"sqlite3": ("core/store/",),
    r"json-glib/": ("core/store/",),
    r"glpk": ("core/packing/",),
    r"gsl/": ("core/calibrate/",),
    r"(suitesparse/)?(cholmod|klu|umfpack)": ("core/flow/",),
}
INCLUDE = re.compile(r'^#include ([<"])([^>"]+)[>"]', re.M)


def includes(root):
    """(file, bracket, what) of each include line of the product."""
    for top in ("core", "ui", "app"):
        for folder, _, names in os.walk(os.path.join(root, top)):
            for name in sorted(names):
                if name.endswith((".c", ".h")):
                    whole = os.path.join(folder, name)
                    with open(whole, encoding="utf-8") as file:
                        for bracket, what in INCLUDE.findall(file.read()):
                            yield os.path.relpath(whole, root), bracket, what


def main():
    root = sys.argv[1]
    stray, foreign, rootless = set(), [], []
    for path, bracket, what in includes(root):
        top, room = path.split("/")[:2]
        if bracket == "<":
            foreign += [f"{path} includes <{what}>" for library, homes in LIBRARIES.items()
                        if re.match(library, what) and not path.startswith(homes)]
            continue
        target = what.split("/")[0]
        if "/" not in what:
            if top != "app":
                rootless.append(f"{path} includes \"{what}\" without its room")
            continue
        if top == "core" and path[len("core/"):-len(".c")] in FOOT:
            allowed = what[:-len(".h")] in FOOT or target in CORE["geometry"]
        elif target in CORE:
            allowed = (top != "core" or target == room or target in CORE.get(room, [])
                       or (what[:-len(".h")] in FOOT and "chamber" in CORE[room]))
        elif target in UI:
            allowed = (target == room or target in UI.get(room, []) if top == "ui" else
                       top == "app" and (target in DRAWING or path.startswith(WINDOW)))
        else:
            allowed = False
        if not allowed:
            stray.add(f"{path} -> {what}")

    rooms = {f"{top}/{room}" for top in ("core", "ui") for room in os.listdir(f"{root}/{top}")
             if os.path.isdir(f"{root}/{top}/{room}")}
    known = {f"core/{room}" for room in CORE} | {f"ui/{room}" for room in UI}

    wrong = [f"{line} goes up" for line in sorted(stray - set(STRAY))]
    wrong += [f"{line} is mended: take it out of STRAY" for line in sorted(set(STRAY) - stray)]
    results = [("every include goes down the table of rooms", wrong),
               ("libraries are known where they belong", foreign),
               ("every include names its room", rootless),
               ("every room stands in the table", sorted(rooms ^ known))]
    print(f"1..{len(results)}")
    for number, (name, faults) in enumerate(results, 1):
        print(f"{'not ok' if faults else 'ok'} {number} - {name}")
        for fault in faults:
            print(f"# {fault}")


main()
