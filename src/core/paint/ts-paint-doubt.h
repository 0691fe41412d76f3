/* ts-paint-doubt.h: how much of some paints' K and S is still open, and what would close it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "paint/ts-swatch.h"

G_BEGIN_DECLS

/* A normal distribution about the K and S of a set. It is changed by what it learns: one thread. */
typedef struct _TsPaintDoubt TsPaintDoubt;

/* @paints: indices in the set, each once; others are taken as known. */
TsPaintDoubt *ts_paint_doubt_new        (const TsPaintSet   *set,
                                         const guint        *paints,
                                         guint               n_paints);
void          ts_paint_doubt_free       (TsPaintDoubt       *self);
/* As if that swatch had been painted and measured; only its paints, coats and ground count. */
void          ts_paint_doubt_learn      (TsPaintDoubt       *self,
                                         const TsSwatch     *swatch);
/* Root mean square CIEDE2000 by which its prediction is open for want of K and S. */
double        ts_paint_doubt_get_spread (const TsPaintDoubt *self,
                                         const TsSwatch     *swatch);
/* Chooses up to @n_choose of @candidates, the one that teaches most first; returns how many.
 * @spread (nullable, n_choose + 1): of @targets, before and after each. */
guint         ts_paint_doubt_choose     (TsPaintDoubt       *self,
                                         const TsSwatch     *candidates,
                                         guint               n_candidates,
                                         const TsSwatch     *targets,
                                         guint               n_targets,
                                         guint               n_choose,
                                         GCancellable       *cancellable,
                                         guint              *chosen,
                                         double             *spread);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPaintDoubt, ts_paint_doubt_free)

G_END_DECLS
