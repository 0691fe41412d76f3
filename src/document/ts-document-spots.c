/* ts-document-spots.c: verbs that change several spots of a surface at once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define SAME_PLACE 0.01 /* pixels: a spot that stands so near to its line's end is that end */

static gboolean
is_chosen (const TsSpotRef *spots, guint n_spots, guint run, guint spot)
{
  for (guint i = 0; i < n_spots; i++)
    if (spots[i].run == run && spots[i].spot == spot)
      return TRUE;
  return FALSE;
}

static gboolean
is_whole (const TsRun *run, guint index, const TsSpotRef *spots, guint n_spots)
{
  for (guint i = 0; i < run->spots->len; i++)
    if (!is_chosen (spots, n_spots, index, i))
      return FALSE;
  return run->spots->len > 0;
}

/* The point of the line that the spot stands on, or NULL. */
static TsPoint *
find_end (TsRun *run, guint spot)
{
  const TsSpot *at = &g_array_index (run->spots, TsSpot, spot);
  TsPoint *point;

  if (spot != 0 && spot + 1 != run->spots->len)
    return NULL;
  point = &g_array_index (run->points, TsPoint, spot == 0 ? 0 : run->points->len - 1);
  return hypot (point->x - at->x, point->y - at->y) < SAME_PLACE ? point : NULL;
}

/* Shortens the way so that a place which is carried along stays within the picture. */
static void
hold_way (const TsImage *image, double x, double y, double *dx, double *dy)
{
  double width = ts_image_get_width (image), height = ts_image_get_height (image);

  *dx = CLAMP (*dx, MIN (0.0, 0.5 - x), MAX (0.0, width - 0.5 - x));
  *dy = CLAMP (*dy, MIN (0.0, 0.5 - y), MAX (0.0, height - 0.5 - y));
}

/* All that is carried keeps its shape. FALSE where a picture is not there. */
static gboolean
hold_all (TsDocument *self, const TsSurface *surface, const TsSpotRef *spots, guint n_spots,
          double *dx, double *dy)
{
  for (guint i = 0; i < surface->runs->len; i++)
    {
      const TsRun *run = ts_surface_get_run (surface, i);
      TsImage *image = ts_document_get_image (self, run->picture);
      gboolean whole = is_whole (run, i, spots, n_spots);

      for (guint j = 0; j < run->spots->len; j++)
        {
          const TsSpot *spot = &g_array_index (run->spots, TsSpot, j);

          if (!is_chosen (spots, n_spots, i, j))
            continue;
          if (image == NULL)
            return FALSE;
          hold_way (image, spot->x, spot->y, dx, dy);
        }
      for (guint j = 0; whole && j < run->points->len; j++)
        {
          const TsPoint *point = &g_array_index (run->points, TsPoint, j);

          hold_way (image, point->x, point->y, dx, dy);
        }
    }
  return TRUE;
}

static void
move_whole (TsRun *run, double dx, double dy)
{
  for (guint i = 0; i < run->points->len; i++)
    {
      g_array_index (run->points, TsPoint, i).x += dx;
      g_array_index (run->points, TsPoint, i).y += dy;
    }
  for (guint i = 0; i < run->spots->len; i++)
    {
      g_array_index (run->spots, TsSpot, i).x += dx;
      g_array_index (run->spots, TsSpot, i).y += dy;
    }
}

/* The chosen ones alone, and the ends of the line with them; places along it are read anew. */
static void
move_some (TsRun *run, guint index, const TsSpotRef *spots, guint n_spots, double dx, double dy)
{
  for (guint i = 0; i < run->spots->len; i++)
    {
      TsSpot *spot = &g_array_index (run->spots, TsSpot, i);
      TsPoint *end = find_end (run, i);

      if (!is_chosen (spots, n_spots, index, i))
        continue;
      spot->x += dx;
      spot->y += dy;
      if (end != NULL)
        *end = (TsPoint){ spot->x, spot->y };
    }
  for (guint i = 0; i < run->spots->len; i++)
    {
      TsSpot *spot = &g_array_index (run->spots, TsSpot, i);

      spot->position = ts_run_get_position ((const TsPoint *) run->points->data, run->points->len,
                                            (TsPoint){ spot->x, spot->y });
    }
}

static gboolean
move_in_run (TsDocument *self, TsRun *run, guint index, const TsSpotRef *spots, guint n_spots,
             double dx, double dy)
{
  const TsCorrection *correction = ts_document_need_correction (self, run->picture);
  g_autoptr (GError) error = NULL;

  if (correction == NULL)
    return FALSE;
  if (is_whole (run, index, spots, n_spots))
    move_whole (run, dx, dy);
  else
    move_some (run, index, spots, n_spots, dx, dy);
  if (ts_pipeline_measure_run (run, ts_document_get_image (self, run->picture), correction, &error))
    return TRUE;
  ts_document_tell (self, error->message, NULL, NULL);
  return FALSE;
}

static gboolean
has_chosen (guint run, const TsSpotRef *spots, guint n_spots)
{
  for (guint i = 0; i < n_spots; i++)
    if (spots[i].run == run)
      return TRUE;
  return FALSE;
}

/**
 * ts_document_move_spots:
 * @self: a document
 * @surface: index of a surface
 * @spots: (array length=n_spots): some of its spots
 * @n_spots: how many
 * @dx: pixels to the right
 * @dy: pixels down
 *
 * Moves them together, and measures them there. A run whose spots are all among them moves as a
 * whole; an end takes its line with it. What would leave the picture stops all of them.
 */
void
ts_document_move_spots (TsDocument *self, guint surface, const TsSpotRef *spots, guint n_spots,
                        double dx, double dy)
{
  g_autoptr (TsPlan) plan = ts_plan_copy (self->plan);
  TsSurface *of = ts_plan_get_surface (plan, surface);

  if (n_spots == 0 || !hold_all (self, of, spots, n_spots, &dx, &dy))
    return;
  for (guint i = 0; i < of->runs->len; i++)
    if (has_chosen (i, spots, n_spots) &&
        !move_in_run (self, ts_surface_get_run (of, i), i, spots, n_spots, dx, dy))
      return;
  ts_document_change (self, g_steal_pointer (&plan), _ ("Move spots"), (int) surface);
}

/**
 * ts_document_remove_spots:
 * @self: a document
 * @surface: index of a surface
 * @spots: (array length=n_spots): some of its spots
 * @n_spots: how many
 *
 * Removes them. With an end the whole run goes.
 */
void
ts_document_remove_spots (TsDocument *self, guint surface, const TsSpotRef *spots, guint n_spots)
{
  TsPlan *plan;
  TsSurface *of;

  if (n_spots == 0)
    return;
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_surface (plan, surface);
  for (guint i = of->runs->len; i-- > 0;)
    {
      GArray *in_run = ts_surface_get_run (of, i)->spots;

      if (in_run->len == 0 || !has_chosen (i, spots, n_spots))
        continue;
      if (is_chosen (spots, n_spots, i, 0) || is_chosen (spots, n_spots, i, in_run->len - 1))
        {
          g_ptr_array_remove_index (of->runs, i);
          continue;
        }
      for (guint j = in_run->len; j-- > 0;)
        if (is_chosen (spots, n_spots, i, j))
          g_array_remove_index (in_run, j);
    }
  ts_document_change (self, plan, _ ("Remove spots"), (int) surface);
}
