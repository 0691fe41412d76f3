/* ts-finish-view-input.c: pointer and keyboard on a picture of the finish check
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/finish/ts-finish-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define GRIP_REACH 10.0 /* pixels from a ring that still take hold of it */
#define LINE_REACH 6.0
#define ZOOM_STEP 1.25
#define FAR_STEP 10.0
#define PAN_STEP 40.0

static TsDocument *
get_document (TsFinishView *self)
{
  return ts_view_get_document (TS_VIEW (self));
}

static double
distance (TsPoint one, double x, double y)
{
  return hypot (one.x - x, one.y - y);
}

/* How far a place of the widget is from the piece of a line between two others. */
static double
distance_to_line (TsPoint from, TsPoint to, double x, double y)
{
  double dx = to.x - from.x, dy = to.y - from.y, square = dx * dx + dy * dy;
  double along = square > 0.0 ? ((x - from.x) * dx + (y - from.y) * dy) / square : 0.0;

  along = CLAMP (along, 0.0, 1.0);
  return hypot (from.x + along * dx - x, from.y + along * dy - y);
}

/* A point of one line, else the line, or within an outline the whole of it, else nothing of it. */
static int
hit_line (TsFinishView *self, const GArray *points, gboolean is_outline, double x, double y)
{
  guint n = points->len;
  g_autofree TsPoint *at = g_new (TsPoint, n);

  for (guint i = 0; i < n; i++)
    {
      at[i] = ts_finish_view_to_widget (self, g_array_index (points, TsPoint, i));
      if (distance (at[i], x, y) <= GRIP_REACH)
        return (int) i;
    }
  for (guint i = is_outline ? 0 : 1; i < n; i++)
    if (distance_to_line (at[(i + n - 1) % n], at[i], x, y) <= LINE_REACH)
      return TS_FINISH_LINE;
  return is_outline && ts_outline_contains (at, n, (TsPoint){ x, y }) ? TS_FINISH_LINE
                                                                      : TS_FINISH_GROUND;
}

/* Of the first line that is there; ends before lines. */
static int
hit (TsFinishView *self, double x, double y, guint *line)
{
  gboolean is_outline = ts_finish_view_get_outline (self) != NULL;
  int found = TS_FINISH_GROUND;

  *line = 0;
  for (guint i = 0; self->role == TS_ROLE_FINISHED && i < ts_finish_view_count_lines (self); i++)
    {
      const GArray *points = ts_finish_view_get_points (self, i);
      int what = points != NULL ? hit_line (self, points, is_outline, x, y) : TS_FINISH_GROUND;

      if (what >= 0 || (what == TS_FINISH_LINE && found == TS_FINISH_GROUND))
        {
          found = what;
          *line = i;
        }
      if (what >= 0)
        break;
    }
  return found;
}

static void
take_card (TsFinishView *self, TsPoint place)
{
  g_autoptr (GError) error = NULL;

  self->placing_card = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (!ts_document_place_card (get_document (self), (guint) self->picture, place, &error))
    g_signal_emit_by_name (get_document (self), "message", error->message, NULL, NULL);
}

/* What is held, or else what the keyboard moves, follows by dx, dy pixels of the picture. */
static void
move_by (TsFinishView *self, guint line, int what, double dx, double dy)
{
  TsDocument *document = get_document (self);
  const GArray *points = ts_finish_view_get_points (self, line);
  guint surface = (guint) ts_document_get_selected_surface (document);
  TsPoint at;

  if (points == NULL || what >= (int) points->len || (what < 0 && what != TS_FINISH_LINE))
    return;
  if (ts_finish_view_get_outline (self) != NULL)
    ts_document_move_finish_outline (document, surface,
                                     what == TS_FINISH_LINE ? G_MAXUINT : (guint) what, dx, dy);
  else if (what == TS_FINISH_LINE)
    ts_document_move_finish (document, surface, line, dx, dy);
  else
    {
      at = g_array_index (points, TsPoint, (guint) what);
      ts_document_move_finish_point (document, surface, line, (guint) what,
                                     (TsPoint){ at.x + dx, at.y + dy });
    }
}

/* A run is measured wherever it goes, an outline where it stays. */
static void
end_move (TsFinishView *self)
{
  ts_document_end_gesture (get_document (self));
  ts_document_read_finish_outline (get_document (self));
}

