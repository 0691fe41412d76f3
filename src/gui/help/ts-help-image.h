/* ts-help-image.h: a picture of the manual
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_HELP_IMAGE (ts_help_image_get_type ())
G_DECLARE_FINAL_TYPE (TsHelpImage, ts_help_image, TS, HELP_IMAGE, GtkWidget)

GtkWidget *ts_help_image_new (const char *path,
                               const char *words);

G_END_DECLS
