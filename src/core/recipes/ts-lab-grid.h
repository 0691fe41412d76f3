/* ts-lab-grid.h: which cells of CIELAB can hold a colour near enough to a wanted one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* Colours are bytes here: floor (scale (value + shift)) of L, a and b, held within 0..255; the ends
 * stand for all beyond. */
typedef struct _TsLabGrid TsLabGrid;

TsLabGrid *ts_lab_grid_new        (TsLab             target,
                                   const float      *shift,
                                   const float      *scale);
void       ts_lab_grid_free       (TsLabGrid        *self);
/* Cells that can hold a colour within @radius of the target count from now on. */
void       ts_lab_grid_set_radius (TsLabGrid        *self,
                                   double            radius);
/* Whether a box of bytes, its six numbers @stride apart, holds such a cell: if not, no colour of it is
 * near enough. */
gboolean   ts_lab_grid_may_hold   (const TsLabGrid  *self,
                                   const guint8     *box,
                                   gsize             stride);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsLabGrid, ts_lab_grid_free)

G_END_DECLS
