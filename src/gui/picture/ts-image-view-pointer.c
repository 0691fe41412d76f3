/* ts-image-view-pointer.c: drags, clicks, wheel and pinch on the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define DRAG_THRESHOLD 8.0 /* a shorter drag selects */
#define MOVE_THRESHOLD 3.0 /* something that was taken hold of follows sooner */
#define WHEEL_STEP 1.25

static TsDocument *
get_document (TsImageView *self)
{
  return ts_view_get_document (TS_VIEW (self));
}

static gboolean
is_own_grip (TsImageView *self, TsGrip grip)
{
  return grip.kind != TS_GRIP_NONE &&
         grip.surface == ts_document_get_selected_surface (get_document (self));
}

static void
set_cursor (TsImageView *self, TsGrip grip)
{
  const char *name = "crosshair";

  if (self->space || self->drag == TS_DRAG_PAN)
    name = self->drag == TS_DRAG_PAN ? "grabbing" : "grab";
  else if (self->drag == TS_DRAG_MOVE || is_own_grip (self, grip))
    name = "move";
  else if (grip.kind != TS_GRIP_NONE)
    name = "pointer";
  if (self->image == NULL || (self->preview && !self->space && self->drag != TS_DRAG_PAN))
    name = NULL;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), name);
}

/* An end is a spot as well: the first or the last. */
static int
get_spot_of (TsImageView *self, TsGrip grip)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsRun *run;
  guint before;

  if (surface == NULL || !is_own_grip (self, grip) || grip.kind == TS_GRIP_LINE)
    return -1;
  run = ts_surface_get_run (surface, grip.run);
  before = ts_image_view_count_spots (surface, grip.run);
  if (grip.kind == TS_GRIP_SPOT)
    return (int) (before + grip.index);
  if (run->spots->len == 0)
    return -1;
  return (int) (grip.index == 0 ? before : before + run->spots->len - 1);
}

static void
hover_at (TsImageView *self, double x, double y)
{
  TsGrip grip = ts_image_view_hit (self, x, y);

  set_cursor (self, grip);
  if (self->hover != NULL)
    ts_hover_set (self->hover, -1, get_spot_of (self, grip));
}

static void
start_new (TsImageView *self)
{
  TsDocument *document = get_document (self);
  int selected = ts_document_get_selected_surface (document);

  ts_image_view_choose_none (self);
  if (self->shift && selected >= 0)
    {
      const TsSurface *surface =
        ts_plan_get_surface (ts_document_get_plan (document), (guint) selected);

      ts_document_begin_gesture (document, _ ("Add a Run"));
      self->grip = (TsGrip){ TS_GRIP_POINT, selected, surface->runs->len, 1 };
      ts_document_add_run (document, (guint) selected, self->start, self->last);
    }
  else
    {
      int added;

      ts_document_begin_gesture (document, _ ("Add a Surface"));
      added = ts_document_add_surface (document, self->start, self->last);
      if (added < 0) /* the document has said why */
        {
          ts_document_end_gesture (document);
          self->drag = TS_DRAG_NONE;
          return;
        }
      ts_document_select_surface (document, added);
      self->grip = (TsGrip){ TS_GRIP_POINT, added, 0, 1 };
    }
  self->drag = TS_DRAG_NEW;
}

static void
start_move (TsImageView *self)
{
  const char *name = self->grip.kind == TS_GRIP_SPOT ? _ ("Move a Spot") : _ ("Move a Run");

  self->moving_chosen = ts_image_view_holds_chosen (self, self->grip);
  if (self->moving_chosen)
    name = _ ("Move Spots");
  else
    ts_image_view_choose_none (self);
  ts_document_begin_gesture (get_document (self), name);
  self->drag = TS_DRAG_MOVE;
}

