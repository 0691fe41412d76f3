/* ts-image-view-choose.c: several spots chosen at once, to be moved or removed together
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-image-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"

#define CHOSEN_GAP 2.6 /* pixels between a spot's ring and the one that marks it as chosen */

static TsDocument *
get_document (TsImageView *self)
{
  return ts_view_get_document (TS_VIEW (self));
}

static const TsSpotRef *
get_refs (TsImageView *self)
{
  return (const TsSpotRef *) (const void *) self->chosen->data;
}

static int
find (TsImageView *self, guint run, guint spot)
{
  for (guint i = 0; i < self->chosen->len; i++)
    if (get_refs (self)[i].run == run && get_refs (self)[i].spot == spot)
      return (int) i;
  return -1;
}

static void
changed (TsImageView *self)
{
  ts_image_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
ts_image_view_is_chosen (TsImageView *self, guint run, guint spot)
{
  return find (self, run, spot) >= 0;
}

static gboolean
is_shown (TsImageView *self, const TsRun *run)
{
  return run->picture == ts_document_get_shown_picture (get_document (self));
}

/* FALSE where there was nothing. */
gboolean
ts_image_view_choose_none (TsImageView *self)
{
  gboolean had = self->chosen->len > 0;

  g_array_set_size (self->chosen, 0);
  if (had)
    changed (self);
  return had;
}

/* Of another plan, surface or picture, or of a stair with fewer spots: those are not chosen. */
void
ts_image_view_hold_chosen (TsImageView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  int selected = surface != NULL ? ts_document_get_selected_surface (get_document (self)) : -1;

  if (selected != self->chosen_surface)
    g_array_set_size (self->chosen, 0);
  self->chosen_surface = selected;
  for (guint i = self->chosen->len; i-- > 0;)
    {
      TsSpotRef ref = get_refs (self)[i];

      if (ref.run >= surface->runs->len ||
          ref.spot >= ts_surface_get_run (surface, ref.run)->spots->len ||
          !is_shown (self, ts_surface_get_run (surface, ref.run)))
        g_array_remove_index (self->chosen, i);
    }
}

static void
add (TsImageView *self, guint run, guint spot)
{
  const TsSpotRef ref = { run, spot };

  if (find (self, run, spot) < 0)
    g_array_append_val (self->chosen, ref);
}

static void
toggle (TsImageView *self, guint run, guint spot)
{
  int at = find (self, run, spot);

  if (at >= 0)
    g_array_remove_index (self->chosen, (guint) at);
  else
    add (self, run, spot);
}

/* The whole run, or where it is chosen already none of it. */
static void
toggle_run (TsImageView *self, const TsRun *run, guint index)
{
  guint n = 0;

  for (guint i = 0; i < run->spots->len; i++)
    n += find (self, index, i) >= 0;
  for (guint i = 0; i < run->spots->len; i++)
    if (n == run->spots->len || find (self, index, i) < 0)
      toggle (self, index, i);
}

/* What the grip holds: a spot, an end as the spot that stands there, or all of a line. */
gboolean
ts_image_view_choose_grip (TsImageView *self, TsGrip grip)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsRun *run;

  if (surface == NULL || grip.kind == TS_GRIP_NONE ||
      grip.surface != ts_document_get_selected_surface (get_document (self)))
    return FALSE;
  run = ts_surface_get_run (surface, grip.run);
  if (run->spots->len == 0)
    return FALSE;
  if (grip.kind == TS_GRIP_LINE)
    toggle_run (self, run, grip.run);
  else if (grip.kind == TS_GRIP_SPOT)
    toggle (self, grip.run, grip.index);
  else if (grip.index == 0 || grip.index + 1 == run->points->len)
    toggle (self, grip.run, grip.index == 0 ? 0 : run->spots->len - 1);
  changed (self);
  return TRUE;
}

/* S: the spot that the keyboard is at. */
gboolean
ts_image_view_choose_focused (TsImageView *self)
{
  if (self->focus.kind == TS_GRIP_NONE || ts_view_get_surface (TS_VIEW (self)) == NULL)
    return FALSE;
  toggle (self, self->focus.run, self->focus.index);
  ts_image_view_hold_chosen (self);
  changed (self);
  return TRUE;
}

/* All of the selected surface within the rectangle, in upright pixels; %NULL: wherever they are. */
static void
add_within (TsImageView *self, const TsPoint *one, const TsPoint *other)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));

  for (guint i = 0; surface != NULL && i < surface->runs->len; i++)
    {
      const TsRun *run = ts_surface_get_run (surface, i);

      for (guint j = 0; is_shown (self, run) && j < run->spots->len; j++)
        {
          const TsSpot *spot = &g_array_index (run->spots, TsSpot, j);

          if (one == NULL ||
              (spot->x >= MIN (one->x, other->x) && spot->x <= MAX (one->x, other->x) &&
               spot->y >= MIN (one->y, other->y) && spot->y <= MAX (one->y, other->y)))
            add (self, i, j);
        }
    }
  changed (self);
}

