/* ts-image-view-draw.c: the runs drawn over the picture, and what lies under a place
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"

#define GRIP_REACH 10.0 /* pixels from a ring that still take hold of it */
#define LINE_REACH 6.0
#define TICK_NEAR 9.0
#define TICK_FAR 16.0
#define PILL_GAP 6.0
#define LEAST_END 4.5 /* radius of the ends of a crowded run */

static const TsRun *
get_shown_run (TsImageView *self, const TsSurface *surface, guint index)
{
  const TsRun *run = ts_surface_get_run (surface, index);

  return run->picture == ts_document_get_shown_picture (ts_view_get_document (TS_VIEW (self)))
           ? run
           : NULL;
}

/**
 * ts_image_view_point_along:
 * @run: a run
 * @position: 0 = lit, 1 = shadow
 *
 * Returns: the place so far along the run's line, upright pixels
 */
TsPoint
ts_image_view_point_along (const TsRun *run, double position)
{
  const TsPoint *points = (const TsPoint *) (const void *) run->points->data;
  double rest = position * ts_run_get_length (points, run->points->len);

  for (guint i = 0; i + 1 < run->points->len; i++)
    {
      double dx = points[i + 1].x - points[i].x, dy = points[i + 1].y - points[i].y;
      double length = hypot (dx, dy);

      if (rest <= length && length > 0.0)
        return (TsPoint){ points[i].x + dx * rest / length, points[i].y + dy * rest / length };
      rest -= length;
    }
  return points[run->points->len - 1];
}

/**
 * ts_image_view_count_spots:
 * @surface: a surface
 * @run: index of one of its runs
 *
 * Returns: how many spots the runs before it have
 */
guint
ts_image_view_count_spots (const TsSurface *surface, guint run)
{
  guint n = 0;

  for (guint i = 0; i < run; i++)
    n += ts_surface_get_run (surface, i)->spots->len;
  return n;
}

/**
 * ts_image_view_find_step:
 * @self: the view
 * @role: untranslated role of a step
 *
 * Returns: the step of the selected surface that has it, or -1
 */
int
ts_image_view_find_step (TsImageView *self, const char *role)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsStair *stair = result != NULL ? ts_surface_result_get_stair (result) : NULL;

  for (guint i = 0; stair != NULL && i < ts_stair_get_n_steps (stair); i++)
    if (g_strcmp0 (ts_stair_get_role (stair, i), role) == 0)
      return (int) i;
  return -1;
}

static double
get_step_position (TsImageView *self, int step)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));

  if (result == NULL || step < 0 || step >= (int) ts_surface_result_get_n_steps (result))
    return -1.0;
  return ts_stair_get_step (ts_surface_result_get_stair (result), (guint) step)->position;
}

/* The spot nearest to a place on its run, or -1. */
static int
find_spot_near (const TsRun *run, double position)
{
  double least = 2.0;
  int found = -1;

  for (guint i = 0; position >= 0.0 && i < run->spots->len; i++)
    {
      double off = fabs (g_array_index (run->spots, TsSpot, i).position - position);

      if (off < least)
        {
          least = off;
          found = (int) i;
        }
    }
  return found;
}

typedef struct
{
  double radius, width;
} Ring;

static Ring
get_ring (const TsRun *run, guint spot, int base, int hovered, gboolean focused, double size)
{
  gboolean is_end = spot == 0 || spot + 1 == run->spots->len;

  if (is_end)
    return (Ring){ MAX (LEAST_END, TS_END_RADIUS * size),
                   focused || (int) spot == hovered ? 2.4 : 1.6 };
  if ((int) spot == hovered || focused)
    return (Ring){ TS_HOVER_RADIUS, 2.0 };
  if ((int) spot == base)
    return (Ring){ (TS_HOVER_RADIUS - 0.5) * size, 2.0 };
  return (Ring){ TS_SPOT_RADIUS * size, 1.2 };
}

/* Two strokes beside the ring of a spot that is clipped; they leave free what is measured. Its
 * words stand by it while it is hovered or has the focus. */
static void
draw_clipped_spot (TsImageView *self, cairo_t *cr, const TsSpot *spot, Ring ring, TsPoint at,
                   gboolean marked)
{
  g_autofree char *words = ts_format_clipped (spot);
  double near = (ring.radius + 1.5) * G_SQRT2 / 2.0, far = near + 4.0;

  if (words == NULL)
    return;
  cairo_new_path (cr);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_move_to (cr, at.x + side * near, at.y - side * near);
      cairo_line_to (cr, at.x + side * far, at.y - side * far);
    }
  ts_draw_stroke_over (cr, 1.6);
  if (marked)
    ts_draw_pill (cr, GTK_WIDGET (self), words, at.x, at.y - ring.radius - 18.0);
}

