/* invented-paints.h: sets of paints made up from a seed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-set.h"
#include "plain-search.h"

typedef struct
{
  TsPaintSet  *set;
  PlainPaints  plain; /* the same paints, read back from the set */
  GPtrArray   *names;
  double     (*K)[PLAIN_BANDS];
  double     (*S)[PLAIN_BANDS];
} InventedPaints;

InventedPaints *invented_paints_new  (guint            n,
                                      guint32          seed);
/* The same colours, known by masstone and opacity word alone. */
InventedPaints *invented_paints_new_colours (guint     n,
                                      guint32          seed);
void            invented_paints_free (InventedPaints  *self);
/* A colour that two or three of the paints give, strayed by up to @stray in each coordinate. */
TsLab           invented_target      (const InventedPaints *self,
                                      GRand           *rand,
                                      double           stray);
