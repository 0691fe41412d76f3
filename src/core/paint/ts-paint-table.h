/* ts-paint-table.h: a paint set's table with cells that can be changed before it is read again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-csv.h"

G_BEGIN_DECLS

typedef struct _TsPaintTable TsPaintTable;

TsPaintTable *ts_paint_table_new         (const TsCsv   *csv);
void          ts_paint_table_free        (TsPaintTable  *self);
/* Changes a cell; a column that is not there is added at the end. */
void          ts_paint_table_set         (TsPaintTable  *self,
                                          guint          row,
                                          const char    *column,
                                          const char    *text);
/* Adds an empty row at the end; its index. */
guint         ts_paint_table_add_row     (TsPaintTable  *self);
void          ts_paint_table_remove_row  (TsPaintTable  *self,
                                          guint          row);
/* Sets the comment that starts with @key, or adds it. */
void          ts_paint_table_set_comment (TsPaintTable  *self,
                                          const char    *key,
                                          const char    *text);
/* Comments by their number, in the order of the file; a new one comes last. */
void          ts_paint_table_add_comment (TsPaintTable  *self,
                                          const char    *text);
void          ts_paint_table_replace_comment (TsPaintTable *self,
                                              guint         index,
                                              const char   *text);
void          ts_paint_table_remove_comment (TsPaintTable *self,
                                             guint         index);
char         *ts_paint_table_to_text     (TsPaintTable  *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPaintTable, ts_paint_table_free)

G_END_DECLS
