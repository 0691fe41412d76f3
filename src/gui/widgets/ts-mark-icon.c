/* ts-mark-icon.c: a widget that shows one verdict's shape
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-mark-icon.h"

#include "gui/widgets/ts-draw.h"

struct _TsMarkIcon
{
  GtkWidget parent_instance;

  TsMark mark;
};

G_DEFINE_FINAL_TYPE (TsMarkIcon, ts_mark_icon, GTK_TYPE_WIDGET)

static void
ts_mark_icon_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                      int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = TS_DRAW_MARK + 4;
}

static void
ts_mark_icon_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsMarkIcon *self = TS_MARK_ICON (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  GdkRGBA colour;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &colour);
  gdk_cairo_set_source_rgba (cr, &colour);
  ts_draw_mark (cr, self->mark, width / 2.0, height / 2.0);
  cairo_destroy (cr);
}

static void
ts_mark_icon_class_init (TsMarkIconClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->measure = ts_mark_icon_measure;
  widget_class->snapshot = ts_mark_icon_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
ts_mark_icon_init (TsMarkIcon *self)
{
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
}

/**
 * ts_mark_icon_new:
 *
 * Returns: (transfer floating): a widget that shows one verdict's shape in its text colour
 */
GtkWidget *
ts_mark_icon_new (void)
{
  return g_object_new (TS_TYPE_MARK_ICON, NULL);
}

/**
 * ts_mark_icon_set:
 * @self: the icon
 * @mark: which shape
 *
 * Shows another shape.
 */
void
ts_mark_icon_set (TsMarkIcon *self, TsMark mark)
{
  g_return_if_fail (TS_IS_MARK_ICON (self));

  self->mark = mark;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
