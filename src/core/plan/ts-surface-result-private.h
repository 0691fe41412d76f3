/* ts-surface-result-private.h: the fields of a surface's result, for the files that fill them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-surface-result.h"

G_BEGIN_DECLS

/* What is known of one step's mixes. */
typedef struct
{
  TsLab wanted;
  GArray *choices; /* TsRecipe, or NULL */
  TsRecipe recipe;
  gboolean known;
  gboolean locked;
} TsStepMix;

struct _TsSurfaceResult
{
  TsCurve *curve;
  TsStair *stair;
  TsPaintSet *paints;     /* of the recipes, or NULL */
  TsRecipeSearch *search; /* that gave the choices, or NULL */
  TsContrastSettings settings;
  double reach;
  TsJointPlan *joint;  /* or NULL */
  char *joint_problem; /* or NULL */
  gboolean stale;
  TsStepMix mix[TS_STAIR_MAX_STEPS];
  TsContrast contrast[TS_STAIR_MAX_STEPS];
  gboolean has_areas;
  double area[TS_STAIR_MAX_STEPS]; /* shares of the surface, 0..1 */
};

/* Chooses the recipes together where @surface asks for that. */
gboolean ts_surface_result_mix_together (TsSurfaceResult  *self,
                                         const TsPlan     *plan,
                                         const TsSurface  *surface,
                                         GCancellable     *cancellable,
                                         GError          **error);

G_END_DECLS
