/* ts-joint.h: the recipes of several steps chosen together, so that they share paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe-search.h"

G_BEGIN_DECLS

#define TS_JOINT_WITHIN 1.0 /* CIEDE2000 beyond a step's nearest mix: what is chosen from at first */

/* The painter's plain choice between true colours and few bottles. */
typedef enum
{
  TS_TOGETHER_APART, /* every step its own nearest mix */
  TS_TOGETHER_TRUEST,
  TS_TOGETHER_BETWEEN,
  TS_TOGETHER_FEWEST,
  TS_N_TOGETHER
} TsTogether;

/* What is minimised: the sum of expected differences, plus these. */
typedef struct
{
  double change;      /* CIEDE2000 that a paint coming in or going out between neighbours is worth */
  double paint;       /* CIEDE2000 that a paint in all is worth */
  guint  most_paints; /* in all; 0: as many as pay */
} TsJointWeights;

/* One step to be mixed. */
typedef struct
{
  GArray  *recipes; /* owned: TsRecipe that may be taken; delta_e_drop_error is what each costs */
  gboolean apart;   /* it is no neighbour of the step before */
} TsJointStep;

/* A choice for all steps. */
typedef struct
{
  GArray  *recipes;   /* TsRecipe, one a step */
  guint    n_paints;  /* unlike ones in all */
  guint    n_changes; /* paints that come in or go out between neighbours, in all */
  double   delta_e;   /* sum over the steps of the expected CIEDE2000 */
  double   cost;      /* what was minimised */
  double   bound;     /* no choice costs less; equal to the cost where it is proven the best */
} TsJointPlan;

/* "apart", "truest", "between", "fewest": for files; and back. */
const char     *ts_together_to_id        (TsTogether             together);
gboolean        ts_together_from_id      (const char            *id,
                                          TsTogether            *together);
TsJointWeights  ts_together_get_weights  (TsTogether             together);

/* Steps of @targets, each with every mix within @within of its nearest, the most forgiving for each
 * set of paints, or with its own of @locked (nullable): an array of TsJointStep. */
GArray         *ts_joint_gather          (const TsRecipeSearch  *search,
                                          const TsLab           *targets,
                                          const TsRecipe *const *locked,
                                          guint                  n,
                                          double                 within,
                                          GCancellable          *cancellable,
                                          GError               **error);
GArray         *ts_joint_steps_new       (void);
/* Adds a step of one recipe, as a painter's own. */
void            ts_joint_steps_add_fixed (GArray                *steps,
                                          const TsRecipe        *recipe);

/* The cheapest choice; %NULL with TS_ERROR_TOO_FEW where so few paints cannot do it. */
TsJointPlan    *ts_joint_choose          (const GArray          *steps,
                                          const TsJointWeights  *weights,
                                          GCancellable          *cancellable,
                                          GError               **error);
/* The same with more and more mixes to choose from until @weights allow an answer. */
TsJointPlan    *ts_joint_choose_for      (const TsRecipeSearch  *search,
                                          const TsLab           *targets,
                                          const TsRecipe *const *locked,
                                          guint                  n,
                                          const TsJointWeights  *weights,
                                          GCancellable          *cancellable,
                                          GError               **error);
/* Choices with unlike numbers of paints, most paints first, each the truest with so few: an array
 * of TsJointPlan *. */
GPtrArray      *ts_joint_offer           (const GArray          *steps,
                                          double                 change,
                                          GCancellable          *cancellable,
                                          GError               **error);

TsJointPlan    *ts_joint_plan_ref        (TsJointPlan           *self);
void            ts_joint_plan_unref      (TsJointPlan           *self);
gboolean        ts_joint_plan_is_proven  (const TsJointPlan     *self);
const TsRecipe *ts_joint_plan_get_recipe (const TsJointPlan     *self,
                                          guint                  step);
/* Indices of its paints in the set, rising: an array of guint. */
GArray         *ts_joint_plan_get_paints (const TsJointPlan     *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsJointPlan, ts_joint_plan_unref)

G_END_DECLS
