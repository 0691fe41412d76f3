/* ts-correction-handle.c: a ring on the picture that the keyboard can move
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-correction-handle.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"

#define FAR_STEP 10.0
#define GROW 1.1
#define MARGIN 5.0 /* around the ring, for the outline of focus */

struct _TsCorrectionHandle
{
  GtkWidget parent_instance;

  TsCorrectionDraft *draft; /* owned */
  int corner;               /* -1: a disc */
  TsDraftDisc disc;
  double radius;
};

G_DEFINE_FINAL_TYPE (TsCorrectionHandle, ts_correction_handle, GTK_TYPE_WIDGET)

static const char *
get_disc_name (TsDraftDisc disc)
{
  switch (disc)
    {
    case TS_DISC_WHITE:
      return _ ("white card");
    case TS_DISC_BLACK:
      return _ ("black card");
    case TS_DISC_HERE:
      return _ ("grey card, in this photograph");
    case TS_DISC_THERE:
      return _ ("grey card, in the other photograph");
    case TS_DISC_GREY:
    case TS_N_DISCS:
    default:
      return _ ("grey card");
    }
}

static char *
dup_name (TsCorrectionHandle *self)
{
  const TsPoint *corners = ts_correction_draft_get_corners (self->draft);
  const TsCardPlace *disc = ts_correction_draft_get_disc (self->draft, self->disc);

  if (self->corner >= 0)
    return corners != NULL ? g_strdup_printf (_ ("corner %d of 4, %.0f, %.0f"), self->corner + 1,
                                              corners[self->corner].x, corners[self->corner].y)
                           : g_strdup_printf (_ ("corner %d of 4"), self->corner + 1);
  return g_strdup_printf (_ ("%s, %.0f, %.0f, radius %.0f"), get_disc_name (self->disc), disc->x,
                          disc->y, disc->radius);
}

static void
on_changed (TsCorrectionHandle *self)
{
  g_autofree char *name = dup_name (self);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
move (TsCorrectionHandle *self, double dx, double dy)
{
  const TsPoint *corners = ts_correction_draft_get_corners (self->draft);
  const TsCardPlace *disc = ts_correction_draft_get_disc (self->draft, self->disc);

  if (self->corner < 0)
    ts_correction_draft_set_disc (self->draft, self->disc, (TsPoint){ disc->x + dx, disc->y + dy },
                                  disc->radius);
  else if (corners != NULL)
    ts_correction_draft_move_corner (
      self->draft, (guint) self->corner,
      (TsPoint){ corners[self->corner].x + dx, corners[self->corner].y + dy });
}

static void
grow (TsCorrectionHandle *self, double times)
{
  const TsCardPlace *disc = ts_correction_draft_get_disc (self->draft, self->disc);

  ts_correction_draft_set_disc (self->draft, self->disc, (TsPoint){ disc->x, disc->y },
                                disc->radius * times);
}

static gboolean
arrow_key (TsCorrectionHandle *self, guint keyval, double step)
{
  switch (keyval)
    {
    case GDK_KEY_Left:
      move (self, -step, 0.0);
      return TRUE;
    case GDK_KEY_Right:
      move (self, step, 0.0);
      return TRUE;
    case GDK_KEY_Up:
      move (self, 0.0, -step);
      return TRUE;
    case GDK_KEY_Down:
      move (self, 0.0, step);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
disc_key (TsCorrectionHandle *self, guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_Page_Up:
      grow (self, GROW);
      return TRUE;
    case GDK_KEY_Page_Down:
      grow (self, 1.0 / GROW);
      return TRUE;
    case GDK_KEY_Delete:
    case GDK_KEY_BackSpace:
      ts_correction_draft_clear_disc (self->draft, self->disc);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsCorrectionHandle *self)
{
  if (self->draft == NULL || state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  return arrow_key (self, keyval, state & GDK_SHIFT_MASK ? FAR_STEP : 1.0) ||
         (self->corner < 0 && disc_key (self, keyval));
}

static void
ts_correction_handle_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsCorrectionHandle *self = TS_CORRECTION_HANDLE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  TsPoint middle = { width / 2.0, height / 2.0 };
  gboolean focused = gtk_widget_has_focus (widget);

  ts_draw_ring (cr, middle, self->radius, focused ? 2.6 : 1.6);
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_ring (cr, middle, self->radius + 3.5, 1.0);
  cairo_destroy (cr);
}

static void
ts_correction_handle_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                              int *minimum, int *natural, int *minimum_baseline,
                              int *natural_baseline)
{
  TsCorrectionHandle *self = TS_CORRECTION_HANDLE (widget);

  *minimum = *natural = 2 * (int) ceil (self->radius + MARGIN);
}

static void
ts_correction_handle_dispose (GObject *object)
{
  ts_correction_handle_set_draft (TS_CORRECTION_HANDLE (object), NULL);
  G_OBJECT_CLASS (ts_correction_handle_parent_class)->dispose (object);
}

static void
ts_correction_handle_class_init (TsCorrectionHandleClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_correction_handle_dispose;
  widget_class->snapshot = ts_correction_handle_snapshot;
  widget_class->measure = ts_correction_handle_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_BUTTON);
  gtk_widget_class_set_css_name (widget_class, "handle");
}

static void
ts_correction_handle_init (TsCorrectionHandle *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->corner = -1;
  self->radius = 12.0;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "move");
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/**
 * ts_correction_handle_new_corner:
 * @corner: index of a corner of the chart
 *
 * Returns: (transfer floating): a handle
 */
GtkWidget *
ts_correction_handle_new_corner (guint corner)
{
  TsCorrectionHandle *self = g_object_new (TS_TYPE_CORRECTION_HANDLE, NULL);

  self->corner = (int) corner;
  return GTK_WIDGET (self);
}

/**
 * ts_correction_handle_new_disc:
 * @disc: one of the draft's discs
 *
 * Returns: (transfer floating): a handle
 */
GtkWidget *
ts_correction_handle_new_disc (TsDraftDisc disc)
{
  TsCorrectionHandle *self = g_object_new (TS_TYPE_CORRECTION_HANDLE, NULL);

  self->disc = disc;
  return GTK_WIDGET (self);
}

/**
 * ts_correction_handle_set_draft:
 * @self: the handle
 * @draft: (nullable): what it moves a part of
 */
void
ts_correction_handle_set_draft (TsCorrectionHandle *self, TsCorrectionDraft *draft)
{
  g_return_if_fail (TS_IS_CORRECTION_HANDLE (self));

  if (self->draft != NULL)
    g_signal_handlers_disconnect_by_data (self->draft, self);
  g_set_object (&self->draft, draft);
  if (draft == NULL)
    return;
  g_signal_connect_swapped (draft, "changed", G_CALLBACK (on_changed), self);
  on_changed (self);
}

/**
 * ts_correction_handle_set_radius:
 * @self: the handle
 * @radius: of its ring, pixels of the widget
 */
void
ts_correction_handle_set_radius (TsCorrectionHandle *self, double radius)
{
  g_return_if_fail (TS_IS_CORRECTION_HANDLE (self));

  self->radius = radius;
}
