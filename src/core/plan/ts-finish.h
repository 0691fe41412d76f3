/* ts-finish.h: a plan's surfaces on the photograph of the finished figure
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "checks/ts-check-finished.h"
#include "plan/ts-pipeline.h"

G_BEGIN_DECLS

/* The surface's run @run on the finished figure, counted from 0, or %NULL. */
TsFinishRun *ts_finish_find_run  (const TsPlan           *plan,
                                  guint                   surface,
                                  guint                   run);
/* The photograph that the surface's runs or its outline there lie on, or -1 without any. */
int          ts_finish_find_picture (const TsPlan        *plan,
                                  guint                   surface);
/* The surface with all of its runs there, or without one with its outline; or %NULL. */
TsSurface   *ts_finish_get_surface (const TsPlan         *plan,
                                  guint                   surface);
/* A copy of @run at the same place of another picture, scaled as the pictures are, and measured. */
TsRun       *ts_finish_lay_run   (const TsRun            *run,
                                  guint                   picture,
                                  const TsImage          *reference,
                                  const TsImage          *finished,
                                  const TsCorrection     *correction,
                                  GError                **error);
/* A copy of @outline placed so, with few corners, that is not read yet. */
TsOutline   *ts_finish_place_outline (const TsOutline    *outline,
                                  guint                   picture,
                                  const TsImage          *reference,
                                  const TsImage          *finished);
/* All of a surface's runs laid so, or where it has none its outline: a surface measured on the finished
 * figure; %NULL with a #TsError. */
TsSurface   *ts_finish_lay_surface (const TsSurface      *surface,
                                  const TsImage          *reference,
                                  const TsImage          *finished,
                                  const TsCorrection     *correction,
                                  GError                **error);
/* Holds what was measured of @achieved to the surface's stair. */
gboolean     ts_finish_check_surface (const TsPlan       *plan,
                                  guint                   surface,
                                  const TsSurfaceResult  *planned,
                                  const TsSurface        *achieved,
                                  const TsCorrection     *correction,
                                  TsFinished             *result,
                                  GError                **error);

G_END_DECLS
