/* ts-image-view-keys.c: the picture by keyboard
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define ZOOM_STEP 1.25
#define PAN_STEP 40.0
#define FAR_STEP 10.0
#define LEAST_RUN 8.0 /* pixels of the picture */

static TsDocument *
get_document (TsImageView *self)
{
  return ts_view_get_document (TS_VIEW (self));
}

static const TsRun *
get_focused_run (TsImageView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));

  if (surface == NULL || self->focus.kind == TS_GRIP_NONE || self->focus.run >= surface->runs->len)
    return NULL;
  return ts_surface_get_run (surface, self->focus.run);
}

static void
changed (TsImageView *self)
{
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The next spot of all runs; FALSE past the last: the focus goes on to the next widget. */
static gboolean
focus_next (TsImageView *self, gboolean back)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsRun *run = get_focused_run (self);
  guint n, at = 0, before = 0;
  gboolean had = run != NULL;

  n = surface != NULL ? ts_image_view_count_spots (surface, surface->runs->len) : 0;
  if (had)
    at = ts_image_view_count_spots (surface, self->focus.run) + self->focus.index;
  if (n == 0 || (!had && back) || (had && (back ? at == 0 : at + 1 >= n)))
    {
      self->focus = (TsGrip){ .surface = -1 };
      changed (self);
      return FALSE;
    }
  at = !had ? 0 : back ? at - 1 : at + 1;
  for (guint i = 0; i < surface->runs->len; i++)
    {
      guint spots = ts_surface_get_run (surface, i)->spots->len;

      if (at < before + spots)
        {
          self->focus =
            (TsGrip){ TS_GRIP_SPOT, ts_document_get_selected_surface (get_document (self)), i,
                      at - before };
          break;
        }
      before += spots;
    }
  changed (self);
  return TRUE;
}

/* The first and the last spot are the ends of the line. */
static void
move_focused (TsImageView *self, const TsRun *run, double dx, double dy)
{
  TsDocument *document = get_document (self);
  TsGrip grip = self->focus;
  const TsSpot *spot = &g_array_index (run->spots, TsSpot, grip.index);
  guint last = run->points->len - 1;

  if (grip.index == 0 || grip.index + 1 == run->spots->len)
    {
      guint point = grip.index == 0 ? 0 : last;
      TsPoint place = g_array_index (run->points, TsPoint, point);

      ts_document_move_run_point (document, (guint) grip.surface, grip.run, point,
                                  (TsPoint){ place.x + dx, place.y + dy });
    }
  else
    ts_document_move_spot (document, (guint) grip.surface, grip.run, grip.index,
                           (TsPoint){ spot->x + dx, spot->y + dy });
}

/* The surface is there, and measured, as soon as its line is long enough. */
static void
follow_cross (TsImageView *self)
{
  TsDocument *document = get_document (self);
  int added;

  if (self->grip.kind == TS_GRIP_POINT)
    {
      ts_document_move_run_point (document, (guint) self->grip.surface, 0, 1, self->cross);
      return;
    }
  if (hypot (self->cross.x - self->start.x, self->cross.y - self->start.y) < LEAST_RUN)
    return;
  ts_document_begin_gesture (document, _ ("Add a Surface"));
  added = ts_document_add_surface (document, self->start, self->cross);
  if (added < 0)
    {
      ts_document_end_gesture (document);
      return;
    }
  ts_document_select_surface (document, added);
  self->grip = (TsGrip){ TS_GRIP_POINT, added, 0, 1 };
}

static void
move_cross (TsImageView *self, double dx, double dy)
{
  self->cross.x = CLAMP (self->cross.x + dx, 0.0, ts_image_get_full_width (self->image) - 1.0);
  self->cross.y = CLAMP (self->cross.y + dy, 0.0, ts_image_get_full_height (self->image) - 1.0);
  if (self->cross_started && !self->lighting)
    follow_cross (self);
  changed (self);
}

static void
arrow (TsImageView *self, double dx, double dy, gboolean far)
{
  const TsRun *run = get_focused_run (self);
  double by = far ? FAR_STEP : 1.0;

  gboolean chosen = self->chosen->len > 0;

  if (self->space || self->preview || (!self->crossing && run == NULL && !chosen))
    ts_image_view_pan (self, -dx * PAN_STEP, -dy * PAN_STEP);
  else if (self->crossing)
    move_cross (self, dx * by, dy * by);
  else if (chosen)
    ts_image_view_move_chosen (self, dx * by, dy * by);
  else
    move_focused (self, run, dx * by, dy * by);
}

static void
start_cross (TsImageView *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));
  TsPoint middle = ts_image_view_to_picture (self, width / 2.0, height / 2.0);

  if (self->image == NULL)
    return;
  self->crossing = TRUE;
  self->cross_started = FALSE;
  self->cross = (TsPoint){ CLAMP (middle.x, 0.0, ts_image_get_full_width (self->image) - 1.0),
                           CLAMP (middle.y, 0.0, ts_image_get_full_height (self->image) - 1.0) };
  changed (self);
}