static void
draw_selected_run (TsImageView *self, cairo_t *cr, const TsSurface *surface, guint index,
                   const TsRun *run)
{
  int base = find_spot_near (run, get_step_position (self, ts_image_view_find_step (self, "base")));
  int hovered = self->hover != NULL ? ts_hover_get_spot (self->hover) : -1;
  g_autofree Ring *rings = g_new (Ring, run->spots->len);
  g_autofree TsPoint *at = g_new (TsPoint, run->spots->len);
  double size;

  for (guint i = 0; i < run->spots->len; i++)
    {
      const TsSpot *spot = &g_array_index (run->spots, TsSpot, i);

      at[i] = ts_image_view_to_widget (self, (TsPoint){ spot->x, spot->y });
    }
  size = ts_draw_get_crowding (at, run->spots->len);
  hovered = hovered >= 0 ? hovered - (int) ts_image_view_count_spots (surface, index) : -1;
  for (guint i = 0; i < run->spots->len; i++)
    {
      gboolean focused = self->focus.kind != TS_GRIP_NONE && self->focus.run == index &&
                         self->focus.index == i && gtk_widget_has_focus (GTK_WIDGET (self));

      rings[i] = get_ring (run, i, base, hovered, focused, size);
    }
  cairo_new_path (cr);
  for (guint i = 0; i + 1 < run->spots->len; i++)
    ts_draw_segment (cr, at[i], at[i + 1], rings[i].radius + 1.0, rings[i + 1].radius + 1.0);
  ts_draw_stroke_over (cr, 1.2);
  for (guint i = 0; i < run->spots->len; i++)
    {
      ts_draw_ring (cr, at[i], rings[i].radius, rings[i].width);
      if (ts_image_view_is_chosen (self, index, i))
        ts_image_view_draw_chosen (self, cr, at[i], rings[i].radius);
    }
  for (guint i = 0; i < run->spots->len; i++)
    draw_clipped_spot (self, cr, &g_array_index (run->spots, TsSpot, i), rings[i], at[i],
                       (int) i == hovered || rings[i].width > 1.9);
}

static void
draw_line_alone (TsImageView *self, cairo_t *cr, const TsRun *run)
{
  cairo_new_path (cr);
  for (guint i = 0; i < run->points->len; i++)
    {
      TsPoint at = ts_image_view_to_widget (self, g_array_index (run->points, TsPoint, i));

      cairo_line_to (cr, at.x, at.y);
    }
  ts_draw_stroke_over (cr, 1.2);
}

static void
draw_dotted_run (TsImageView *self, cairo_t *cr, const TsRun *run)
{
  const double dashes[] = { 1.5, 3.0 };

  cairo_save (cr);
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0.0);
  draw_line_alone (self, cr, run);
  cairo_restore (cr);
}

/* A short mark beside the run, on the side that lies lower. */
static void
draw_tick (TsImageView *self, cairo_t *cr, const TsRun *run, double position, gboolean hovered)
{
  TsPoint at = ts_image_view_to_widget (self, ts_image_view_point_along (run, position));
  TsPoint on =
    ts_image_view_to_widget (self, ts_image_view_point_along (run, MIN (1.0, position + 0.01)));
  TsPoint back =
    ts_image_view_to_widget (self, ts_image_view_point_along (run, MAX (0.0, position - 0.01)));
  double dx = on.x - back.x, dy = on.y - back.y, length = hypot (dx, dy);
  double side = dx >= 0.0 ? 1.0 : -1.0;
  double nx = length > 0.0 ? -dy / length * side : 0.0,
         ny = length > 0.0 ? dx / length * side : 1.0;
  double far = hovered ? TICK_FAR + 5.0 : TICK_FAR;

  cairo_new_path (cr);
  cairo_move_to (cr, at.x + nx * TICK_NEAR, at.y + ny * TICK_NEAR);
  cairo_line_to (cr, at.x + nx * far, at.y + ny * far);
  ts_draw_stroke_over (cr, hovered ? 2.4 : 1.4);
}

