#!/usr/bin/python3
"""check_help.py: the manual says nothing that is not there: check_help.py SOURCE_FOLDER

Every chapter is in the contents; every link, heading and picture is found, and every picture is used; what stands
in bold is a text of the program, as it stands on the screen; what stands as a key is one. The manual is named where
the window asks for a chapter.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import glob
import html
import os
import re
import struct
import sys

ACCELERATOR_NAMES = {"question": "?", "comma": ",", "plus": "+", "minus": "−", "space": "space", "escape": "Esc"}
MOST_BYTES = 1.5e6  # all pictures


def unescape_c(text):
    return text.replace('\\"', '"').replace("\\n", "\n").replace("\\\\", "\\")


def texts_of_c(source):
    """Each string in _(), N_(), C_() and ngettext(), its pieces joined."""
    for call in re.finditer(r'\b(?:_|N_|C_|ngettext)\s*\(((?:\s*"(?:[^"\\]|\\.)*"\s*,?)+)', source):
        for argument in re.findall(r'(?:"(?:[^"\\]|\\.)*"\s*)+', call.group(1)):
            yield unescape_c("".join(re.findall(r'"((?:[^"\\]|\\.)*)"', argument)))


def texts_of_ui(source):
    for text in re.findall(r'translatable="yes"[^>]*>([^<]*)<', source):
        yield html.unescape(text)


def texts_of_program(top):
    found = set()
    for path in glob.glob(os.path.join(top, "src", "**", "*"), recursive=True):
        reader = {".c": texts_of_c, ".ui": texts_of_ui}.get(os.path.splitext(path)[1])
        if reader:
            with open(path, encoding="utf-8") as file:
                found.update(reader(file.read()))
    return found


def to_pattern(text):
    """A format as what it may become; None where it would match anything."""
    pieces = re.split(r"%[-+ 0#]*\d*(?:\.\d+|\.\*)?[a-z]*[sdufc%]", text.replace("%%", "%c"))
    if len(pieces) == 1 or sum(c.isalpha() for c in "".join(pieces)) < 4:
        return None
    return re.compile(".+?".join(re.escape(p) for p in pieces), re.DOTALL)


def keys_of_program(top):
    """As the manual writes them: Ctrl+Shift+Z."""
    found = {"Return", "Tab", "F10"}
    for name in ("src/gui/gtk/help-overlay.ui", "src/gui/window/ts-application.c", "src/gui/help/ts-help-window.c"):
        with open(os.path.join(top, name), encoding="utf-8") as file:
            source = html.unescape(file.read())
        words = re.findall(r'accelerator">([^<]*(?:<[A-Z]\w+>[^<]*)*)</', source) + re.findall(r'\{ "(<[^"]+|F\d+)"', source)
        for one in " ".join(words).split():
            mods = re.findall(r"<(\w+)>", one)
            key = re.sub(r"<\w+>", "", one)
            key = ACCELERATOR_NAMES.get(key.lower(), key.upper() if len(key) == 1 else key)
            found.add("+".join([{"Control": "Ctrl"}.get(m, m) for m in mods] + [key]))
        for key, mods in re.findall(r"GDK_KEY_(\w+), GDK_(\w+)_MASK", source):
            found.add({"CONTROL": "Ctrl", "ALT": "Alt"}[mods] + "+" + (key.upper() if len(key) == 1 else key))
    return found


def heading_name(text):
    return "".join(c.lower() if c.isalnum() else "-" for c in text if c.isalnum() or c in " -")


class Manual:
    def __init__(self, folder):
        self.folder, self.faults = folder, []
        self.pages = {}
        for path in sorted(glob.glob(os.path.join(folder, "*.md"))):
            with open(path, encoding="utf-8") as file:
                self.pages[os.path.basename(path)] = file.read()
        self.headings = {name: [heading_name(h) for h in re.findall(r"^#+ (.*)$", text, re.M)]
                         for name, text in self.pages.items()}

    def fault(self, page, what):
        self.faults.append("%s: %s" % (os.path.join(self.folder, page), what))

    def check_links(self):
        for page, text in self.pages.items():
            for target in re.findall(r"(?<!!)\[[^\]]*\]\(([^)]*)\)", re.sub(r"!\[.*?\]\(.*?\)", "", text)):
                name, _, heading = target.partition("#")
                if name not in self.pages:
                    self.fault(page, "no chapter %s" % target)
                elif heading and heading not in self.headings[name]:
                    self.fault(page, "no heading %s" % target)
        contents = re.findall(r"^\d+\. .*?\]\(([^)]*)\)", self.pages["README.md"], re.M)
        if sorted(contents) != sorted(set(self.pages) - {"README.md"}):
            self.fault("README.md", "its list is %s, the chapters are %s" % (contents, sorted(self.pages)))

    def check_pictures(self):
        used, size = set(), 0
        for page, text in self.pages.items():
            for words, target in re.findall(r"!\[([^\]]*)\]\(([^)]*)\)", text):
                path = os.path.normpath(os.path.join(self.folder, target))
                used.add(path)
                if not os.path.exists(path):
                    self.fault(page, "no picture %s" % target)
                    continue
                if len(words) < 20:
                    self.fault(page, "%s is not described" % target)
                with open(path, "rb") as file:
                    if file.read(8) != b"\x89PNG\r\n\x1a\n" or struct.unpack(">8xI", file.read(12))[0] > 720:
                        self.fault(page, "%s is no PNG of at most 720 pixels" % target)
        for path in glob.glob(os.path.join(os.path.dirname(self.folder), "pictures", "*")):
            size += os.path.getsize(path)
            if os.path.normpath(path) not in used:
                self.fault("", "%s is shown nowhere" % path)
        if size > MOST_BYTES:
            self.fault("", "the pictures have %u bytes" % size)

    def check_labels(self, texts):
        patterns = [p for p in map(to_pattern, texts) if p]
        for page, text in self.pages.items():
            for label in re.findall(r"\*\*(.+?)\*\*", text, re.S):
                label = " ".join(label.split())
                if label not in texts and not any(p.fullmatch(label) for p in patterns):
                    self.fault(page, "the program has no “%s”" % label)

    def check_keys(self, keys):
        for page, text in self.pages.items():
            for key in re.findall(r"`([^`]+)`", text):
                if re.fullmatch(r"(?:(?:Ctrl|Alt|Shift)\+)*(?:\S|F\d+|[A-Z][a-z]+|space)", key) and key not in keys:
                    self.fault(page, "no key %s" % key)

    def check_chapters(self, top):
        with open(os.path.join(top, "src/gui/window/ts-window.c"), encoding="utf-8") as file:
            for name in re.findall(r'"([\w-]+\.md)"', file.read()):
                if name not in self.pages:
                    self.fault("", "F1 asks for %s" % name)


def main(top):
    texts, keys, faults = texts_of_program(top), keys_of_program(top), []
    for folder in sorted(glob.glob(os.path.join(top, "data/help/*/README.md"))):
        manual = Manual(os.path.dirname(folder))
        manual.check_links()
        manual.check_pictures()
        manual.check_chapters(top)
        manual.check_keys(keys)
        if os.path.basename(manual.folder) == "en":  # the program's own language
            manual.check_labels(texts)
        faults += manual.faults
        print("%s: %u chapters, %u texts of the program, %u keys" % (manual.folder, len(manual.pages), len(texts), len(keys)))
    for fault in faults:
        print(fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
