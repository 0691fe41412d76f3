/* ts-recipe-index-private.h: the fields of the index, for the files that build and ask it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-index-kernel-private.h"
#include "recipes/ts-recipe-index.h"

G_BEGIN_DECLS

#define TS_INDEX_MARGIN 0.02f /* L, a, b: what single precision may err by, four times over */

/* Bytes of a box: floor (scale (value + shift)), held within 0..255; the ends stand for all beyond. */
extern const float ts_index_shift[3];
extern const float ts_index_scale[3];

/* All mixes of a number of paints. A family is a choice of paints; all families share out parts in
 * the same groups of neighbours. */
typedef struct
{
  guint     n_paints;
  guint     n_groups;
  guint     n_families;
  guint     stride;      /* families there is room for */
  GArray   *parts;       /* TsParts, group after group */
  guint    *first;       /* of each group, in parts; one more at the end */
  float    *shares;      /* of each group: parts of each paint in TS_PACK mixes */
  guint16 (*rows)[TS_PARTS_MAX_PAINTS]; /* of each family */
  guint8   *family_box;  /* 6 runs of stride: low L, a, b, high L, a, b */
  guint8   *group_box;   /* of each family 6 runs of n_groups */
} TsIndexLevel;

struct _TsRecipeIndex
{
  /* Borrowed */
  const TsMixRows *rows;

  /* Owned */
  float        *K, *S;           /* band after band, padded to whole packs */
  float       (*paint_K)[TS_BANDS];
  float       (*paint_S)[TS_BANDS];
  TsIndexLevel  level[TS_PARTS_MAX_PAINTS + 1]; /* by number of paints, from 2 */

  gsize         stride;
  guint         covers;
  TsIndexOptics optics;
  gboolean      wide;
};

G_END_DECLS