/* Return: first the lit end, then the shadow end. */
static void
put_cross (TsImageView *self)
{
  if (self->pointing != TS_POINTING_NOTHING)
    ts_image_view_take_point (self, self->cross);
  else if (self->trail != NULL)
    ts_image_view_extend_outline (self, self->cross, TRUE);
  else if (self->lighting && self->cross_started)
    ts_image_view_set_light (self, self->start, self->cross);
  else if (!self->cross_started)
    {
      self->cross_started = TRUE;
      self->start = self->cross;
      self->grip = (TsGrip){ .surface = -1 };
    }
  else if (self->grip.kind == TS_GRIP_POINT)
    {
      self->crossing = self->cross_started = FALSE;
      ts_document_end_gesture (get_document (self));
      ts_image_view_added (self, self->grip.surface);
    }
  changed (self);
}

static gboolean
escape (TsImageView *self)
{
  TsDocument *document = get_document (self);

  if (self->drag != TS_DRAG_NONE)
    {
      ts_image_view_cancel_drag (self);
      return TRUE;
    }
  if (self->crossing)
    {
      gboolean started = self->cross_started && self->grip.kind == TS_GRIP_POINT;
      gboolean measuring = self->pointing == TS_POINTING_BRIEF;

      self->crossing = self->cross_started = self->lighting = FALSE;
      self->pointing = TS_POINTING_NOTHING;
      g_clear_pointer (&self->trail, g_array_unref);
      if (started)
        ts_document_cancel_gesture (document);
      if (measuring)
        gtk_widget_activate_action (GTK_WIDGET (self), "win.place", "s", "brief");
      changed (self);
      return TRUE;
    }
  return ts_image_view_choose_none (self);
}

static gboolean
remove_focused (TsImageView *self)
{
  const TsRun *run = get_focused_run (self);
  TsDocument *document = get_document (self);
  TsGrip grip = self->focus;

  if (self->chosen->len > 0)
    {
      ts_image_view_remove_chosen (self);
      return TRUE;
    }
  if (run == NULL)
    return FALSE;
  self->focus = (TsGrip){ .surface = -1 };
  if (grip.index == 0 || grip.index + 1 == run->spots->len)
    ts_document_remove_run (document, (guint) grip.surface, grip.run);
  else
    ts_document_remove_spot (document, (guint) grip.surface, grip.run, grip.index);
  changed (self);
  return TRUE;
}

