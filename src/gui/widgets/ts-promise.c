/* ts-promise.c: what will happen, as a drawing without colour
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-promise.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-palette.h"

#define WIDTH 436
#define HEIGHT 124
#define BALL 52.0
#define N_STEPS 5
#define STEP_WIDTH 44.0
#define STEP_HEIGHT 56.0

struct _TsPromise
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (TsPromise, ts_promise, GTK_TYPE_WIDGET)

static void
stroke_twice (cairo_t *cr, double width)
{
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.6);
  cairo_set_line_width (cr, width + 1.8);
  cairo_stroke_preserve (cr);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

static void
draw_ball (cairo_t *cr, double x, double y)
{
  cairo_pattern_t *shade =
    cairo_pattern_create_radial (x - 20.0, y - 22.0, 4.0, x - 10.0, y - 12.0, BALL * 1.35);

  cairo_pattern_add_color_stop_rgb (shade, 0.0, 0.84, 0.84, 0.84);
  cairo_pattern_add_color_stop_rgb (shade, 0.45, 0.52, 0.52, 0.52);
  cairo_pattern_add_color_stop_rgb (shade, 0.85, 0.18, 0.18, 0.18);
  cairo_pattern_add_color_stop_rgb (shade, 1.0, 0.24, 0.24, 0.24);
  cairo_arc (cr, x, y, BALL, 0.0, 2.0 * G_PI);
  cairo_set_source (cr, shade);
  cairo_fill (cr);
  cairo_pattern_destroy (shade);
}

static void
draw_run (cairo_t *cr, double x, double y)
{
  double lit_x = x - 20.0, lit_y = y - 22.0, end_x = x + 33.0, end_y = y + 32.0;

  cairo_move_to (cr, lit_x + 4.5, lit_y + 4.5);
  cairo_line_to (cr, end_x - 4.0, end_y - 4.0);
  stroke_twice (cr, 1.4);
  cairo_arc (cr, lit_x, lit_y, 6.0, 0.0, 2.0 * G_PI);
  stroke_twice (cr, 1.8);
  cairo_arc (cr, end_x, end_y, 5.5, 0.0, 2.0 * G_PI);
  stroke_twice (cr, 1.4);
}

static void
draw_arrow (cairo_t *cr, double x, double y, double s)
{
  cairo_move_to (cr, x - s * 14.0, y);
  cairo_line_to (cr, x + s * 14.0, y);
  cairo_move_to (cr, x + s * 6.0, y - 8.0);
  cairo_line_to (cr, x + s * 14.0, y);
  cairo_line_to (cr, x + s * 6.0, y + 8.0);
  stroke_twice (cr, 1.4);
}

static void
draw_stair (cairo_t *cr, double x, double y, gboolean mirror)
{
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (int i = 0; i < N_STEPS; i++)
    {
      int place = mirror ? N_STEPS - 1 - i : i;

      ts_palette_set_lab (cr, (TsLab){ 86.0 - 16.5 * i, 0.0, 0.0 });
      cairo_rectangle (cr, x + place * STEP_WIDTH, y - STEP_HEIGHT / 2.0, STEP_WIDTH, STEP_HEIGHT);
      cairo_fill (cr);
    }
}

static void
ts_promise_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  gboolean mirror = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  double left = (width - WIDTH) / 2.0, y = height / 2.0;
  TsPalette palette;

  ts_palette_get (widget, &palette);
  gdk_cairo_set_source_rgba (cr, &palette.field);
  cairo_paint (cr);
  draw_ball (cr, mirror ? left + WIDTH - 70.0 : left + 70.0, y);
  draw_run (cr, mirror ? left + WIDTH - 70.0 : left + 70.0, y);
  draw_arrow (cr, mirror ? left + WIDTH - 163.0 : left + 163.0, y, mirror ? -1.0 : 1.0);
  draw_stair (cr, mirror ? left + 16.0 : left + 200.0, y, mirror);
  cairo_destroy (cr);
}

static void
ts_promise_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                    int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? WIDTH : HEIGHT;
}

static void
ts_promise_class_init (TsPromiseClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = ts_promise_snapshot;
  widget_class->measure = ts_promise_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_promise_init (TsPromise *self)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("A line from lit to shadow becomes a stair of steps"), -1);
}
