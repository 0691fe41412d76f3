/* ts-csv.h: tables in comma-separated text (RFC 4180), with comment lines before the header
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* One table, read whole; it never changes. Cells are UTF-8, trimmed, never %NULL. A cell that the
 * row does not have reads as "". Lines that start with '#' before the header are comments. */
typedef struct _TsCsv TsCsv;

TsCsv      *ts_csv_parse          (const char  *text,
                                   gssize       length,
                                   const char  *what,
                                   GError     **error);
TsCsv      *ts_csv_load           (const char  *path,
                                   GError     **error);
void        ts_csv_free           (TsCsv       *self);
guint       ts_csv_get_n_rows     (const TsCsv *self);
guint       ts_csv_get_n_columns  (const TsCsv *self);
guint       ts_csv_get_n_comments (const TsCsv *self);
const char *ts_csv_get_comment    (const TsCsv *self,
                                   guint        index);
const char *ts_csv_get_header     (const TsCsv *self,
                                   guint        column);
int         ts_csv_find_column    (const TsCsv *self,
                                   const char  *name);
const char *ts_csv_get_cell       (const TsCsv *self,
                                   guint        row,
                                   int          column);
gboolean    ts_csv_get_number     (const TsCsv *self,
                                   guint        row,
                                   int          column,
                                   double       least,
                                   double       most,
                                   double      *number,
                                   GError     **error);
guint       ts_csv_get_line       (const TsCsv *self,
                                   guint        row);

/* Writing: appends one cell, quoted where it must be, with a comma before it unless @first. */
void        ts_csv_append_cell    (GString     *text,
                                   const char  *cell,
                                   gboolean     first);
/* Shortest decimal text that reads back as the same number, with at most @digits significant. */
void        ts_csv_append_number  (GString     *text,
                                   double       number,
                                   int          digits,
                                   gboolean     first);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCsv, ts_csv_free)

G_END_DECLS
