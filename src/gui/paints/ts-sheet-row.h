/* ts-sheet-row.h: one cell of a swatch sheet: its colours, its name, what is wrong with it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "sheet/ts-sheet.h"

G_BEGIN_DECLS

/* A name among those of the sheet and of the paints there are. */
typedef enum
{
  TS_SHEET_NAME_NEW,   /* or none */
  TS_SHEET_NAME_KNOWN, /* of a paint of the set: it is measured again */
  TS_SHEET_NAME_TWICE  /* of an earlier cell */
} TsSheetName;

/* Signal: "renamed". */
#define TS_TYPE_SHEET_ROW (ts_sheet_row_get_type ())
G_DECLARE_FINAL_TYPE (TsSheetRow, ts_sheet_row, TS, SHEET_ROW, GtkListBoxRow)

GtkWidget  *ts_sheet_row_new      (guint               number);
/* Without a leading or trailing blank; "" where there is none. */
char       *ts_sheet_row_dup_name (TsSheetRow         *self);
void        ts_sheet_row_set_name (TsSheetRow         *self,
                                   const char         *name);
/* @cell is nullable: not read yet. */
void        ts_sheet_row_show     (TsSheetRow         *self,
                                   const TsSheetCell  *cell,
                                   gboolean            halves,
                                   TsSheetName         name);
/* "uneven", "glossy spot", ...: the translated word of a doubtful cell, or %NULL. */
const char *ts_sheet_row_get_word (const TsSheetCell  *cell);

G_END_DECLS