static void
follow (TsImageView *self, TsPoint to)
{
  TsDocument *document = get_document (self);
  TsGrip grip = self->grip;

  if (self->drag == TS_DRAG_MOVE && self->moving_chosen)
    {
      ts_image_view_move_chosen (self, to.x - self->last.x, to.y - self->last.y);
      self->last = to;
      return;
    }
  switch (grip.kind)
    {
    case TS_GRIP_POINT:
      ts_document_move_run_point (document, (guint) grip.surface, grip.run, grip.index, to);
      break;
    case TS_GRIP_SPOT:
      ts_document_move_spot (document, (guint) grip.surface, grip.run, grip.index, to);
      break;
    case TS_GRIP_LINE:
      ts_document_move_run (document, (guint) grip.surface, grip.run, to.x - self->last.x,
                            to.y - self->last.y);
      break;
    case TS_GRIP_NONE:
    default:
      break;
    }
  self->last = to;
}

static void
begin_drag (TsImageView *self, GdkModifierType state, double x, double y)
{
  self->shift = (state & GDK_SHIFT_MASK) != 0;
  self->start = self->last = ts_image_view_to_picture (self, x, y);
  self->start_x = self->x;
  self->start_y = self->y;
  self->grip = self->shift ? (TsGrip){ .surface = -1 } : ts_image_view_hit (self, x, y);
  self->drag = self->space                  ? TS_DRAG_PAN
               : self->preview              ? TS_DRAG_NONE
               : self->lighting             ? TS_DRAG_LIGHT
               : (state & GDK_CONTROL_MASK) ? TS_DRAG_OUTLINE
                                            : TS_DRAG_PENDING;
  if (self->drag == TS_DRAG_OUTLINE)
    ts_image_view_begin_outline (self, self->shift);
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsImageView *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->pointing != TS_POINTING_NOTHING)
    ts_image_view_take_point (self, ts_image_view_to_picture (self, x, y));
  else if (self->image != NULL && (!self->crossing || self->lighting) &&
           (self->over == NULL || self->space))
    begin_drag (self, state, x, y);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsImageView *self)
{
  gboolean own = is_own_grip (self, self->grip);
  TsPoint to = { self->start.x + dx / self->zoom, self->start.y + dy / self->zoom };

  if (self->drag == TS_DRAG_PAN)
    ts_image_view_pan (self, self->start_x + dx - self->x, self->start_y + dy - self->y);
  if (self->drag == TS_DRAG_OUTLINE)
    ts_image_view_extend_outline (self, to, FALSE);
  if (self->drag == TS_DRAG_LIGHT)
    {
      self->last = to;
      gtk_widget_queue_draw (GTK_WIDGET (self));
    }
  if (self->drag == TS_DRAG_PENDING && hypot (dx, dy) >= (own ? MOVE_THRESHOLD : DRAG_THRESHOLD))
    {
      if (own)
        start_move (self);
      else
        {
          self->last = to;
          start_new (self);
        }
    }
  if (self->drag == TS_DRAG_MOVE || self->drag == TS_DRAG_NEW)
    follow (self, to);
}

