/* ts-surface-result.h: what follows from one surface's spots: curve, stair, recipes, checks
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "palette/ts-mixing-sequence.h"
#include "plan/ts-plan.h"
#include "recipes/ts-recipe-search.h"

G_BEGIN_DECLS

/* It never changes once made; threads may share it. Steps count from 0, the lit end. */
typedef struct _TsSurfaceResult TsSurfaceResult;

/* The curve alone, through the spots of all runs. */
TsCurve        *ts_surface_result_fit_curve     (const TsSurface        *surface,
                                                 TsCurve                *before,
                                                 GError                **error);
/* Curve, stair and the checks between wanted colours; some milliseconds. Recipes of @previous
 * (nullable) stay, marked as stale, where the number of steps is the same. */
TsSurfaceResult *ts_surface_result_new           (const TsPlan           *plan,
                                                  guint                   surface,
                                                  const TsSurfaceResult  *previous,
                                                  GError                **error);
/* The same with recipes for every step and checks between mixed colours. Steps whose wanted colour
 * and limits are those of @self's fresh recipes are not searched again. */
TsSurfaceResult *ts_surface_result_mix           (const TsSurfaceResult  *self,
                                                  const TsPlan           *plan,
                                                  guint                   surface,
                                                  TsRecipeSearch         *search,
                                                  GCancellable           *cancellable,
                                                  TsProgressFunc          progress,
                                                  gpointer                progress_data,
                                                  GError                **error);
TsSurfaceResult *ts_surface_result_ref           (TsSurfaceResult        *self);
void             ts_surface_result_unref         (TsSurfaceResult        *self);

TsCurve         *ts_surface_result_get_curve     (const TsSurfaceResult  *self);
TsStair         *ts_surface_result_get_stair     (const TsSurfaceResult  *self);
guint            ts_surface_result_get_n_steps   (const TsSurfaceResult  *self);
TsPaintSet      *ts_surface_result_get_paints    (const TsSurfaceResult  *self);
/* The recipe in use: the locked one, else the nearest; %NULL before the first search. */
const TsRecipe  *ts_surface_result_get_recipe    (const TsSurfaceResult  *self,
                                                  guint                   step);
/* The choice for all steps together, where the surface asks for one and it is made; else %NULL. */
TsJointPlan     *ts_surface_result_get_joint     (const TsSurfaceResult  *self);
/* Why there is none although it is asked for, or %NULL. */
const char      *ts_surface_result_get_joint_problem
                                                 (const TsSurfaceResult  *self);
/* Choices with fewer and fewer paints (TsJointPlan *), most paints first; a second or so of work. */
GPtrArray       *ts_surface_result_offer_paints  (const TsSurfaceResult  *self,
                                                  const TsPlan           *plan,
                                                  guint                   surface,
                                                  GCancellable           *cancellable,
                                                  GError                **error);
/* Whether both want the same colours of the same search, with the same mixes locked. */
gboolean         ts_surface_result_wants_same    (const TsSurfaceResult  *self,
                                                  const TsSurfaceResult  *other);
/* The order of work at the palette; %NULL before every step has a recipe. */
TsMixingSequence *ts_surface_result_sequence     (const TsSurfaceResult  *self,
                                                  const TsPlan           *plan,
                                                  guint                   surface);
/* Which steps are ticked off as painted in the surface's order of work. */
void             ts_surface_result_find_painted  (const TsSurfaceResult  *self,
                                                  const TsPlan           *plan,
                                                  guint                   surface,
                                                  gboolean                painted[TS_STAIR_MAX_STEPS]);
/* Others for the same step, nearest first (TsRecipe), or %NULL. */
const GArray    *ts_surface_result_get_choices   (const TsSurfaceResult  *self,
                                                  guint                   step);
gboolean         ts_surface_result_is_locked     (const TsSurfaceResult  *self,
                                                  guint                   step);
/* Recipes are of an earlier stair and will be replaced. */
gboolean         ts_surface_result_is_stale      (const TsSurfaceResult  *self);
TsReach          ts_surface_result_get_reach     (const TsSurfaceResult  *self,
                                                  guint                   step);
/* 95 % radius, CIEDE2000, of the mixed colour about what it is meant to be. */
double           ts_surface_result_get_error     (const TsSurfaceResult  *self,
                                                  guint                   step);
/* The mixed colour where it is known, else the wanted one. */
TsLab            ts_surface_result_get_colour    (const TsSurfaceResult  *self,
                                                  guint                   step);
/* Between @step and @step + 1. */
TsContrast       ts_surface_result_get_contrast  (const TsSurfaceResult  *self,
                                                  guint                   step);
/* Share of the surface that the step covers, 0..1; -1 without an outline. */
double           ts_surface_result_get_area      (const TsSurfaceResult  *self,
                                                  guint                   step);
/* Distance, band and limits of this surface. */
TsContrastSettings ts_surface_result_get_settings (const TsSurfaceResult *self);
/* A step of one surface beside a step of another, the lighter first. */
TsContrast       ts_surface_result_compare       (const TsSurfaceResult  *lit,
                                                  guint                   step,
                                                  const TsSurfaceResult  *shadow,
                                                  guint                   other);
/* Lightest less darkest L*. */
double           ts_surface_result_get_range     (const TsSurfaceResult  *self);
/* 95 %, L*. */
double           ts_surface_result_get_range_error (const TsSurfaceResult *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsSurfaceResult, ts_surface_result_unref)

G_END_DECLS
