/* ts-settings.h: the painter's preferences, and what follows from them at once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/window/ts-window.h"

G_BEGIN_DECLS

/* Owned by the program: puts the colour scheme and the monitor's profile in force, and tells every
 * window what a new plan starts with, now and whenever a key changes. */
#define TS_TYPE_SETTINGS (ts_settings_get_type ())
G_DECLARE_FINAL_TYPE (TsSettings, ts_settings, TS, SETTINGS, GObject)

TsSettings *ts_settings_new          (GtkApplication  *application);
/* The keys, borrowed; %NULL where the schema is not installed: all is as by default. */
GSettings  *ts_settings_get_keys     (TsSettings      *self);
/* For a new window. */
void        ts_settings_greet        (TsSettings      *self,
                                      TsWindow        *window);

G_END_DECLS