/* With Shift or Ctrl a click adds to what is chosen, or takes from it. */
static void
select_at (TsImageView *self, gboolean add)
{
  TsDocument *document = get_document (self);
  TsPoint at = ts_image_view_to_widget (self, self->start);
  int outlined;

  g_clear_pointer (&self->trail, g_array_unref);
  if (add)
    {
      ts_image_view_choose_grip (self, ts_image_view_hit (self, at.x, at.y));
      return;
    }
  ts_image_view_choose_none (self);
  if (self->grip.kind == TS_GRIP_NONE)
    {
      outlined = ts_image_view_find_outline (self, self->start);
      if (outlined >= 0)
        ts_document_select_surface (document, outlined);
      return;
    }
  if (!is_own_grip (self, self->grip))
    ts_document_select_surface (document, self->grip.surface);
  else if (self->grip.kind == TS_GRIP_SPOT)
    self->focus = self->grip;
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The hand has drawn nothing on its way. */
static gboolean
is_click (TsImageView *self)
{
  return self->trail != NULL && self->trail->len < 3;
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, TsImageView *self)
{
  TsDrag drag = self->drag;

  self->drag = TS_DRAG_NONE;
  if (drag == TS_DRAG_PENDING ||
      (drag == TS_DRAG_OUTLINE && hypot (dx, dy) < MOVE_THRESHOLD && is_click (self)))
    select_at (self, drag == TS_DRAG_OUTLINE || self->shift);
  else if (drag == TS_DRAG_OUTLINE)
    ts_image_view_end_outline (self);
  if (drag == TS_DRAG_LIGHT)
    ts_image_view_set_light (self, self->start, self->last);
  if (drag == TS_DRAG_NEW || drag == TS_DRAG_MOVE)
    ts_document_end_gesture (get_document (self));
  if (drag == TS_DRAG_NEW && !self->shift)
    ts_image_view_added (self, self->grip.surface);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_cancel_drag:
 * @self: the view
 *
 * Takes back what the drag that is under way has done.
 */
void
ts_image_view_cancel_drag (TsImageView *self)
{
  gboolean changed = self->drag == TS_DRAG_NEW || self->drag == TS_DRAG_MOVE;

  self->drag = TS_DRAG_NONE;
  g_clear_pointer (&self->trail, g_array_unref);
  if (changed)
    ts_document_cancel_gesture (get_document (self));
  gtk_gesture_set_state (self->drag_gesture, GTK_EVENT_SEQUENCE_DENIED);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence, TsImageView *self)
{
  if (self->drag == TS_DRAG_NEW || self->drag == TS_DRAG_MOVE)
    ts_document_end_gesture (get_document (self));
  self->drag = TS_DRAG_NONE;
  g_clear_pointer (&self->trail, g_array_unref);
}

static void
on_pan_begin (GtkGestureDrag *gesture, double x, double y, TsImageView *self)
{
  self->start_x = self->x;
  self->start_y = self->y;
}

static void
on_pan_update (GtkGestureDrag *gesture, double dx, double dy, TsImageView *self)
{
  ts_image_view_pan (self, self->start_x + dx - self->x, self->start_y + dy - self->y);
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y, TsImageView *self)
{
  self->pointer = (TsPoint){ x, y };
  self->has_pointer = TRUE;
  if (self->drag == TS_DRAG_NONE && get_document (self) != NULL && self->over == NULL)
    hover_at (self, x, y);
  ts_image_view_pointer_moved (self);
  if (self->magnify || self->over != NULL || ts_view_get_surface (TS_VIEW (self)) == NULL)
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_leave (GtkEventControllerMotion *motion, TsImageView *self)
{
  self->has_pointer = FALSE;
  if (self->hover != NULL)
    ts_hover_set (self->hover, -1, -1);
  ts_image_view_pointer_moved (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The wheel zooms; two fingers pan, and zoom with Ctrl. */
static gboolean
on_scroll (GtkEventControllerScroll *scroll, double dx, double dy, TsImageView *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));
  gboolean fingers = gtk_event_controller_scroll_get_unit (scroll) == GDK_SCROLL_UNIT_SURFACE;

  if (self->image == NULL)
    return FALSE;
  if (fingers && !(state & GDK_CONTROL_MASK))
    ts_image_view_pan (self, -dx, -dy);
  else
    ts_image_view_zoom_at (self, self->zoom * pow (WHEEL_STEP, fingers ? -dy / 20.0 : -dy),
                           self->pointer.x, self->pointer.y);
  return TRUE;
}

static void
on_pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, TsImageView *self)
{
  self->pinch_zoom = self->zoom;
  if (self->drag == TS_DRAG_NEW || self->drag == TS_DRAG_MOVE)
    ts_image_view_cancel_drag (self);
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, TsImageView *self)
{
  double x, y;

  if (gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    ts_image_view_zoom_at (self, self->pinch_zoom * scale, x, y);
}

static void
add_drags (TsImageView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new (), *pan = gtk_gesture_drag_new ();

  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (on_drag_cancel), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  self->drag_gesture = drag;

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (pan), GDK_BUTTON_MIDDLE);
  g_signal_connect (pan, "drag-begin", G_CALLBACK (on_pan_begin), self);
  g_signal_connect (pan, "drag-update", G_CALLBACK (on_pan_update), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pan));
}

/**
 * ts_image_view_add_pointer:
 * @self: a new view
 *
 * Adds all that a hand can do to the picture.
 */
void
ts_image_view_add_pointer (TsImageView *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll =
    gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *pinch = gtk_gesture_zoom_new ();

  add_drags (self);
  g_signal_connect (motion, "enter", G_CALLBACK (on_motion), self);
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  g_signal_connect (pinch, "begin", G_CALLBACK (on_pinch_begin), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));
}
