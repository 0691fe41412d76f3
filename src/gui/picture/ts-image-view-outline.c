/* ts-image-view-outline.c: whole surfaces outlined on the picture, and the arrow of the light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"

#define LEAST_STEP 4.0   /* pixels of the window from one corner to the next */
#define MOST_CORNERS 900 /* a plan keeps 1000 */
#define HEAD 13.0        /* of the arrow, pixels */
#define HEAD_ANGLE 0.45
#define PILL_GAP 16.0

static TsDocument *
get_document (TsImageView *self)
{
  return ts_view_get_document (TS_VIEW (self));
}

static void
on_outlined (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsImageView) self = user_data;
  guint before = ts_document_get_plan (TS_DOCUMENT (source))->surfaces->len;
  int surface = ts_document_outline_finish (TS_DOCUMENT (source), result);

  if (surface >= (int) before)
    ts_image_view_added (self, surface);
}

/**
 * ts_image_view_begin_outline:
 * @self: the view
 * @of_selected: whether it is the selected surface that is outlined, and not a new one
 */
void
ts_image_view_begin_outline (TsImageView *self, gboolean of_selected)
{
  g_clear_pointer (&self->trail, g_array_unref);
  self->trail = g_array_new (FALSE, FALSE, sizeof (TsPoint));
  self->outline_selected = of_selected;
}

/**
 * ts_image_view_extend_outline:
 * @self: a view whose outline is being drawn
 * @place: where the hand is now, upright pixels
 * @near: whether it counts even beside the last corner
 */
void
ts_image_view_extend_outline (TsImageView *self, TsPoint place, gboolean near)
{
  const TsPoint *last;

  if (self->trail->len > 0)
    {
      last = &g_array_index (self->trail, TsPoint, self->trail->len - 1);
      if (!near && hypot (place.x - last->x, place.y - last->y) * self->zoom < LEAST_STEP)
        return;
    }
  if (self->trail->len < MOST_CORNERS)
    g_array_append_val (self->trail, place);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_end_outline:
 * @self: a view whose outline has been drawn
 *
 * Reads what lies within; three corners are the least.
 */
void
ts_image_view_end_outline (TsImageView *self)
{
  g_autoptr (GArray) trail = g_steal_pointer (&self->trail);
  TsDocument *document = get_document (self);
  int selected = ts_document_get_selected_surface (document);

  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (trail == NULL || trail->len < 3)
    return;
  ts_document_outline (document, self->outline_selected ? selected : -1,
                       (const TsPoint *) (const void *) trail->data, trail->len, on_outlined,
                       g_object_ref (self));
}

static TsPoint *
dup_in_widget (TsImageView *self, const GArray *points)
{
  TsPoint *at = g_new (TsPoint, points->len);

  for (guint i = 0; i < points->len; i++)
    at[i] = ts_image_view_to_widget (self, g_array_index (points, TsPoint, i));
  return at;
}

static void
draw_outline (TsImageView *self, cairo_t *cr, const GArray *points)
{
  g_autofree TsPoint *at = dup_in_widget (self, points);

  ts_draw_outline (cr, at, points->len);
}

static void
draw_trail (TsImageView *self, cairo_t *cr)
{
  g_autofree TsPoint *at = dup_in_widget (self, self->trail);

  cairo_new_path (cr);
  for (guint i = 0; i < self->trail->len; i++)
    cairo_line_to (cr, at[i].x, at[i].y);
  ts_draw_stroke_over (cr, 1.6);
}

/* From @from to @to, both in the window. */
static void
draw_arrow (TsImageView *self, cairo_t *cr, TsPoint from, TsPoint to)
{
  double angle = atan2 (to.y - from.y, to.x - from.x);

  if (hypot (to.x - from.x, to.y - from.y) < 2.0)
    return;
  cairo_new_path (cr);
  cairo_move_to (cr, from.x, from.y);
  cairo_line_to (cr, to.x, to.y);
  cairo_line_to (cr, to.x - HEAD * cos (angle - HEAD_ANGLE),
                 to.y - HEAD * sin (angle - HEAD_ANGLE));
  cairo_move_to (cr, to.x, to.y);
  cairo_line_to (cr, to.x - HEAD * cos (angle + HEAD_ANGLE),
                 to.y - HEAD * sin (angle + HEAD_ANGLE));
  ts_draw_stroke_over (cr, 1.8);
  ts_draw_pill (cr, GTK_WIDGET (self), _ ("light"), from.x - PILL_GAP * cos (angle),
                from.y - PILL_GAP * sin (angle));
}

static const TsPicture *
get_picture (TsImageView *self)
{
  const TsPlan *plan = ts_document_get_plan (get_document (self));
  guint shown = ts_document_get_shown_picture (get_document (self));

  return plan != NULL && shown < plan->pictures->len ? ts_plan_get_picture (plan, shown) : NULL;
}

static void
draw_light (TsImageView *self, cairo_t *cr)
{
  const TsPicture *picture = get_picture (self);
  TsPoint from, to;

  if (self->drag == TS_DRAG_LIGHT || (self->lighting && self->cross_started))
    {
      from = self->start;
      to = self->drag == TS_DRAG_LIGHT ? self->last : self->cross;
    }
  else if (picture != NULL && picture->has_light)
    {
      from = picture->light_from;
      to = picture->light_to;
    }
  else
    return;
  draw_arrow (self, cr, ts_image_view_to_widget (self, from), ts_image_view_to_widget (self, to));
}

/**
 * ts_image_view_draw_outlines:
 * @self: the view
 * @cr: a cairo context
 *
 * Draws the outline of the selected surface, the one that is being drawn, and where the light is.
 */
void
ts_image_view_draw_outlines (TsImageView *self, cairo_t *cr)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));

  if (surface != NULL && surface->outline != NULL && self->trail == NULL &&
      surface->outline->picture == ts_document_get_shown_picture (get_document (self)))
    draw_outline (self, cr, surface->outline->points);
  if (self->trail != NULL)
    draw_trail (self, cr);
  draw_light (self, cr);
}

