/* ts-sheet-corner.c: a ring that can be moved over a picture, by pointer and by keys
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-sheet-corner.h"

#include "gui/widgets/ts-draw.h"

#define RADIUS 7.0

struct _TsSheetCorner
{
  GtkWidget parent_instance;
};

enum
{
  MOVED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsSheetCorner, ts_sheet_corner, GTK_TYPE_WIDGET)

static void
ts_sheet_corner_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  const float size = TS_SHEET_CORNER_SIZE;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, size, size));
  gboolean focused = gtk_widget_has_focus (widget);

  ts_draw_ring (cr, (TsPoint){ (double) size / 2.0, (double) size / 2.0 }, RADIUS,
                focused ? 3.2 : 1.6);
  cairo_destroy (cr);
}

static void
ts_sheet_corner_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                         int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = TS_SHEET_CORNER_SIZE;
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
        TsSheetCorner *self)
{
  double step = state & GDK_SHIFT_MASK ? 10.0 : 1.0, dx = 0.0, dy = 0.0;

  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  if (key == GDK_KEY_Left || key == GDK_KEY_Right)
    dx = key == GDK_KEY_Left ? -step : step;
  else if (key == GDK_KEY_Up || key == GDK_KEY_Down)
    dy = key == GDK_KEY_Up ? -step : step;
  else
    return FALSE;
  g_signal_emit (self, signals[MOVED], 0, dx, dy);
  return TRUE;
}

static void
ts_sheet_corner_class_init (TsSheetCornerClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = ts_sheet_corner_snapshot;
  widget_class->measure = ts_sheet_corner_measure;
  signals[MOVED] = g_signal_new ("moved", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_sheet_corner_init (TsSheetCorner *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  /* The pointer is for the picture below, which knows which ring is nearest. */
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (gtk_widget_queue_draw), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (gtk_widget_queue_draw), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

/**
 * ts_sheet_corner_new:
 *
 * Returns: (transfer floating): a ring
 */
GtkWidget *
ts_sheet_corner_new (void)
{
  return g_object_new (TS_TYPE_SHEET_CORNER, NULL);
}
