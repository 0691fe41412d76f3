/* ts-preferences.h: the window in which the painter's preferences are set
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_PREFERENCES (ts_preferences_get_type ())
G_DECLARE_FINAL_TYPE (TsPreferences, ts_preferences, TS, PREFERENCES, GtkWindow)

GtkWidget *ts_preferences_new (GtkWindow  *parent,
                               GSettings  *keys);

G_END_DECLS
