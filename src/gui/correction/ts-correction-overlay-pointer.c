/* ts-correction-overlay-pointer.c: corners and discs laid by hand
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-correction-overlay-private.h"

#include <math.h>

#define REACH 18.0    /* pixels from a corner that still take hold of it */
#define THRESHOLD 4.0 /* a shorter drag is a click */

static double
get_distance (TsCorrectionOverlay *self, TsPoint place, double x, double y)
{
  TsPoint at = ts_image_view_to_widget (self->image_view, place);

  return hypot (at.x - x, at.y - y);
}

static gboolean
hit_corner (TsCorrectionOverlay *self, double x, double y)
{
  const TsPoint *corners = ts_correction_draft_get_corners (self->draft);
  double least = REACH;
  gboolean found = FALSE;

  for (guint i = 0; corners != NULL && i < 4; i++)
    {
      double away = get_distance (self, corners[i], x, y);

      if (away > least)
        continue;
      least = away;
      self->index = i;
      found = TRUE;
    }
  return found;
}

static gboolean
hit_chart (TsCorrectionOverlay *self, TsPoint place)
{
  const TsPoint *p = ts_correction_draft_get_corners (self->draft);
  guint crossed = 0;

  for (guint i = 0, j = 3; p != NULL && i < 4; j = i++)
    if ((p[i].y > place.y) != (p[j].y > place.y) &&
        place.x < (p[j].x - p[i].x) * (place.y - p[i].y) / (p[j].y - p[i].y) + p[i].x)
      crossed++;
  return crossed % 2 == 1;
}

static gboolean
hit_disc (TsCorrectionOverlay *self, double x, double y)
{
  for (guint i = 0; i < TS_N_DISCS; i++)
    {
      const TsCardPlace *disc = ts_correction_draft_get_disc (self->draft, (TsDraftDisc) i);

      if (!ts_correction_overlay_shows_disc (self, (TsDraftDisc) i) ||
          get_distance (self, (TsPoint){ disc->x, disc->y }, x, y) >
            ts_correction_overlay_get_radius (self, (TsDraftDisc) i) + 4.0)
        continue;
      self->index = i;
      return TRUE;
    }
  return FALSE;
}

static TsHold
choose_hold (TsCorrectionOverlay *self, double x, double y)
{
  switch (ts_correction_draft_get_choice (self->draft))
    {
    case TS_DRAFT_CHART:
      if (!ts_correction_overlay_shows_chart (self))
        return TS_HOLD_NEW_CHART;
      if (hit_corner (self, x, y))
        return TS_HOLD_CORNER;
      return hit_chart (self, self->start) ? TS_HOLD_CHART : TS_HOLD_NEW_CHART;
    case TS_DRAFT_CARD:
    case TS_DRAFT_OTHER:
      return hit_disc (self, x, y) ? TS_HOLD_DISC : TS_HOLD_NEW_DISC;
    case TS_DRAFT_NONE:
    case TS_DRAFT_N_CHOICES:
    default:
      return TS_HOLD_NOTHING;
    }
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsCorrectionOverlay *self)
{
  self->hold = TS_HOLD_NOTHING;
  if (self->draft == NULL || ts_image_view_is_panning (self->image_view))
    return;
  self->start = self->last = ts_image_view_to_picture (self->image_view, x, y);
  self->moved = FALSE;
  self->hold = choose_hold (self, x, y);
  if (self->hold == TS_HOLD_NOTHING)
    return;
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  if (self->hold == TS_HOLD_CORNER)
    gtk_widget_grab_focus (self->corner[self->index]);
  else if (self->hold == TS_HOLD_DISC)
    gtk_widget_grab_focus (self->disc[self->index]);
}

static void
move_chart (TsCorrectionOverlay *self, double dx, double dy)
{
  const TsPoint *corners = ts_correction_draft_get_corners (self->draft);

  for (guint i = 0; i < 4; i++)
    ts_correction_draft_move_corner (self->draft, i,
                                     (TsPoint){ corners[i].x + dx, corners[i].y + dy });
}

/* Upright, from the one corner patch to the opposite one. */
static void
lay_chart (TsCorrectionOverlay *self, TsPoint to)
{
  TsPoint from = self->start;
  const TsPoint corners[4] = { { MIN (from.x, to.x), MIN (from.y, to.y) },
                               { MAX (from.x, to.x), MIN (from.y, to.y) },
                               { MAX (from.x, to.x), MAX (from.y, to.y) },
                               { MIN (from.x, to.x), MAX (from.y, to.y) } };

  ts_correction_draft_set_corners (self->draft, corners);
}

static void
follow (TsCorrectionOverlay *self, TsPoint to)
{
  double dx = to.x - self->last.x, dy = to.y - self->last.y;
  const TsPoint *corners = ts_correction_draft_get_corners (self->draft);
  const TsCardPlace *disc;

  switch (self->hold)
    {
    case TS_HOLD_CORNER:
      ts_correction_draft_move_corner (
        self->draft, self->index,
        (TsPoint){ corners[self->index].x + dx, corners[self->index].y + dy });
      break;
    case TS_HOLD_CHART:
      move_chart (self, dx, dy);
      break;
    case TS_HOLD_DISC:
      disc = ts_correction_draft_get_disc (self->draft, (TsDraftDisc) self->index);
      ts_correction_draft_set_disc (self->draft, (TsDraftDisc) self->index,
                                    (TsPoint){ disc->x + dx, disc->y + dy }, disc->radius);
      break;
    case TS_HOLD_NEW_CHART:
      lay_chart (self, to);
      break;
    case TS_HOLD_NEW_DISC:
      ts_correction_draft_set_disc (self->draft, ts_correction_draft_get_aim (self->draft),
                                    self->start,
                                    hypot (to.x - self->start.x, to.y - self->start.y));
      break;
    case TS_HOLD_NOTHING:
    default:
      break;
    }
  self->last = to;
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsCorrectionOverlay *self)
{
  double zoom = ts_image_view_get_zoom (self->image_view);

  if (self->hold == TS_HOLD_NOTHING || self->draft == NULL)
    return;
  self->moved = self->moved || hypot (dx, dy) >= THRESHOLD;
  if (self->moved)
    follow (self, (TsPoint){ self->start.x + dx / zoom, self->start.y + dy / zoom });
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, TsCorrectionOverlay *self)
{
  if (self->draft != NULL && self->hold == TS_HOLD_NEW_DISC && !self->moved)
    ts_correction_draft_find_disc (self->draft, ts_correction_draft_get_aim (self->draft),
                                   self->start);
  self->hold = TS_HOLD_NOTHING;
}

void
ts_correction_overlay_add_pointer (TsCorrectionOverlay *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
}