/* Each step where it lies; of a polished surface each tone wherever the run has it. */
static void
draw_ticks (TsImageView *self, cairo_t *cr, const TsRun *run)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  guint n = result != NULL ? ts_surface_result_get_n_steps (result) : 0;
  int hovered = self->hover != NULL ? ts_hover_get_step (self->hover) : -1;

  /* The steps of another surface's stair lie on the other's run. */
  if (surface != ts_view_get_stair_surface (TS_VIEW (self)))
    return;
  for (guint i = 0; i < n; i++)
    {
      double places[TS_CURVE_MAX_PLACES];
      guint n_places = 0;

      if (surface->polished)
        n_places = ts_stair_find_places (ts_surface_result_get_stair (result), i, places);
      for (guint j = 0; j < n_places; j++)
        draw_tick (self, cr, run, places[j], (int) i == hovered);
      if (n_places == 0)
        draw_tick (self, cr, run, get_step_position (self, (int) i), (int) i == hovered);
    }
}

/* Beyond the end, along the run, clear of its ring. */
static void
draw_end_pill (TsImageView *self, cairo_t *cr, TsPoint end, TsPoint towards, const char *text)
{
  double dx = end.x - towards.x, dy = end.y - towards.y, length = hypot (dx, dy);
  double width, height, reach;
  int w = gtk_widget_get_width (GTK_WIDGET (self)), h = gtk_widget_get_height (GTK_WIDGET (self));

  if (length <= 0.0)
    return;
  dx /= length;
  dy /= length;
  ts_draw_pill_size (GTK_WIDGET (self), text, &width, &height);
  reach = MIN (fabs (dx) > 1e-6 ? width / 2.0 / fabs (dx) : 1e6,
               fabs (dy) > 1e-6 ? height / 2.0 / fabs (dy) : 1e6);
  reach += TS_END_RADIUS + PILL_GAP;
  ts_draw_pill (cr, GTK_WIDGET (self), text,
                CLAMP (end.x + dx * reach, width / 2.0, w - width / 2.0),
                CLAMP (end.y + dy * reach, height / 2.0, h - height / 2.0));
}

static void
draw_pills (TsImageView *self, cairo_t *cr, const TsRun *run)
{
  const TsPoint *points = (const TsPoint *) (const void *) run->points->data;
  guint n = run->points->len;

  draw_end_pill (self, cr, ts_image_view_to_widget (self, points[0]),
                 ts_image_view_to_widget (self, points[1]), _ ("lit"));
  draw_end_pill (self, cr, ts_image_view_to_widget (self, points[n - 1]),
                 ts_image_view_to_widget (self, points[n - 2]), _ ("shadow"));
}

static void
draw_other_surfaces (TsImageView *self, cairo_t *cr, const TsPlan *plan, int selected)
{
  for (guint i = 0; i < plan->surfaces->len; i++)
    {
      const TsSurface *surface = ts_plan_get_surface (plan, i);

      if ((int) i == selected || surface->hidden)
        continue;
      for (guint j = 0; j < surface->runs->len; j++)
        {
          const TsRun *run = get_shown_run (self, surface, j);

          if (run != NULL)
            draw_dotted_run (self, cr, run);
        }
    }
}

static void
draw_selected_surface (TsImageView *self, cairo_t *cr, const TsSurface *surface)
{
  gboolean first = TRUE;

  for (guint i = 0; i < surface->runs->len; i++)
    {
      const TsRun *run = get_shown_run (self, surface, i);

      if (run == NULL)
        continue;
      if (run->spots->len > 0)
        draw_selected_run (self, cr, surface, i, run);
      else
        draw_line_alone (self, cr, run);
      if (!first)
        continue;
      draw_ticks (self, cr, run);
      draw_pills (self, cr, run);
      first = FALSE;
    }
}

static const char *
get_cross_words (TsImageView *self)
{
  if (self->trail != NULL)
    return _ ("corners: arrows, then Return; O closes the outline");
  if (self->lighting)
    return self->cross_started ? _ ("the way it falls: arrows, then Return")
                               : _ ("drag the way the light falls, or arrows, then Return");
  if (self->pointing == TS_POINTING_CARD)
    return _ ("click on the grey card, or arrows, then Return");
  if (self->pointing == TS_POINTING_BRIEF)
    return _ ("click on the colour that is asked for, or arrows, then Return");
  return self->cross_started ? _ ("shadow end: arrows, then Return")
                             : _ ("lit end: arrows, then Return");
}

static void
draw_cross (TsImageView *self, cairo_t *cr)
{
  TsPoint at = ts_image_view_to_widget (self, self->cross);

  cairo_new_path (cr);
  cairo_move_to (cr, at.x - 14, at.y);
  cairo_line_to (cr, at.x - 4, at.y);
  cairo_move_to (cr, at.x + 4, at.y);
  cairo_line_to (cr, at.x + 14, at.y);
  cairo_move_to (cr, at.x, at.y - 14);
  cairo_line_to (cr, at.x, at.y - 4);
  cairo_move_to (cr, at.x, at.y + 4);
  cairo_line_to (cr, at.x, at.y + 14);
  ts_draw_stroke_over (cr, 1.6);
  ts_draw_pill (cr, GTK_WIDGET (self), get_cross_words (self), at.x, at.y + 30);
}

