/* ts-plan-defaults.h: what the painter wants a new plan to start with
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-plan.h"

G_BEGIN_DECLS

/* Where a member is 0 the plan is as usual. */
typedef struct
{
  guint max_paints, max_parts; /* of a mix */
  double distance;             /* mm, from eye to figure */
  double figure_height;        /* mm */
  double spot_radius;          /* pixels, the most that a run's spots have */
} TsPlanDefaults;

/* @plan is new; limits are held within what a search takes. */
void ts_plan_start_with (TsPlan *plan, const TsPlanDefaults *defaults);

G_END_DECLS
