/* ts-paint-files.h: paints read from files, and written to them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "document/ts-document.h"

G_BEGIN_DECLS

/* They let a file be chosen; what comes of it is told by the document's messages. */
void ts_paint_files_import (GtkWidget   *widget,
                            TsDocument  *document);
void ts_paint_files_save   (GtkWidget   *widget,
                            TsDocument  *document);
void ts_paint_files_save_cgats (GtkWidget  *widget,
                                TsDocument *document);
/* A sheet to paint swatches on. */
void ts_paint_files_save_sheet  (GtkWidget  *widget,
                                 TsDocument *document);
void ts_paint_files_print_sheet (GtkWidget  *widget,
                                 TsDocument *document);

G_END_DECLS
