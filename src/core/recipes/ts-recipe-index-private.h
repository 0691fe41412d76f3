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
  gboolean  is_boxed; /* else there was no room for it */
  guint     n_paints;
  guint     n_groups;
  guint     n_families;
  guint     stride;      /* families there is room for */
  GArray   *parts;       /* TsParts, group after group */
  guint    *first;       /* of each group, in parts; one more at the end */
  guint    *first_pack;  /* of each group; one more at the end */
  float    *shares;      /* of each pack: parts of each paint in TS_PACK mixes */
  guint16 (*rows)[TS_PARTS_MAX_PAINTS]; /* of each family */
  guint8   *family_box;  /* 6 runs of stride: low L, a, b, high L, a, b */
  guint8   *group_box;   /* of each family 6 runs of n_groups */
} TsIndexLevel;

struct _TsRecipeIndex
{
  /* Borrowed */
  const TsMixRows *rows;
  const gboolean  *needed; /* of each row */

  /* Owned */
  float        *K, *S;           /* band after band, padded to whole packs */
  float       (*paint_K)[TS_BANDS];
  float       (*paint_S)[TS_BANDS];
  TsIndexLevel  level[TS_PARTS_MAX_PAINTS + 1]; /* by number of paints, from 2 */

  gsize         stride;
  guint         n_needed;
  guint         most; /* the last level */
  TsIndexOptics optics;
  gboolean      wide;
};

/* The first paints of @parts, so that one part of the last paint comes on top. */
void     ts_index_mix_prefix  (const TsRecipeIndex  *self,
                               const guint          *prefix,
                               guint                 n_prefix,
                               const TsParts        *parts,
                               float                *K,
                               float                *S);
/* The next rising choice of @n rows below @n_rows, or %FALSE after the last. */
gboolean ts_index_next_choice (guint                *rows,
                               guint                 n,
                               guint                 n_rows);
/* How many of the needed paints @rows hold. */
guint    ts_index_count_needed (const TsRecipeIndex *self,
                               const guint          *rows,
                               guint                 n);

G_END_DECLS
