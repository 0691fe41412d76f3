/* ts-cgats.h: tables of colour data as CGATS text (ISO 28178)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The first table of a file, read whole; it never changes. A row is one set of the file. */
typedef struct _TsCgats TsCgats;

TsCgats    *ts_cgats_parse        (const char    *text,
                                   gssize         length,
                                   const char    *what,
                                   GError       **error);
TsCgats    *ts_cgats_load         (const char    *path,
                                   GError       **error);
void        ts_cgats_free         (TsCgats       *self);
guint       ts_cgats_get_n_rows   (const TsCgats *self);
guint       ts_cgats_get_n_fields (const TsCgats *self);
const char *ts_cgats_get_field    (const TsCgats *self,
                                   guint          field);
/* -1 where there is none; names are compared without regard to case. */
int         ts_cgats_find_field   (const TsCgats *self,
                                   const char    *name);
/* Value of a keyword such as "ORIGINATOR", or %NULL. */
const char *ts_cgats_get_keyword  (const TsCgats *self,
                                   const char    *name);
const char *ts_cgats_get_cell     (const TsCgats *self,
                                   guint          row,
                                   int            field);
gboolean    ts_cgats_get_number   (const TsCgats *self,
                                   guint          row,
                                   int            field,
                                   double         least,
                                   double         most,
                                   double        *number,
                                   GError       **error);
guint       ts_cgats_get_line     (const TsCgats *self,
                                   guint          row);
/* Whether a text begins as such a file does, after a byte order mark and blank lines. */
gboolean    ts_cgats_looks_like   (const char    *text,
                                   gssize         length);

/* Writing: one word, between quotation marks where it must be, with a tab before it unless @first. */
void        ts_cgats_append_cell  (GString       *text,
                                   const char    *cell,
                                   gboolean       first);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCgats, ts_cgats_free)

G_END_DECLS