static gboolean
is_middle (GtkGestureDrag *gesture)
{
  return gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture)) == GDK_BUTTON_MIDDLE;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsFinishView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->image == NULL)
    return;
  if (self->placing_card)
    {
      take_card (self, ts_finish_view_to_picture (self, x, y));
      return;
    }
  self->held =
    self->space || is_middle (gesture) ? TS_FINISH_GROUND : hit (self, x, y, &self->held_line);
  self->start = self->last = ts_finish_view_to_picture (self, x, y);
  self->start_x = self->middle_x;
  self->start_y = self->middle_y;
  if (self->held == TS_FINISH_GROUND)
    return;
  self->focus = self->held;
  self->focus_line = self->held_line;
  if (ts_finish_view_get_outline (self) == NULL)
    ts_document_begin_gesture (get_document (self), _ ("Move run on finished figure"));
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsFinishView *self)
{
  double zoom = ts_finish_view_get_zoom (self);
  TsPoint to = { self->start.x + dx / zoom, self->start.y + dy / zoom };

  if (self->held == TS_FINISH_GROUND)
    ts_finish_view_move_to (self, self->factor,
                            self->start_x - dx / zoom / ts_image_get_full_width (self->image),
                            self->start_y - dy / zoom / ts_image_get_full_height (self->image));
  else if (self->held != TS_FINISH_NOTHING)
    {
      move_by (self, self->held_line, self->held, to.x - self->last.x, to.y - self->last.y);
      self->last = to;
    }
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, TsFinishView *self)
{
  if (self->held != TS_FINISH_NOTHING && self->held != TS_FINISH_GROUND)
    end_move (self);
  self->held = TS_FINISH_NOTHING;
}

static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence, TsFinishView *self)
{
  on_drag_end (NULL, 0.0, 0.0, self);
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y, TsFinishView *self)
{
  guint line;
  int over = self->image != NULL ? hit (self, x, y, &line) : TS_FINISH_GROUND;

  self->pointer = (TsPoint){ x, y };
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), self->placing_card         ? "crosshair"
                                                      : over == TS_FINISH_GROUND ? NULL
                                                                                 : "move");
}

/* The place under @x, @y stays where it is. */
static void
zoom_at (TsFinishView *self, double by, double x, double y)
{
  TsPoint place;
  double factor, zoom;

  if (self->image == NULL)
    return;
  place = ts_finish_view_to_picture (self, x, y);
  factor = ts_finish_view_hold_factor (self, self->factor * by);
  zoom = ts_finish_view_get_zoom (self) * factor / self->factor;
  ts_finish_view_move_to (self, factor,
                          (place.x - (x - gtk_widget_get_width (GTK_WIDGET (self)) / 2.0) / zoom) /
                            ts_image_get_full_width (self->image),
                          (place.y - (y - gtk_widget_get_height (GTK_WIDGET (self)) / 2.0) / zoom) /
                            ts_image_get_full_height (self->image));
}

/* By so many pixels of the screen. */
static void
pan (TsFinishView *self, double dx, double dy)
{
  double zoom = ts_finish_view_get_zoom (self);

  if (self->image != NULL)
    ts_finish_view_move_to (self, self->factor,
                            self->middle_x - dx / zoom / ts_image_get_full_width (self->image),
                            self->middle_y - dy / zoom / ts_image_get_full_height (self->image));
}

/* A wheel zooms; two fingers pan, with Ctrl they zoom. */
static gboolean
on_scroll (GtkEventControllerScroll *scroll, double dx, double dy, TsFinishView *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));
  gboolean fingers = gtk_event_controller_scroll_get_unit (scroll) == GDK_SCROLL_UNIT_SURFACE;

  if (fingers && !(state & GDK_CONTROL_MASK))
    pan (self, -dx, -dy);
  else
    zoom_at (self, pow (ZOOM_STEP, fingers ? -dy / 20.0 : -dy), self->pointer.x, self->pointer.y);
  return TRUE;
}

static void
on_pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, TsFinishView *self)
{
  self->pinched = 1.0;
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, TsFinishView *self)
{
  double x, y;

  if (gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y) && scale > 0.0)
    zoom_at (self, scale / self->pinched, x, y);
  self->pinched = scale > 0.0 ? scale : self->pinched;
}

/* Lit end, the points between, shadow end, the whole line; then the next run. Of an outline its
 * corners, and the whole. */
