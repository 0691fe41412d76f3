/* ts-strip.c: colours side by side on the field, touching
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-strip.h"

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-palette.h"

struct _TsStrip
{
  GtkWidget parent_instance;

  int edge;
  guint n_columns, n_rows;
  GArray *colours; /* owned, TsLab */
};

G_DEFINE_FINAL_TYPE (TsStrip, ts_strip, GTK_TYPE_WIDGET)

/* Whole device pixels, or a line of the ground shows between two colours. */
static void
draw_cell (TsStrip *self, cairo_t *cr, guint row, guint column, int width, int height)
{
  gboolean mirror = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  guint place = mirror ? self->n_columns - 1 - column : column;
  int left = self->edge + (int) ((gint64) width * place / self->n_columns);
  int right = self->edge + (int) ((gint64) width * (place + 1) / self->n_columns);
  int top = self->edge + (int) ((gint64) height * row / self->n_rows);
  int bottom = self->edge + (int) ((gint64) height * (row + 1) / self->n_rows);

  ts_palette_set_lab (cr, g_array_index (self->colours, TsLab, row * self->n_columns + column));
  cairo_rectangle (cr, left, top, right - left, bottom - top);
  cairo_fill (cr);
}

static void
ts_strip_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsStrip *self = TS_STRIP (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TsPalette palette;
  cairo_t *cr = ts_draw_field (widget, snapshot, &palette);

  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (guint row = 0; row < self->n_rows; row++)
    for (guint column = 0; column < self->n_columns; column++)
      draw_cell (self, cr, row, column, width - 2 * self->edge, height - 2 * self->edge);
  cairo_destroy (cr);
}

static void
ts_strip_finalize (GObject *object)
{
  g_array_unref (TS_STRIP (object)->colours);
  G_OBJECT_CLASS (ts_strip_parent_class)->finalize (object);
}

static void
ts_strip_class_init (TsStripClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_strip_finalize;
  widget_class->snapshot = ts_strip_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_strip_init (TsStrip *self)
{
  self->colours = g_array_new (FALSE, FALSE, sizeof (TsLab));
}

/**
 * ts_strip_new:
 * @width: pixels, or -1
 * @height: pixels, or -1
 * @edge: width of the field around the colours, pixels
 *
 * Returns: (transfer floating): a strip without colours
 */
GtkWidget *
ts_strip_new (int width, int height, int edge)
{
  TsStrip *self = g_object_new (TS_TYPE_STRIP, NULL);

  self->edge = edge;
  gtk_widget_set_size_request (GTK_WIDGET (self), width, height);
  return GTK_WIDGET (self);
}

/**
 * ts_strip_set_colours:
 * @self: the strip
 * @colours: (array): @n_columns times @n_rows colours, row by row, D50
 * @n_columns: how many side by side
 * @n_rows: how many rows
 *
 * Shows other colours.
 */
void
ts_strip_set_colours (TsStrip *self, const TsLab *colours, guint n_columns, guint n_rows)
{
  g_return_if_fail (TS_IS_STRIP (self));

  g_array_set_size (self->colours, 0);
  g_array_append_vals (self->colours, colours, n_columns * n_rows);
  self->n_columns = n_columns;
  self->n_rows = n_rows;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_strip_make_grey:
 * @colours: colours
 * @n: how many
 *
 * Leaves lightness alone of them.
 */
void
ts_strip_make_grey (TsLab *colours, guint n)
{
  for (guint i = 0; i < n; i++)
    colours[i].a = colours[i].b = 0.0;
}

/**
 * ts_strip_describe:
 * @self: the strip
 * @name: what it is
 * @description: what it shows
 *
 * Says in words what the strip shows.
 */
void
ts_strip_describe (TsStrip *self, const char *name, const char *description)
{
  g_return_if_fail (TS_IS_STRIP (self));

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}
