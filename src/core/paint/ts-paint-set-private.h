/* ts-paint-set-private.h: the fields of a set, for the files that make one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "base/ts-csv.h"
#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

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

G_END_DECLS
