/* ts-verdict-row.h: two colours, what they are, and a verdict as shape and words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "card/ts-mark.h"
#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* @colours: two of them side by side, or %NULL for none. @problem: whether it should be mended. */
GtkWidget *ts_verdict_row_new (const TsLab  *colours,
                               const char   *name,
                               const char   *verdict,
                               TsMark        mark,
                               gboolean      problem);

G_END_DECLS
