#!/usr/bin/python3
"""Refuses an include that goes against the architecture, and a text for painters that nobody can translate.

check-includes.py TOP: folders of src/core and of src/gui may include themselves and those above them; foreign libraries stand in
the one file that owns them; the core and the document know nothing of GTK; the message of every error is
marked for translation, and every source with a text for painters stands in po/POTFILES.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import sys

TOP = sys.argv[1] if len(sys.argv) > 1 else "."
CORE = ["base", "colour", "image", "correction", "spots", "curve", "steps", "paint", "sheet", "recipes", "palette", "checks", "plan", "card"]
GUI = ["widgets", "pixels", "picture", "correction", "curve", "stair", "surfaces", "card", "paints", "brief", "finish", "help",
       "window"]

# Which files may include which foreign header.
FOREIGN = [
    (r"lcms2(_plugin)?\.h", r"colour/ts-profile[^/]*\.c$"),
    (r"png\.h", r"image/ts-decode-png\.c$"),
    (r"(jpeglib|jerror|jmorecfg)\.h", r"image/ts-(decode-jpeg\.c|jpeg-(means|store)(-private\.h|\.c))$"),
    (r"libexif/.*", r"image/ts-exif\.c$"),
    (r"gsl/.*", r"-fit[^/]*\.[ch]$|curve/ts-curve-[^/]*\.[ch]$|curve/ts-lin[^/]*\.[ch]$"),
    (r"json-glib/.*", r"base/ts-json[^/]*\.[ch]$|plan/.*\.[ch]$|cli/.*\.[ch]$"),
    (r"pango/.*", r"card/.*\.[ch]$|gui/.*\.[ch]$"),
    (r"cairo[^/]*\.h", r"card/.*\.[ch]$|gui/.*\.[ch]$"),
    (r"(gtk|gdk|gsk)/.*", r"gui/.*\.[ch]$"),
]
SYSTEM = re.compile(r"(assert|errno|fcntl|float|limits|locale|math|setjmp|stdarg|stddef|stdint|stdio|stdlib|string|time"
                    r"|unistd|sys/\w+|immintrin)\.h$|(glib|gio|glib/.*|gio/.*|glib-object|gmodule|graphene)(\.h)?$|glib-unix\.h$")


def sources(folder):
    for path, _, names in sorted(os.walk(folder)):
        for name in sorted(names):
            if name.endswith((".c", ".h")):
                yield os.path.join(path, name)


def own_fault(place, header):
    """Why a file of ours may not include that header of ours, or None."""
    layer = place.split("/")[0]
    folder = header.split("/")[0]
    if layer == "core":
        mine = place.split("/")[1]
        if folder not in CORE:
            return "the core includes only the core"
        if CORE.index(folder) > CORE.index(mine):
            return "%s stands above %s" % (mine, folder)
    elif layer == "document" and folder not in CORE + ["document"]:
        return "the document knows the core only"
    elif layer == "cli" and folder not in CORE + ["cli"]:
        return "the command line knows the core only"
    elif layer == "gui" and folder == "gui" and place.count("/") > 1:
        mine, folder = place.split("/")[1], header.split("/")[1]
        if GUI.index(folder) > GUI.index(mine):
            return "%s stands above %s" % (mine, folder)
    return None


def foreign_fault(place, header):
    if SYSTEM.match(header):
        return None
    for pattern, owners in FOREIGN:
        if re.fullmatch(pattern, header):
            return None if re.search(owners, place) else "<%s> belongs to another file" % header
    return "<%s> is no library of this project" % header


def check_includes():
    faults = []
    for path in sources(os.path.join(TOP, "src")):
        place = os.path.relpath(path, os.path.join(TOP, "src")).replace(os.sep, "/")
        with open(path, encoding="utf-8") as file:
            for number, line in enumerate(file, 1):
                own = re.match(r'\s*#\s*include\s+"([^"]+)"', line)
                foreign = re.match(r"\s*#\s*include\s+<([^>]+)>", line)
                fault = None
                if own and "/" in own.group(1):
                    fault = own_fault(place, own.group(1))
                elif own:
                    fault = "the include does not name its folder"
                elif foreign:
                    fault = foreign_fault(place, foreign.group(1))
                if fault:
                    faults.append("src/%s:%d: %s" % (place, number, fault))
    return faults


def check_texts():
    with open(os.path.join(TOP, "po", "POTFILES"), encoding="utf-8") as file:
        listed = {line.strip() for line in file if line.strip() and not line.startswith("#")}
    faults = ["po/POTFILES: %s is not there" % name for name in sorted(listed)
              if not os.path.exists(os.path.join(TOP, name))]
    for path, _, names in os.walk(os.path.join(TOP, "src")):
        for name in names:
            place = os.path.relpath(os.path.join(path, name), TOP).replace(os.sep, "/")
            if not name.endswith((".c", ".ui")) or place in listed:
                continue
            with open(os.path.join(path, name), encoding="utf-8") as file:
                text = file.read()
            if re.search(r'\b(_|N_|C_|Q_|ngettext) \(\s*"|translatable="', text):
                faults.append("po/POTFILES lacks %s" % place)
    return faults


def check_errors():
    """Messages of errors are shown as they stand; the command line alone speaks English everywhere."""
    faults = []
    for path in sources(os.path.join(TOP, "src")):
        place = os.path.relpath(path, TOP).replace(os.sep, "/")
        with open(path, encoding="utf-8") as file:
            text = re.sub(r"/\*.*?\*/", lambda said: re.sub(".", "", said.group()), file.read(), flags=re.S)
        if place.startswith("src/cli/"):
            continue
        for call in re.finditer(r"\bg_(set_error|set_error_literal|prefix_error|error_new|error_new_literal) \(([^;]*);", text):
            said = re.search(r'(\b_ \(|\bngettext \()?\s*"([^"]*)"', call.group(2))
            if said and not said.group(1) and re.search("[a-z]{2}", re.sub("%[a-z]", "", said.group(2))):
                faults.append("%s:%d: “%s” is not marked for translation"
                              % (place, text.count("\n", 0, call.start()) + 1, said.group(2)))
    return faults


found = check_includes() + check_texts() + check_errors()
print("\n".join(found) or "the layers hold")
sys.exit(1 if found else 0)
