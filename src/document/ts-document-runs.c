/* ts-document-runs.c: verbs that change runs and spots
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

/* A run whose shadow end is lighter than its lit end by more than this was drawn the other way. */
#define TURNED_LIGHTNESS 4.0 /* L* */

TsPoint
ts_document_hold_within (const TsImage *image, TsPoint place)
{
  return (TsPoint){ CLAMP (place.x, 0.5, ts_image_get_width (image) - 0.5),
                    CLAMP (place.y, 0.5, ts_image_get_height (image) - 0.5) };
}

/* Lays the spots of @run anew and measures them; says why where that cannot be. */
static gboolean
lay (TsDocument *self, TsRun *run)
{
  TsImage *image = ts_document_get_image (self, run->picture);
  const TsCorrection *correction;
  g_autoptr (GError) error = NULL;

  if (image == NULL)
    {
      ts_document_tell (self, _ ("The picture of this run is not there, so it cannot be measured."),
                        NULL, NULL);
      return FALSE;
    }
  correction = ts_document_need_correction (self, run->picture);
  if (correction == NULL)
    return FALSE;
  if (!ts_pipeline_lay_run (run, image, correction, &error))
    {
      ts_document_tell (self, error->message, NULL, NULL);
      return FALSE;
    }
  return TRUE;
}

static TsRun *
new_run (TsDocument *self, TsPoint lit, TsPoint shadow)
{
  TsImage *image = ts_document_get_image (self, self->picture);
  g_autoptr (TsRun) run = NULL;
  TsPoint points[2];

  if (image == NULL)
    return NULL;
  points[0] = ts_document_hold_within (image, lit);
  points[1] = ts_document_hold_within (image, shadow);
  run =
    ts_run_new (self->picture, points, 2,
                ts_run_suggest_radius (ts_run_get_length (points, 2), self->defaults.spot_radius));
  return lay (self, run) ? g_steal_pointer (&run) : NULL;
}

static TsRun *
copied_run (TsPlan *plan, guint surface, guint run)
{
  return ts_surface_get_run (ts_plan_get_surface (plan, surface), run);
}

/**
 * ts_document_add_surface:
 * @self: a document with a picture
 * @lit: the lit end of its first run
 * @shadow: the shadow end
 *
 * Adds a surface with one run on the shown picture, measures it and selects it.
 *
 * Returns: its index, or -1 where it could not be measured
 */
int
ts_document_add_surface (TsDocument *self, TsPoint lit, TsPoint shadow)
{
  TsRun *run = new_run (self, lit, shadow);
  g_autofree char *name = NULL;
  TsSurface *surface;
  TsPlan *plan;
  int index;

  if (run == NULL)
    return -1;
  plan = ts_plan_copy (self->plan);
  name = ts_document_free_name (plan);
  surface = ts_surface_new (name);
  g_ptr_array_add (surface->runs, run);
  g_ptr_array_add (plan->surfaces, surface);
  index = (int) plan->surfaces->len - 1;
  ts_document_change (self, plan, _ ("Add surface"), index);
  self->new_run_surface = index;
  self->new_run = 0;
  ts_document_select_surface (self, index);
  return index;
}

/**
 * ts_document_add_run:
 * @self: a document with a picture
 * @surface: index of a surface
 * @lit: the lit end
 * @shadow: the shadow end
 *
 * Adds one more run on the shown picture to a surface.
 */
void
ts_document_add_run (TsDocument *self, guint surface, TsPoint lit, TsPoint shadow)
{
  TsRun *run = new_run (self, lit, shadow);
  TsPlan *plan;

  if (run == NULL)
    return;
  plan = ts_plan_copy (self->plan);
  g_ptr_array_add (ts_plan_get_surface (plan, surface)->runs, run);
  self->new_run_surface = (int) surface;
  self->new_run = (int) ts_plan_get_surface (plan, surface)->runs->len - 1;
  ts_document_change (self, plan, _ ("Add run"), (int) surface);
}

/* Lays a changed run anew in a copy of the plan, and makes that the plan. */
static void
lay_and_change (TsDocument *self, TsPlan *plan, guint surface, guint run, const char *name)
{
  if (lay (self, copied_run (plan, surface, run)))
    ts_document_change (self, plan, name, (int) surface);
  else
    ts_plan_unref (plan);
}

/**
 * ts_document_move_run_point:
 * @self: a document
 * @surface: index of a surface
 * @run: index of its run
 * @point: index of a point of the run's line
 * @place: where to
 *
 * Moves an end; the spots follow, evenly laid.
 */
void
ts_document_move_run_point (TsDocument *self, guint surface, guint run, guint point, TsPoint place)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsRun *of = copied_run (plan, surface, run);
  TsImage *image = ts_document_get_image (self, of->picture);
  gboolean drawing =
    self->gesture_open && self->new_run_surface == (int) surface && self->new_run == (int) run;

  if (image == NULL)
    {
      ts_plan_unref (plan);
      return;
    }
  g_array_index (of->points, TsPoint, point) = ts_document_hold_within (image, place);
  if (drawing)
    {
      /* While a run is drawn its spots suit its present length. */
      of->radius = ts_run_suggest_radius (
        ts_run_get_length ((const TsPoint *) of->points->data, of->points->len),
        self->defaults.spot_radius);
      g_array_set_size (of->spots, 0);
    }
  lay_and_change (self, plan, surface, run, _ ("Move run"));
}

