/* ts-finish-view-lines.c: what the selected surface was measured by, over a picture of the finish
 * check
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/finish/ts-finish-view-private.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-draw.h"

#define END_RADIUS 7.0
#define SPOT_RADIUS 3.6
#define LEAST_END 4.5 /* radius of the ends of a crowded line */
#define LINE_WIDTH 1.6
#define FOCUS_WIDTH 2.8

static guint
get_surface_index (TsFinishView *self)
{
  return (guint) ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));
}

static const TsPlan *
get_plan (TsFinishView *self)
{
  return ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
}

static guint
count_runs (TsFinishView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  guint n = 0;

  if (surface == NULL || self->picture < 0)
    return 0;
  if (self->role == TS_ROLE_REFERENCE)
    return surface->runs->len;
  while (ts_finish_find_run (get_plan (self), get_surface_index (self), n) != NULL)
    n++;
  return n;
}

const TsOutline *
ts_finish_view_get_outline (TsFinishView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsOutline *outline;

  if (surface == NULL || self->picture < 0 || count_runs (self) > 0)
    return NULL;
  outline = self->role == TS_ROLE_REFERENCE
              ? surface->outline
              : ts_document_get_finish_outline (ts_view_get_document (TS_VIEW (self)),
                                                get_surface_index (self));
  return outline != NULL && outline->picture == (guint) self->picture ? outline : NULL;
}

guint
ts_finish_view_count_lines (TsFinishView *self)
{
  return ts_finish_view_get_outline (self) != NULL ? 1 : count_runs (self);
}

static const TsRun *
get_run (TsFinishView *self, guint run)
{
  const TsRun *found;

  if (run >= count_runs (self))
    return NULL;
  found = self->role == TS_ROLE_REFERENCE
            ? ts_surface_get_run (ts_view_get_surface (TS_VIEW (self)), run)
            : ts_finish_find_run (get_plan (self), get_surface_index (self), run)->run;
  return found->picture == (guint) self->picture ? found : NULL;
}

const GArray *
ts_finish_view_get_points (TsFinishView *self, guint line)
{
  const TsOutline *outline = ts_finish_view_get_outline (self);
  const TsRun *run = get_run (self, line);

  if (outline != NULL && line == 0)
    return outline->points;
  return run != NULL ? run->points : NULL;
}

/* Whether the arrows move anything of @line. */
static gboolean
is_line_moved_by_keys (TsFinishView *self, guint line)
{
  return line == self->focus_line && gtk_widget_has_visible_focus (GTK_WIDGET (self)) &&
         self->role == TS_ROLE_FINISHED;
}

static gboolean
is_moved_by_keys (TsFinishView *self, guint run, guint spot, guint n_spots, guint n_points)
{
  if (!is_line_moved_by_keys (self, run))
    return FALSE;
  return self->focus == TS_FINISH_LINE ||
         (spot == 0 ? self->focus == 0 : spot + 1 == n_spots && self->focus == (int) n_points - 1);
}

static void
draw_run (TsFinishView *self, cairo_t *cr, guint index)
{
  const TsRun *run = get_run (self, index);
  guint n = run->spots->len;
  g_autofree TsPoint *at = g_new (TsPoint, n);
  g_autofree double *radius = g_new (double, n);
  double size;

  for (guint i = 0; i < n; i++)
    {
      const TsSpot *spot = &g_array_index (run->spots, TsSpot, i);

      at[i] = ts_finish_view_to_widget (self, (TsPoint){ spot->x, spot->y });
    }
  size = ts_draw_get_crowding (at, n);
  for (guint i = 0; i < n; i++)
    radius[i] = i == 0 || i + 1 == n ? MAX (LEAST_END, END_RADIUS * size) : SPOT_RADIUS * size;
  cairo_new_path (cr);
  for (guint i = 0; i + 1 < n; i++)
    ts_draw_segment (cr, at[i], at[i + 1], radius[i] + 1.0, radius[i + 1] + 1.0);
  ts_draw_stroke_over (cr, 1.2);
  for (guint i = 0; i < n; i++)
    ts_draw_ring (cr, at[i], radius[i],
                  is_moved_by_keys (self, index, i, n, run->points->len) ? FOCUS_WIDTH
                                                                         : LINE_WIDTH);
}

/* With a ring on each corner where it can be moved. */
static void
draw_outline (TsFinishView *self, cairo_t *cr, const TsOutline *outline)
{
  guint n = outline->points->len;
  g_autofree TsPoint *at = g_new (TsPoint, n);
  gboolean by_keys = is_line_moved_by_keys (self, 0);

  for (guint i = 0; i < n; i++)
    at[i] = ts_finish_view_to_widget (self, g_array_index (outline->points, TsPoint, i));
  ts_draw_outline (cr, at, n);
  for (guint i = 0; self->role == TS_ROLE_FINISHED && i < n; i++)
    ts_draw_ring (cr, at[i], SPOT_RADIUS,
                  by_keys && (self->focus == TS_FINISH_LINE || self->focus == (int) i)
                    ? FOCUS_WIDTH
                    : LINE_WIDTH);
}

void
ts_finish_view_draw_lines (TsFinishView *self, cairo_t *cr)
{
  const TsOutline *outline = ts_finish_view_get_outline (self);

  if (outline != NULL)
    draw_outline (self, cr, outline);
  for (guint i = 0; i < count_runs (self); i++)
    if (get_run (self, i) != NULL)
      draw_run (self, cr, i);
}

/* Where the selected surface was measured, and %NULL where it was not. */
static char *
dup_place (TsFinishView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsOutline *outline = ts_finish_view_get_outline (self);
  const GArray *points = ts_finish_view_get_points (self, self->focus_line);
  TsPoint first, last;

  if (points == NULL)
    return NULL;
  first = g_array_index (points, TsPoint, 0);
  last = g_array_index (points, TsPoint, points->len - 1);
  if (outline == NULL)
    return g_strdup_printf (_ ("%s: run from lit %.0f, %.0f to shadow %.0f, %.0f."), surface->name,
                            first.x, first.y, last.x, last.y);
  for (guint i = 0; i < points->len; i++)
    {
      TsPoint at = g_array_index (points, TsPoint, i);

      first = i == 0 ? at : (TsPoint){ MIN (first.x, at.x), MIN (first.y, at.y) };
      last = i == 0 ? at : (TsPoint){ MAX (last.x, at.x), MAX (last.y, at.y) };
    }
  return g_strdup_printf (_ ("%s: outline of %u corners within %.0f, %.0f and %.0f, %.0f."),
                          surface->name, points->len, first.x, first.y, last.x, last.y);
}

/* What the arrows move. */
static char *
dup_moved (TsFinishView *self)
{
  gboolean is_outline = ts_finish_view_get_outline (self) != NULL;

  if (self->focus == TS_FINISH_LINE)
    return g_strdup (is_outline ? _ ("the outline") : _ ("the line"));
  if (is_outline)
    return g_strdup_printf (_ ("corner %d"), self->focus + 1);
  return g_strdup (self->focus == 0 ? _ ("the lit end") : _ ("the shadow end"));
}

void
ts_finish_view_describe (TsFinishView *self)
{
  g_autofree char *place = dup_place (self), *moved = dup_moved (self), *words = NULL;

  if (place != NULL && self->role == TS_ROLE_FINISHED)
    words = g_strdup_printf (_ ("%s Arrows move %s; Return chooses another."), place, moved);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  self->role == TS_ROLE_FINISHED ? _ ("Finished figure")
                                                                 : _ ("Reference"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  words != NULL   ? words
                                  : place != NULL ? place
                                                  : _ ("no run"),
                                  -1);
}
