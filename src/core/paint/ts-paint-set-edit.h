/* ts-paint-set-edit.h: changing a set's table, and the test swatches that it carries
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-swatch.h"

G_BEGIN_DECLS

/* One swatch as its comment line tells it: a plain value, names as the set has them. */
typedef struct
{
  const char *recipe; /* "2 Lamp Black + 1 Deep Blue" */
  double      coats;  /* above 0; infinity where nothing under it shows */
  const char *over;   /* (nullable) a paint of the set, or "L a b" */
  TsLab       lab;    /* as measured, D50 */
  double      se;     /* standard error of the reading, CIEDE2000 */
} TsTestSwatch;

guint       ts_paint_set_get_n_swatches  (const TsPaintSet   *self);
/* The line without its key: recipe,coats,over,se,L,a,b. */
const char *ts_paint_set_get_swatch_text (const TsPaintSet   *self,
                                          guint               index);
/* Made ready for the fit; its @line is its index plus one. FALSE where a paint of it is gone. */
gboolean    ts_paint_set_get_swatch      (const TsPaintSet   *self,
                                          guint               index,
                                          TsSwatch           *swatch);
TsPaintSet *ts_paint_set_with_swatch     (const TsPaintSet   *self,
                                          const TsTestSwatch *swatch,
                                          GError            **error);
TsPaintSet *ts_paint_set_without_swatch  (const TsPaintSet   *self,
                                          guint               index);
/* The set as it was before swatches refined it, and what it was measured from kept beside what a fit
 * will find: a fit of all its swatches starts here. */
TsPaintSet *ts_paint_set_as_measured     (const TsPaintSet   *self);
/* @self (nullable: a new set) with some cells of one row changed, or with @index -1 of a new row at
 * its end; @cells are columns, each followed by its text, ending with %NULL. */
TsPaintSet *ts_paint_set_with_cells      (const TsPaintSet   *self,
                                          int                 index,
                                          const char *const  *cells,
                                          GError            **error);
/* A set with one paint called otherwise, in its swatches too. */
TsPaintSet *ts_paint_set_with_name       (const TsPaintSet   *self,
                                          guint               index,
                                          const char         *name,
                                          GError            **error);

G_END_DECLS