gboolean
ts_image_view_zoom_key (TsImageView *self, guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      ts_image_view_set_zoom (self, ts_image_view_get_zoom (self) * ZOOM_STEP);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      ts_image_view_set_zoom (self, ts_image_view_get_zoom (self) / ZOOM_STEP);
      return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      ts_image_view_fit (self);
      return TRUE;
    case GDK_KEY_1:
    case GDK_KEY_KP_1:
      ts_image_view_set_zoom (self, 1.0);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
arrow_key (TsImageView *self, guint keyval, gboolean far)
{
  switch (keyval)
    {
    case GDK_KEY_Left:
      arrow (self, -1.0, 0.0, far);
      return TRUE;
    case GDK_KEY_Right:
      arrow (self, 1.0, 0.0, far);
      return TRUE;
    case GDK_KEY_Up:
      arrow (self, 0.0, -1.0, far);
      return TRUE;
    case GDK_KEY_Down:
      arrow (self, 0.0, 1.0, far);
      return TRUE;
    default:
      return FALSE;
    }
}

/* O begins an outline and closes it; with Shift of the selected surface. */
static void
outline_key (TsImageView *self, gboolean of_selected)
{
  if (self->trail != NULL)
    {
      self->crossing = FALSE;
      ts_image_view_end_outline (self);
    }
  else if (!self->crossing)
    {
      start_cross (self);
      ts_image_view_begin_outline (self, of_selected);
    }
  changed (self);
}

/**
 * ts_image_view_place_light:
 * @self: the view
 *
 * The next drag, or arrows and Return twice, tell which way the imagined light falls.
 */
void
ts_image_view_place_light (TsImageView *self)
{
  g_return_if_fail (TS_IS_IMAGE_VIEW (self));

  if (self->image == NULL || self->crossing)
    return;
  start_cross (self);
  self->lighting = TRUE;
  changed (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* What stands over the picture has arrows of its own; space takes them for the picture. */
static gboolean
arrow_over (TsImageView *self, guint keyval)
{
  return self->space && arrow_key (self, keyval, FALSE);
}

/* Ways to look at the picture: the place has them, whichever of its pictures has the keyboard. */
gboolean
ts_image_view_look_key (GtkWidget *widget, guint keyval)
{
  const struct
  {
    guint keyval;
    const char *action;
  } keys[] = { { GDK_KEY_v, "picture.next-look" }, { GDK_KEY_V, "picture.next-beside" },
               { GDK_KEY_b, "picture.both" },      { GDK_KEY_B, "picture.both" },
               { GDK_KEY_h, "picture.clipping" },  { GDK_KEY_H, "picture.clipping" } };

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    if (keys[i].keyval == keyval)
      return gtk_widget_activate_action (widget, keys[i].action, NULL);
  return FALSE;
}

static gboolean
is_one_of (const char *letters, guint keyval)
{
  guint lower = gdk_keyval_to_lower (keyval);

  return lower > ' ' && lower <= 'z' && strchr (letters, (int) lower) != NULL;
}

static gboolean
letter_key (TsImageView *self, guint keyval)
{
  /* With something over the picture there is nothing to draw on it. */
  if (self->over != NULL && is_one_of ("roagcs", keyval))
    return FALSE;
  switch (gdk_keyval_to_lower (keyval))
    {
    case GDK_KEY_r:
      start_cross (self);
      return TRUE;
    case GDK_KEY_o:
      outline_key (self, keyval == GDK_KEY_O);
      return TRUE;
    case GDK_KEY_a:
      ts_image_view_place_light (self);
      return TRUE;
    case GDK_KEY_s:
      return ts_image_view_choose_focused (self);
    case GDK_KEY_c:
      return ts_image_view_swatch_key (self, keyval == GDK_KEY_C);
    case GDK_KEY_g:
      ts_image_view_place_card (self);
      return TRUE;
    case GDK_KEY_m:
      self->magnify = !self->magnify;
      changed (self);
      return TRUE;
    case GDK_KEY_space:
      self->space = TRUE;
      return TRUE;
    default:
      return ts_image_view_look_key (GTK_WIDGET (self), keyval);
    }
}

/* What opens can be looked at, and given up. */
static gboolean
preview_key (TsImageView *self, guint keyval)
{
  if (keyval == GDK_KEY_Escape)
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.stop", NULL);
      return TRUE;
    }
  if (gdk_keyval_to_lower (keyval) == GDK_KEY_v || keyval == GDK_KEY_space)
    return letter_key (self, keyval);
  return arrow_key (self, keyval, FALSE) || ts_image_view_zoom_key (self, keyval);
}

/* All spots; and the step that is chosen can be copied from here as well. */
static gboolean
control_key (TsImageView *self, guint keyval, gboolean shift)
{
  if (self->preview || self->over != NULL)
    return FALSE;
  if (gdk_keyval_to_lower (keyval) == GDK_KEY_a && !shift && !self->crossing)
    {
      ts_image_view_choose_all (self);
      return TRUE;
    }
  if (gdk_keyval_to_lower (keyval) != GDK_KEY_c)
    return FALSE;
  return gtk_widget_activate_action (GTK_WIDGET (self),
                                     shift ? "picture.copy-colour" : "picture.copy-recipe", NULL);
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsImageView *self)
{
  if (self->image == NULL || state & GDK_ALT_MASK)
    return FALSE;
  if (state & GDK_CONTROL_MASK)
    return control_key (self, keyval, (state & GDK_SHIFT_MASK) != 0);
  if (self->preview)
    return preview_key (self, keyval);
  if (self->over != NULL)
    return arrow_over (self, keyval) || ts_image_view_zoom_key (self, keyval) ||
           letter_key (self, keyval);
  switch (keyval)
    {
    case GDK_KEY_Tab:
    case GDK_KEY_ISO_Left_Tab:
      /* From the swatch it goes on as between any two widgets. */
      return !self->crossing && gtk_widget_is_focus (GTK_WIDGET (self)) &&
             focus_next (self, keyval == GDK_KEY_ISO_Left_Tab || (state & GDK_SHIFT_MASK));
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (self->crossing)
        put_cross (self);
      return TRUE;
    case GDK_KEY_Escape:
      return escape (self);
    case GDK_KEY_Delete:
    case GDK_KEY_BackSpace:
      return remove_focused (self);
    default:
      return arrow_key (self, keyval, (state & GDK_SHIFT_MASK) != 0) ||
             ts_image_view_zoom_key (self, keyval) || letter_key (self, keyval);
    }
}

static void
on_key_released (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                 TsImageView *self)
{
  if (keyval == GDK_KEY_space)
    self->space = FALSE;
}

static void
on_focus_left (GtkEventControllerFocus *focus, TsImageView *self)
{
  self->space = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_add_keys:
 * @self: a new view
 *
 * Adds all that a keyboard can do to the picture.
 */
void
ts_image_view_add_keys (TsImageView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (on_key_released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (focus, "leave", G_CALLBACK (on_focus_left), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}
