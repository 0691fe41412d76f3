/* ts-bar.c: a length among others
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-bar.h"

#include "gui/widgets/ts-palette.h"

#define HEIGHT 7

struct _TsBar
{
  GtkWidget parent_instance;

  double share;
  gboolean strong;
};

G_DEFINE_FINAL_TYPE (TsBar, ts_bar, GTK_TYPE_WIDGET)

static void
ts_bar_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsBar *self = TS_BAR (widget);
  float width = (float) gtk_widget_get_width (widget);
  float y = (float) (gtk_widget_get_height (widget) - HEIGHT) / 2.0F;
  float length = width * (float) self->share;
  gboolean mirror = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  TsPalette palette;

  ts_palette_get (widget, &palette);
  gtk_snapshot_append_color (snapshot, &palette.band,
                             &GRAPHENE_RECT_INIT (0.0F, y, width, (float) HEIGHT));
  gtk_snapshot_append_color (
    snapshot, self->strong ? &palette.text : &palette.dim,
    &GRAPHENE_RECT_INIT (mirror ? width - length : 0.0F, y, length, (float) HEIGHT));
}

static void
ts_bar_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 40 : HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 140 : HEIGHT;
}

static void
ts_bar_class_init (TsBarClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = ts_bar_snapshot;
  widget_class->measure = ts_bar_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
ts_bar_init (TsBar *self)
{
}

/**
 * ts_bar_new:
 *
 * Returns: (transfer floating): an empty bar
 */
GtkWidget *
ts_bar_new (void)
{
  return g_object_new (TS_TYPE_BAR, NULL);
}

/**
 * ts_bar_set:
 * @self: the bar
 * @share: how much of it is filled, 0 to 1
 * @strong: whether it stands out
 */
void
ts_bar_set (TsBar *self, double share, gboolean strong)
{
  g_return_if_fail (TS_IS_BAR (self));

  self->share = CLAMP (share, 0.0, 1.0);
  self->strong = strong;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
