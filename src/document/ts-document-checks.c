/* ts-document-checks.c: verbs about how a figure is lit and looked at, and what lies beside what
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

#include "plan/ts-surface-curve.h"

/**
 * ts_document_set_fewest_steps:
 * @self: a document
 * @surface: index of a surface with a stair
 *
 * Gives it the fewest steps that keep every neighbour apart and still blending; steps placed by
 * hand become even again.
 */
void
ts_document_set_fewest_steps (TsDocument *self, guint surface)
{
  TsSurfaceResult *result = ts_document_get_result (self, surface);
  const TsSurface *of = ts_plan_get_stair_source (self->plan, surface);
  TsContrastSettings settings;
  guint fewest;

  if (result == NULL)
    return;
  settings = ts_surface_result_get_settings (result);
  fewest = ts_surface_get_fewest_steps (of, ts_surface_result_get_curve (result), &settings);
  ts_document_begin_gesture (self, _ ("Fewest steps"));
  if (of->stair.spacing == TS_SPACING_BY_HAND)
    ts_document_set_spacing (self, surface, TS_SPACING_LIGHTNESS);
  ts_document_set_n_steps (self, surface, fewest);
  ts_document_end_gesture (self);
}

/**
 * ts_document_set_stair_of:
 * @self: a document
 * @surface: index of a surface
 * @of: index of the surface whose stair it is to use, or -1 for its own
 */
void
ts_document_set_stair_of (TsDocument *self, guint surface, int of)
{
  TsPlan *plan;

  if (ts_plan_get_surface (self->plan, surface)->stair_of == of || of == (int) surface ||
      (of >= 0 && ts_plan_get_surface (self->plan, (guint) of)->stair_of >= 0))
    return;
  plan = ts_plan_copy (self->plan);
  ts_plan_get_surface (plan, surface)->stair_of = of;
  /* Who used its stair has lost it. */
  for (guint i = 0; i < plan->surfaces->len && of >= 0; i++)
    if (ts_plan_get_surface (plan, i)->stair_of == (int) surface)
      ts_plan_get_surface (plan, i)->stair_of = of;
  ts_document_change (self, plan, _ ("Stair of another surface"), TS_SURFACE_ALL);
}

/**
 * ts_document_set_looked_at:
 * @self: a document
 * @surface: index of a surface
 * @distance: from the eye, mm; 0 for the plan's
 * @band: width of one step's band on the figure, mm; 0 for the plan's
 */
void
ts_document_set_looked_at (TsDocument *self, guint surface, double distance, double band)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  ts_plan_get_surface (plan, surface)->distance = distance;
  ts_plan_get_surface (plan, surface)->band = band;
  ts_document_change (self, plan, _ ("How it is looked at"), (int) surface);
}

/**
 * ts_document_set_figure_height:
 * @self: a document
 * @height: of the figure, mm, over 0
 *
 * Distance and width of bands become those that suit the figure.
 */
void
ts_document_set_figure_height (TsDocument *self, double height)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  plan->figure_height = height;
  ts_contrast_settings_suit (&plan->contrast, height);
  ts_document_change (self, plan, _ ("Size of the figure"), TS_SURFACE_ALL);
}

/**
 * ts_document_set_touch:
 * @self: a document
 * @one: index of a surface
 * @other: index of another
 * @touch: 1 they touch, 0 they do not, -1 as their outlines tell
 */
void
ts_document_set_touch (TsDocument *self, guint one, guint other, int touch)
{
  TsPlan *plan;

  if (ts_plan_get_touch (self->plan, one, other) == touch)
    return;
  plan = ts_plan_copy (self->plan);
  ts_plan_set_touch (plan, one, other, touch);
  ts_document_change (self, plan, _ ("Surfaces that touch"), TS_SURFACE_NONE);
}

/**
 * ts_document_set_light:
 * @self: a document
 * @picture: index of a picture
 * @from: where the imagined light comes from
 * @to: where it goes; the same place takes the arrow away
 */
void
ts_document_set_light (TsDocument *self, guint picture, TsPoint from, TsPoint to)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsPicture *of = ts_plan_get_picture (plan, picture);

  of->has_light = !(ABS (from.x - to.x) < 1.0 && ABS (from.y - to.y) < 1.0);
  of->light_from = from;
  of->light_to = to;
  ts_document_change (self, plan, _ ("Where the light is"), TS_SURFACE_NONE);
}
