#!/usr/bin/python3
"""test_close.py: what was not saved is discarded by keys, and nothing asks for a window that has gone

The key that answers still holds the question when its window is taken away: only a sanitized build is sure to tell.
Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
from window import LIT, SHADOW, Window, check, wait_for


def main():
    with Window() as window:
        window.focus()
        window.key("ctrl+o")
        window.answer_chooser("Open a Picture or a Plan", window.picture)
        window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
        window.mixed(7)
        window.key("ctrl+q")
        discard = window.button("Discard")
        while not discard.has("FOCUSED"):
            window.key("Tab")
            focused = wait_for("the keyboard", window.focused)
            check(focused.name in ("Discard", "Cancel", "Save"), "one of the answers", focused.name)
        window.key("Return")
        window.check_quiet(window.process.wait(20))


main()
