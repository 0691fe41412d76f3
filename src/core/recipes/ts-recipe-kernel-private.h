/* ts-recipe-kernel-private.h: the loop that colours one mix after another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-set.h"
#include "recipes/ts-parts-table.h"

G_BEGIN_DECLS

/* Absorption and scattering of the paints in use, packed; their indices in the set. */
typedef struct
{
  guint                n_paints;
  guint               *paint;
  double             (*K)[TS_BANDS];
  double             (*S)[TS_BANDS];
  TsSurfaceReflection  surface;
} TsMixRows;

TsMixRows *ts_mix_rows_new  (const TsPaintSet  *set,
                             const guint       *paints,
                             guint              n_paints);
void       ts_mix_rows_free (TsMixRows         *self);
/* CIELAB of each of @n_mixes shares of the same paints. */
void       ts_recipe_kernel (const TsMixRows   *self,
                             const guint       *rows,
                             guint              n_paints,
                             const TsParts     *parts,
                             guint              n_mixes,
                             TsLab             *lab);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsMixRows, ts_mix_rows_free)

G_END_DECLS
