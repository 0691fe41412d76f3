/* ts-paint-set.h: the painter's own paints, read from and written to a table
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint.h"

G_BEGIN_DECLS

/* A set of paints with unlike names. It never changes; threads may share it. Columns that are not
 * ours are kept and written back. */
typedef struct _TsPaintSet TsPaintSet;

/* CSV or CGATS text. */
TsPaintSet          *ts_paint_set_load            (const char        *path,
                                                   GError           **error);
TsPaintSet          *ts_paint_set_parse           (const char        *text,
                                                   gssize             length,
                                                   const char        *what,
                                                   GError           **error);
/* The table as text; reading it back gives the same set. */
char                *ts_paint_set_to_csv          (const TsPaintSet  *self);
/* CSV, or CGATS text where @path ends in .txt or .cgats; whole or not at all. */
gboolean             ts_paint_set_save            (const TsPaintSet  *self,
                                                   const char        *path,
                                                   GError           **error);
TsPaintSet          *ts_paint_set_ref             (TsPaintSet        *self);
void                 ts_paint_set_unref           (TsPaintSet        *self);
guint                ts_paint_set_get_n_paints    (const TsPaintSet  *self);
TsPaint             *ts_paint_set_get_paint       (const TsPaintSet  *self,
                                                   guint              index);
/* Index by name, without regard to case, or -1. */
int                  ts_paint_set_find            (const TsPaintSet  *self,
                                                   const char        *name);
TsSurfaceReflection  ts_paint_set_get_surface     (const TsPaintSet  *self);
/* A set with one paint's stock changed. */
TsPaintSet          *ts_paint_set_with_stock      (const TsPaintSet  *self,
                                                   guint              index,
                                                   TsStock            stock);
/* A set with one cell of its table changed, one paint more (at the end) or one less. */
TsPaintSet          *ts_paint_set_with_cell       (const TsPaintSet  *self,
                                                   guint              index,
                                                   const char        *column,
                                                   const char        *text,
                                                   GError           **error);
TsPaintSet          *ts_paint_set_with_paint      (const TsPaintSet  *self,
                                                   const char        *name,
                                                   TsPaintKind        kind,
                                                   TsOpacity          opacity,
                                                   TsLab              masstone,
                                                   GError           **error);
/* A set with the rows of another table at its end: @self is nullable, for a new set. */
TsPaintSet          *ts_paint_set_with_rows       (const TsPaintSet  *self,
                                                   const char        *text,
                                                   gssize             length,
                                                   const char        *what,
                                                   GError           **error);
/* The same, but for paints that are in @self already: these are measured anew. */
TsPaintSet          *ts_paint_set_measured_again  (const TsPaintSet  *self,
                                                   const char        *text,
                                                   gssize             length,
                                                   const char        *what,
                                                   GError           **error);
/* A set with more paints at its end from a file, CSV or CGATS text. */
TsPaintSet          *ts_paint_set_with_file       (const TsPaintSet  *self,
                                                   const char        *path,
                                                   GError           **error);
TsPaintSet          *ts_paint_set_without         (const TsPaintSet  *self,
                                                   guint              index,
                                                   GError           **error);
/* What a reader should know of this set ("k1 was lowered to ..."), one line each. */
const char * const  *ts_paint_set_get_notes       (const TsPaintSet  *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPaintSet, ts_paint_set_unref)

G_END_DECLS