/**
 * ts_image_view_find_outline:
 * @self: the view
 * @place: upright pixels
 *
 * Returns: the surface with the smallest outline about @place, or -1
 */
int
ts_image_view_find_outline (TsImageView *self, TsPoint place)
{
  const TsPlan *plan = ts_document_get_plan (get_document (self));
  guint shown = ts_document_get_shown_picture (get_document (self));
  double least = G_MAXDOUBLE;
  int found = -1;

  for (guint i = 0; plan != NULL && i < plan->surfaces->len; i++)
    {
      const TsOutline *outline = ts_plan_get_surface (plan, i)->outline;
      const TsPoint *points;

      if (outline == NULL || outline->picture != shown)
        continue;
      points = (const TsPoint *) (const void *) outline->points->data;
      if (ts_outline_contains (points, outline->points->len, place) &&
          ts_outline_get_area (points, outline->points->len) < least)
        {
          least = ts_outline_get_area (points, outline->points->len);
          found = (int) i;
        }
    }
  return found;
}

/**
 * ts_image_view_set_light:
 * @self: the view
 * @from: where the light comes from, upright pixels
 * @to: where it falls
 */
void
ts_image_view_set_light (TsImageView *self, TsPoint from, TsPoint to)
{
  self->lighting = self->crossing = self->cross_started = FALSE;
  ts_document_set_light (get_document (self), ts_document_get_shown_picture (get_document (self)),
                         from, to);
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_append_outline:
 * @self: the view
 * @words: (inout): what the picture's description says so far
 */
void
ts_image_view_append_outline (TsImageView *self, GString *words)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsPicture *picture = get_picture (self);

  if (surface != NULL && surface->outline != NULL)
    g_string_append_printf (words, _ (" Outline of %u corners."), surface->outline->points->len);
  if (picture != NULL && picture->has_light)
    g_string_append_printf (words, _ (" The light falls from %.0f, %.0f to %.0f, %.0f."),
                            picture->light_from.x, picture->light_from.y, picture->light_to.x,
                            picture->light_to.y);
  if (self->trail != NULL)
    g_string_append_printf (
      words, ngettext (" %u corner so far.", " %u corners so far.", self->trail->len),
      self->trail->len);
}
