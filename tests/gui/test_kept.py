#!/usr/bin/python3
"""test_kept.py: a killed program's plan is offered at the next start, and is there when it is taken

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import glob
import os
import re
import shutil
import signal
import tempfile

from window import DATA, LIT, SHADOW, Window, check, wait_for

QUESTION = re.compile("^Tonestair ended without saving. Open what was kept at [0-9]+:[0-9]+")


def kept_in(state):
    return glob.glob(os.path.join(state, "tonestair", "journal", "*.tonestair"))


def has_surface(path):
    with open(path, encoding="utf-8") as file:
        return '"Surface 1"' in file.read()


def draw_and_die(picture, state):
    with Window(picture, state=state) as window:
        window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
        window.mixed(7)
        wait_for("the plan to be kept", lambda: any(has_surface(p) for p in kept_in(state)))
        os.kill(window.process.pid, signal.SIGKILL)
        window.process.wait(10)
    check(len(kept_in(state)) == 1, "one plan stays", kept_in(state))


def question(window):
    return window.find("label", QUESTION)


def main():
    with tempfile.TemporaryDirectory() as folder:
        # As a camera or an old archive may name it: these bytes are no UTF-8.
        picture = os.path.join(folder, os.fsdecode(b"lighthouse \xe9.jpg"))
        shutil.copy(os.path.join(DATA, "demo", "lighthouse.jpg"), picture)
        state = os.path.join(folder, "state")

        draw_and_die(picture, state)
        # No answer loses nothing.
        with Window(state=state) as window:
            question(window)
            window.button("Close this message").click()
            check(window.close() == 0, "it ends in peace")
        with Window(state=state) as window:
            question(window)
            window.button("Open").click()
            window.mixed(7)
            window.find("list item", "Surface 1")
            window.find("label", "not saved")
            window.key("ctrl+s")
            saved = os.path.join(folder, "again.tonestair")
            window.answer_chooser("Save the Plan", saved)
            wait_for("the plan's file", lambda: os.path.exists(saved))
            wait_for("nothing kept", lambda: not kept_in(state))
            check(has_surface(saved), "what was drawn is in the file")
            check(window.close() == 0, "it ends in peace")
            check(not window.complaints(), "no complaint", window.complaints())
        draw_and_die(picture, state)
        with open(kept_in(state)[0].replace(".tonestair", ".mark"), "wb") as mark:
            mark.write(b"/nowhere/coat \xe9.tonestair")
        with Window(state=state) as window:
            window.find("label", re.compile("^Tonestair ended without saving coat .*\\. Open what was kept"))
            window.button("Discard").click()
            wait_for("nothing kept", lambda: not kept_in(state))
            check(window.close() == 0, "it ends in peace")


main()
