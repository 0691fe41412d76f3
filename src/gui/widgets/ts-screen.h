/* ts-screen.h: what the colours of a display mean: sRGB, or its monitor's profile
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "colour/ts-profile-screen.h"

G_BEGIN_DECLS

/* One for each display. Emits "changed" when colours are to be drawn anew. */
#define TS_TYPE_SCREEN (ts_screen_get_type ())
G_DECLARE_FINAL_TYPE (TsScreen, ts_screen, TS, SCREEN, GObject)

TsScreen *ts_screen_get         (GdkDisplay  *display);
/* Takes the display for sRGB where the profile cannot be used, or @path is empty. */
gboolean  ts_screen_set_profile (TsScreen    *self,
                                 const char  *path,
                                 GError     **error);
/* The monitor's profile, borrowed; %NULL for sRGB. */
GBytes   *ts_screen_get_profile (TsScreen    *self);
/* An sRGB word as the display shows it. */
guint32   ts_screen_adapt       (TsScreen    *self,
                                 guint32      word);

G_END_DECLS
