/* ts-touching.h: surfaces that touch, and whether their lightness separates
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-surface-result.h"

G_BEGIN_DECLS

/* Two surfaces that touch on the picture. */
typedef struct
{
  guint      one, other; /* one < other */
  gboolean   said;       /* by the painter; else found from their outlines */
  TsContrast contrast;   /* between their bases; the lighter first */
} TsTouching;

/* Whether the outlines of both come near to each other. */
gboolean ts_surfaces_meet      (const TsSurface  *one,
                                const TsSurface  *other);
/* All pairs that touch and have stairs: a new array of TsTouching. @results: one a surface. */
GArray  *ts_plan_check_touching (const TsPlan     *plan,
                                 const GPtrArray  *results);

G_END_DECLS