/**
 * ts_document_move_run:
 * @self: a document
 * @surface: index of a surface
 * @run: index of its run
 * @dx: pixels to the right
 * @dy: pixels down
 *
 * Moves the whole line; the spots are laid anew.
 */
void
ts_document_move_run (TsDocument *self, guint surface, guint run, double dx, double dy)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsRun *of = copied_run (plan, surface, run);
  TsImage *image = ts_document_get_image (self, of->picture);

  for (guint i = 0; image != NULL && i < of->points->len; i++)
    {
      TsPoint *point = &g_array_index (of->points, TsPoint, i);

      *point = ts_document_hold_within (image, (TsPoint){ point->x + dx, point->y + dy });
    }
  lay_and_change (self, plan, surface, run, _ ("Move run"));
}

/**
 * ts_document_move_spot:
 * @self: a document
 * @surface: index of a surface
 * @run: index of its run
 * @spot: index of its spot
 * @place: where to
 *
 * Moves one spot off its even place, and measures it there.
 */
void
ts_document_move_spot (TsDocument *self, guint surface, guint run, guint spot, TsPoint place)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsRun *of = copied_run (plan, surface, run);
  TsSpot *moved = &g_array_index (of->spots, TsSpot, spot);
  const TsCorrection *correction;
  TsImage *image = ts_document_get_image (self, of->picture);
  const TsPoint *line = (const TsPoint *) of->points->data;

  if (image != NULL)
    place = ts_document_hold_within (image, place);
  correction = image != NULL ? ts_document_need_correction (self, of->picture) : NULL;
  if (correction == NULL ||
      !ts_spot_measure (image, correction, place.x, place.y, moved->radius, moved, NULL))
    {
      ts_plan_unref (plan);
      return;
    }
  moved->position = ts_run_get_position (line, of->points->len, place);
  ts_document_change (self, plan, _ ("Move spot"), (int) surface);
}

/**
 * ts_document_remove_spot:
 * @self: a document
 * @surface: index of a surface
 * @run: index of its run
 * @spot: index of its spot; the last of a run stays
 */
void
ts_document_remove_spot (TsDocument *self, guint surface, guint run, guint spot)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  GArray *spots = copied_run (plan, surface, run)->spots;

  if (spots->len < 2)
    {
      ts_plan_unref (plan);
      return;
    }
  g_array_remove_index (spots, spot);
  ts_document_change (self, plan, _ ("Remove spot"), (int) surface);
}

/**
 * ts_document_remove_run:
 * @self: a document
 * @surface: index of a surface
 * @run: index of its run
 */
void
ts_document_remove_run (TsDocument *self, guint surface, guint run)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  g_ptr_array_remove_index (ts_plan_get_surface (plan, surface)->runs, run);
  ts_document_change (self, plan, _ ("Remove run"), (int) surface);
}

/* L* of a third of the spots from the front less that of a third from the back. */
static double
fall (const GArray *spots)
{
  guint n = MAX (spots->len / 3, 1);
  double lit = 0.0, shadow = 0.0;

  for (guint i = 0; i < n; i++)
    {
      lit += g_array_index (spots, TsSpot, i).lab.L;
      shadow += g_array_index (spots, TsSpot, spots->len - 1 - i).lab.L;
    }
  return (lit - shadow) / n;
}

/* A run that was just drawn from shadow to lit is turned round, so that lit comes first. */
void
ts_document_settle_new_run (TsDocument *self)
{
  guint surface = (guint) self->new_run_surface, run = (guint) self->new_run;
  const TsRun *drawn;
  TsPlan *plan;
  TsPoint *points;

  if (self->new_run_surface < 0 || self->plan == NULL || surface >= self->plan->surfaces->len ||
      run >= ts_plan_get_surface (self->plan, surface)->runs->len)
    return;
  self->new_run_surface = -1;
  drawn = ts_surface_get_run (ts_plan_get_surface (self->plan, surface), run);
  if (drawn->spots->len < 2 || ts_plan_get_surface (self->plan, surface)->polished ||
      fall (drawn->spots) > -TURNED_LIGHTNESS)
    return;
  plan = ts_plan_copy (self->plan);
  points = (TsPoint *) copied_run (plan, surface, run)->points->data;
  for (guint i = 0, j = drawn->points->len - 1; i < j; i++, j--)
    {
      TsPoint point = points[i];

      points[i] = points[j];
      points[j] = point;
    }
  lay_and_change (self, plan, surface, run, _ ("Turn run round"));
  ts_document_tell (self, _ ("The line ran from shadow to lit; it was turned round."), NULL, NULL);
}
