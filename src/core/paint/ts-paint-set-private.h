/* ts-paint-set-private.h: the fields of a set, for the files that make one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-csv.h"
#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

#define TS_PAINT_SURFACE_KEY   "surface:" /* how the comment on the surface begins */
#define TS_PAINT_SWATCHES_WORD "swatches" /* in known_from: K and S refined by test swatches */

struct _TsPaintSet
{
  /* Owned */
  TsCsv *table;
  GPtrArray *paints; /* TsPaint, one a row */
  GPtrArray *notes;  /* char *, ended by NULL once made */
  GHashTable *rows;  /* casefolded name -> row + 1 */

  TsSurfaceReflection surface;
};

/* Makes the set of a table, which it takes; @what names it in messages. */
TsPaintSet *ts_paint_set_new_from_table (TsCsv       *table,
                                         const char  *what,
                                         GError     **error);

/* The set with new K and S of some paints, said to be refined by swatches and good within that 95 %
 * radius; without @within, within what swatches usually give. */
TsPaintSet *ts_paint_set_with_refined   (const TsPaintSet  *self,
                                         const guint       *paints,
                                         guint              n_paints,
                                         const TsSpectrum  *K,
                                         const TsSpectrum  *S,
                                         const double      *within);

G_END_DECLS
