/* ts-strip.h: colours side by side on the field, touching
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "colour/ts-colour.h"

G_BEGIN_DECLS

#define TS_TYPE_STRIP (ts_strip_get_type ())
G_DECLARE_FINAL_TYPE (TsStrip, ts_strip, TS, STRIP, GtkWidget)

/* @width and @height are of the whole in pixels, -1 for as it falls; @edge is the field's. */
GtkWidget *ts_strip_new         (int           width,
                                 int           height,
                                 int           edge);
/* Row by row, lit at the start side. */
void       ts_strip_set_colours (TsStrip      *self,
                                 const TsLab  *colours,
                                 guint         n_columns,
                                 guint         n_rows);
/* Leaves lightness alone of @n colours. */
void       ts_strip_make_grey   (TsLab        *colours,
                                 guint         n);
void       ts_strip_describe    (TsStrip      *self,
                                 const char   *name,
                                 const char   *description);

G_END_DECLS