void
ts_image_view_choose_all (TsImageView *self)
{
  add_within (self, NULL, NULL);
}

/* One step back for all; one by one where nothing is chosen: see ts-image-view-keys.c. */
void
ts_image_view_move_chosen (TsImageView *self, double dx, double dy)
{
  ts_document_move_spots (get_document (self), (guint) self->chosen_surface, get_refs (self),
                          self->chosen->len, dx, dy);
}

void
ts_image_view_remove_chosen (TsImageView *self)
{
  g_autoptr (GArray) chosen = self->chosen;

  self->chosen = g_array_new (FALSE, FALSE, sizeof (TsSpotRef));
  self->focus = (TsGrip){ .surface = -1 };
  ts_document_remove_spots (get_document (self), (guint) self->chosen_surface,
                            (const TsSpotRef *) (const void *) chosen->data, chosen->len);
  changed (self);
}

/* Whether a drag that begins there moves what is chosen. */
gboolean
ts_image_view_holds_chosen (TsImageView *self, TsGrip grip)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  const TsRun *run;

  if (surface == NULL || self->chosen->len < 2 || grip.surface != self->chosen_surface ||
      grip.kind == TS_GRIP_NONE)
    return FALSE;
  run = ts_surface_get_run (surface, grip.run);
  if (grip.kind == TS_GRIP_SPOT)
    return find (self, grip.run, grip.index) >= 0;
  if (grip.kind == TS_GRIP_POINT && (grip.index == 0 || grip.index + 1 == run->points->len))
    return run->spots->len > 0 &&
           find (self, grip.run, grip.index == 0 ? 0 : run->spots->len - 1) >= 0;
  for (guint i = 0; i < run->spots->len; i++)
    if (find (self, grip.run, i) < 0)
      return FALSE;
  return TRUE;
}

void
ts_image_view_append_chosen (TsImageView *self, GString *words)
{
  guint n = self->chosen->len;

  if (n > 0)
    g_string_append_printf (words, ngettext (" %u spot chosen.", " %u spots chosen.", n), n);
}

/* A second ring about the first; what is measured stays free. */
void
ts_image_view_draw_chosen (TsImageView *self, cairo_t *cr, TsPoint at, double radius)
{
  ts_draw_ring (cr, at, radius + CHOSEN_GAP, 1.4);
}

void
ts_image_view_draw_band (TsImageView *self, cairo_t *cr)
{
  const double dashes[] = { 4.0, 3.0 };
  TsPoint from, to;

  if (self->drag != TS_DRAG_BAND)
    return;
  from = ts_image_view_to_widget (self, self->start);
  to = ts_image_view_to_widget (self, self->last);
  cairo_save (cr);
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0.0);
  cairo_new_path (cr);
  cairo_rectangle (cr, floor (MIN (from.x, to.x)) + 0.5, floor (MIN (from.y, to.y)) + 0.5,
                   floor (fabs (to.x - from.x)), floor (fabs (to.y - from.y)));
  ts_draw_stroke_over (cr, 1.2);
  cairo_restore (cr);
}

static void
on_band_begin (GtkGestureDrag *gesture, double x, double y, TsImageView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->image == NULL || self->preview || self->over != NULL || self->crossing ||
      self->drag != TS_DRAG_NONE)
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  self->drag = TS_DRAG_BAND;
  self->start = self->last = ts_image_view_to_picture (self, x, y);
}

static void
on_band_update (GtkGestureDrag *gesture, double dx, double dy, TsImageView *self)
{
  if (self->drag != TS_DRAG_BAND)
    return;
  self->last = (TsPoint){ self->start.x + dx / self->zoom, self->start.y + dy / self->zoom };
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* What was chosen before stays only with Shift. */
static void
on_band_end (GtkGestureDrag *gesture, double dx, double dy, TsImageView *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (self->drag != TS_DRAG_BAND)
    return;
  self->drag = TS_DRAG_NONE;
  if (!(state & GDK_SHIFT_MASK))
    g_array_set_size (self->chosen, 0);
  add_within (self, &self->start, &self->last);
}

static void
on_band_cancel (GtkGesture *gesture, GdkEventSequence *sequence, TsImageView *self)
{
  if (self->drag == TS_DRAG_BAND)
    self->drag = TS_DRAG_NONE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_image_view_init_choose:
 * @self: a new view
 *
 * A drag with the second button draws a band: what lies in it is chosen.
 */
void
ts_image_view_init_choose (TsImageView *self)
{
  GtkGesture *band = gtk_gesture_drag_new ();

  self->chosen = g_array_new (FALSE, FALSE, sizeof (TsSpotRef));
  self->chosen_surface = -1;
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (band), GDK_BUTTON_SECONDARY);
  g_signal_connect (band, "drag-begin", G_CALLBACK (on_band_begin), self);
  g_signal_connect (band, "drag-update", G_CALLBACK (on_band_update), self);
  g_signal_connect (band, "drag-end", G_CALLBACK (on_band_end), self);
  g_signal_connect (band, "cancel", G_CALLBACK (on_band_cancel), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (band));
}