static void
draw_invitation (TsImageView *self, cairo_t *cr)
{
  const char *text = _ ("drag from lit to shadow");
  double width, height, x;

  ts_draw_pill_size (GTK_WIDGET (self), text, &width, &height);
  x = MIN (self->pointer.x + 16.0 + width / 2.0,
           gtk_widget_get_width (GTK_WIDGET (self)) - width / 2.0 - 4.0);
  ts_draw_pill (cr, GTK_WIDGET (self), text, x, self->pointer.y + 16.0);
}

void
ts_image_view_draw_overlay (TsImageView *self, cairo_t *cr)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  int selected = ts_document_get_selected_surface (document);
  TsPoint place;

  if (plan == NULL)
    return;
  if (!ts_image_view_is_dragging (self))
    draw_other_surfaces (self, cr, plan, selected);
  /* Under the pills: no line crosses a word. */
  ts_image_view_draw_outlines (self, cr);
  if (selected >= 0)
    draw_selected_surface (self, cr, ts_plan_get_surface (plan, (guint) selected));
  ts_image_view_draw_band (self, cr);
  if (self->crossing)
    draw_cross (self, cr);
  else if (plan->surfaces->len == 0 && self->drag == TS_DRAG_NONE &&
           ts_image_view_get_pointer (self, &place))
    draw_invitation (self, cr);
}

static gboolean
is_near (TsImageView *self, TsPoint place, double x, double y, double reach)
{
  TsPoint at = ts_image_view_to_widget (self, place);

  return hypot (at.x - x, at.y - y) <= reach;
}

static gboolean
hit_line (TsImageView *self, const TsRun *run, double x, double y)
{
  TsPoint place = ts_image_view_to_picture (self, x, y);
  double position = ts_run_get_position ((const TsPoint *) (const void *) run->points->data,
                                         run->points->len, place);

  return is_near (self, ts_image_view_point_along (run, position), x, y, LINE_REACH);
}

static TsGrip
hit_run (TsImageView *self, int surface, guint index, const TsRun *run, double x, double y)
{
  TsGrip grip = { TS_GRIP_NONE, surface, index, 0 };
  double least = GRIP_REACH;

  for (guint i = 0; i < run->points->len; i++)
    if (is_near (self, g_array_index (run->points, TsPoint, i), x, y, GRIP_REACH))
      return (TsGrip){ TS_GRIP_POINT, surface, index, i };
  for (guint i = 0; i < run->spots->len; i++)
    {
      const TsSpot *spot = &g_array_index (run->spots, TsSpot, i);
      TsPoint at = ts_image_view_to_widget (self, (TsPoint){ spot->x, spot->y });
      double off = hypot (at.x - x, at.y - y);

      if (off < least)
        {
          least = off;
          grip.kind = TS_GRIP_SPOT;
          grip.index = i;
        }
    }
  if (grip.kind == TS_GRIP_NONE && hit_line (self, run, x, y))
    grip.kind = TS_GRIP_LINE;
  return grip;
}

static TsGrip
hit_surface (TsImageView *self, const TsPlan *plan, int index, double x, double y)
{
  const TsSurface *surface = ts_plan_get_surface (plan, (guint) index);
  TsGrip grip = { TS_GRIP_NONE, -1, 0, 0 };

  for (guint i = 0; grip.kind == TS_GRIP_NONE && i < surface->runs->len; i++)
    {
      const TsRun *run = get_shown_run (self, surface, i);

      if (run != NULL)
        grip = hit_run (self, index, i, run, x, y);
    }
  return grip;
}

/**
 * ts_image_view_hit:
 * @self: the view
 * @x: widget pixels
 * @y: widget pixels
 *
 * Returns: what of a run lies there, the selected surface first
 */
TsGrip
ts_image_view_hit (TsImageView *self, double x, double y)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  int selected = ts_document_get_selected_surface (document);
  TsGrip grip = { TS_GRIP_NONE, -1, 0, 0 };

  if (plan == NULL || self->preview)
    return grip;
  if (selected >= 0)
    grip = hit_surface (self, plan, selected, x, y);
  for (guint i = 0; grip.kind == TS_GRIP_NONE && i < plan->surfaces->len; i++)
    grip = hit_surface (self, plan, (int) i, x, y);
  return grip;
}