static void
choose_next (TsFinishView *self)
{
  const GArray *points = ts_finish_view_get_points (self, self->focus_line);
  int n = points != NULL ? (int) points->len : 0;

  if (self->focus == TS_FINISH_LINE)
    {
      self->focus = 0;
      self->focus_line = (self->focus_line + 1) % MAX (ts_finish_view_count_lines (self), 1);
    }
  else if (++self->focus >= n)
    self->focus = TS_FINISH_LINE;
  ts_finish_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Arrows move what is chosen of the line; on the reference, and with space, the pictures. */
static gboolean
arrow_key (TsFinishView *self, guint keyval, double step)
{
  const struct
  {
    guint keyval;
    double dx, dy;
  } arrows[] = { { GDK_KEY_Left, -1.0, 0.0 },
                 { GDK_KEY_Right, 1.0, 0.0 },
                 { GDK_KEY_Up, 0.0, -1.0 },
                 { GDK_KEY_Down, 0.0, 1.0 } };

  for (guint i = 0; i < G_N_ELEMENTS (arrows); i++)
    if (arrows[i].keyval == keyval)
      {
        if (self->role != TS_ROLE_FINISHED || self->space)
          pan (self, -arrows[i].dx * PAN_STEP, -arrows[i].dy * PAN_STEP);
        else
          {
            move_by (self, self->focus_line, self->focus, arrows[i].dx * step, arrows[i].dy * step);
            ts_document_read_finish_outline (get_document (self));
          }
        return TRUE;
      }
  return FALSE;
}

static gboolean
zoom_key (TsFinishView *self, guint keyval)
{
  double x = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0;
  double y = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0;

  switch (keyval)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      zoom_at (self, ZOOM_STEP, x, y);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      zoom_at (self, 1.0 / ZOOM_STEP, x, y);
      return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      return gtk_widget_activate_action (GTK_WIDGET (self), "finish.zoom", "s", "fit");
    case GDK_KEY_1:
    case GDK_KEY_KP_1:
      return gtk_widget_activate_action (GTK_WIDGET (self), "finish.zoom", "s", "one");
    default:
      return FALSE;
    }
}

static gboolean
letter_key (TsFinishView *self, guint keyval)
{
  switch (gdk_keyval_to_lower (keyval))
    {
    case GDK_KEY_v:
      return gtk_widget_activate_action (GTK_WIDGET (self), "finish.next-look", NULL);
    case GDK_KEY_g:
      return gtk_widget_activate_action (GTK_WIDGET (self), "finish.place-card", NULL);
    case GDK_KEY_l:
      return gtk_widget_activate_action (GTK_WIDGET (self), "finish.lay", NULL);
    case GDK_KEY_space:
      self->space = TRUE;
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
escape (TsFinishView *self)
{
  if (!self->placing_card)
    return FALSE;
  self->placing_card = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return TRUE;
}

static gboolean
on_key (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
        TsFinishView *self)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK) || self->image == NULL)
    return FALSE;
  if (keyval == GDK_KEY_Escape)
    return escape (self);
  if ((keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter) && self->role == TS_ROLE_FINISHED)
    {
      choose_next (self);
      return TRUE;
    }
  return arrow_key (self, keyval, (state & GDK_SHIFT_MASK) != 0 ? FAR_STEP : 1.0) ||
         zoom_key (self, keyval) || letter_key (self, keyval);
}

static void
on_key_released (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                 TsFinishView *self)
{
  if (keyval == GDK_KEY_space)
    self->space = FALSE;
}

static void
on_focus_left (GtkEventControllerFocus *focus, TsFinishView *self)
{
  self->space = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
add_drags (TsFinishView *self)
{
  const guint buttons[] = { GDK_BUTTON_PRIMARY, GDK_BUTTON_MIDDLE };

  for (guint i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      GtkGesture *drag = gtk_gesture_drag_new ();

      gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), buttons[i]);
      g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
      g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
      g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
      g_signal_connect (drag, "cancel", G_CALLBACK (on_drag_cancel), self);
      gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
    }
}

void
ts_finish_view_add_input (TsFinishView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkEventController *scroll =
    gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);

  add_drags (self);
  g_signal_connect (pinch, "begin", G_CALLBACK (on_pinch_begin), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (widget, scroll);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (on_key_released), self);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect (focus, "leave", G_CALLBACK (on_focus_left), self);
  gtk_widget_add_controller (widget, focus);
}
