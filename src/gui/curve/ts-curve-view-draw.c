/* ts-curve-view-draw.c: drawing the plot of lightness along the run
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/curve/ts-curve-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"

#define STEP_RADIUS 6.3
#define BASE_RADIUS 8.3
#define SPOT_RADIUS 2.6
#define GRID_STEP 20.0
#define AXIS_GAP 11.0 /* numbers stand clear of the steps at the ends */
#define N_PIECES 80
#define SAME_PLACE 0.02  /* of the run */
#define MOST_VAGUE 0.35  /* of the run: a place less sure than that is not drawn */
#define REASON_SHARE 0.6 /* of the plot's width, at most */
#define REASON_GAP 7.0
#define REASON_PAD 4.0

typedef struct
{
  TsCurveView *self;
  GtkWidget *widget;
  cairo_t *cr;
  TsCurvePlot plot;
  TsPalette palette;
  TsCurve *curve;
  TsStair *stair;
} Drawing;

static void
draw_grid (Drawing *d)
{
  double start = d->plot.mirror ? d->plot.right : d->plot.left;
  double outwards = d->plot.mirror ? 1.0 : -1.0;

  cairo_set_line_width (d->cr, 1.0);
  for (double L = 0.0; L <= d->plot.most + 0.5; L += GRID_STEP)
    {
      double y = floor (ts_curve_plot_y (&d->plot, L)) + 0.5;
      g_autofree char *number = g_strdup_printf ("%.0f", L);

      gdk_cairo_set_source_rgba (d->cr, &d->palette.grid);
      cairo_move_to (d->cr, d->plot.left, y);
      cairo_line_to (d->cr, d->plot.right, y);
      cairo_stroke (d->cr);
      ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, number, start + outwards * AXIS_GAP, y,
                    d->plot.mirror ? 0.0 : 1.0, 0.5, &d->palette.dim);
    }
}

/* Munsell values at their true heights: the scale is not even in L*. */
static void
draw_values (Drawing *d)
{
  double end = d->plot.mirror ? d->plot.left : d->plot.right;
  double outwards = d->plot.mirror ? -1.0 : 1.0;

  for (int value = 0; value <= 10; value += 2)
    {
      double L = ts_lightness_from_munsell_value (value);
      g_autofree char *number = g_strdup_printf ("%d", value);

      if (L <= d->plot.most + 0.5)
        ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, number, end + outwards * AXIS_GAP,
                      ts_curve_plot_y (&d->plot, L), d->plot.mirror ? 1.0 : 0.0, 0.5,
                      &d->palette.dim);
    }
}

static void
draw_ends (Drawing *d)
{
  double start = d->plot.mirror ? d->plot.right : d->plot.left;
  double end = d->plot.mirror ? d->plot.left : d->plot.right;
  double s = d->plot.mirror ? -1.0 : 1.0, y = d->plot.bottom + 5.0;
  double near = d->plot.mirror ? 1.0 : 0.0, far = d->plot.mirror ? 0.0 : 1.0;
  const char *value = C_ ("Munsell", "value");
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (d->widget, TS_EM_AXIS, FALSE, value);
  double edge = d->plot.mirror ? 1.0 : gtk_widget_get_width (d->widget) - 1.0;
  double begin; /* of the word for the values */
  int width;

  /* A long word takes room from the plot's side: what stands before it gives way. */
  pango_layout_get_pixel_size (layout, &width, NULL);
  begin = s * MIN (s * (end + s * 6.0), s * (edge - s * width));
  end = s * MIN (s * end, s * (begin - s * 8.0));
  ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, _ ("L*"), start - s * AXIS_GAP, y, far, 0.0,
                &d->palette.dim);
  ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, _ ("lit"), start, y, near, 0.0,
                &d->palette.dim);
  ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, _ ("shadow"), end, y, far, 0.0,
                &d->palette.dim);
  ts_draw_layout (d->cr, layout, begin, y, near, 0.0, &d->palette.dim);
}

static void
draw_band (Drawing *d)
{
  double low, high;

  cairo_new_path (d->cr);
  for (int i = 0; i <= N_PIECES; i++)
    {
      ts_curve_get_band (d->curve, i / (double) N_PIECES, &low, &high);
      cairo_line_to (d->cr, ts_curve_plot_x (&d->plot, i / (double) N_PIECES),
                     ts_curve_plot_y (&d->plot, MIN (high, d->plot.most)));
    }
  for (int i = N_PIECES; i >= 0; i--)
    {
      ts_curve_get_band (d->curve, i / (double) N_PIECES, &low, &high);
      cairo_line_to (d->cr, ts_curve_plot_x (&d->plot, i / (double) N_PIECES),
                     ts_curve_plot_y (&d->plot, MAX (low, 0.0)));
    }
  cairo_close_path (d->cr);
  gdk_cairo_set_source_rgba (d->cr, &d->palette.band);
  cairo_fill (d->cr);
}

static void
draw_photo_curve (Drawing *d)
{
  cairo_new_path (d->cr);
  for (int i = 0; i <= N_PIECES; i++)
    cairo_line_to (
      d->cr, ts_curve_plot_x (&d->plot, i / (double) N_PIECES),
      ts_curve_plot_y (&d->plot, ts_curve_get_lightness (d->curve, i / (double) N_PIECES)));
  gdk_cairo_set_source_rgba (d->cr, &d->palette.dim);
  cairo_set_line_width (d->cr, 1.2);
  cairo_stroke (d->cr);
}

/* The lightest of all lines between two places. */
static double
find_lightest (Drawing *d, double from, double to)
{
  double most = 0.0;

  for (int i = 0; i <= N_PIECES; i++)
    {
      double position = i / (double) N_PIECES;

      if (position >= from && position <= to)
        most = MAX (most, ts_curve_get_lightness (d->curve, position));
    }
  for (guint i = 0; i < ts_stair_get_n_steps (d->stair); i++)
    {
      const TsStep *step = ts_stair_get_step (d->stair, i);

      if (step->position >= from - 0.1 && step->position <= to + 0.1)
        most = MAX (most, step->wanted.L);
    }
  return most;
}

/* Down to the foot of the plot, where a bar tells the 95 % range of the place. */
static void
draw_place (Drawing *d, double position, double low, double high, double top)
{
  const double dashes[] = { 2.0, 3.0 };
  double x = floor (ts_curve_plot_x (&d->plot, position)) + 0.5;

  cairo_save (d->cr);
  gdk_cairo_set_source_rgba (d->cr, &d->palette.dim);
  cairo_set_line_width (d->cr, 3.0);
  cairo_move_to (d->cr, ts_curve_plot_x (&d->plot, low), d->plot.bottom);
  cairo_line_to (d->cr, ts_curve_plot_x (&d->plot, high), d->plot.bottom);
  cairo_stroke (d->cr);
  cairo_set_dash (d->cr, dashes, G_N_ELEMENTS (dashes), 0.0);
  cairo_set_line_width (d->cr, 1.0);
  cairo_move_to (d->cr, x, top);
  cairo_line_to (d->cr, x, d->plot.bottom);
  cairo_stroke (d->cr);
  cairo_restore (d->cr);
}

/* The steepest fall, where there is one and it is known where; its word stands at the foot, on the
 * side with room. */
static void
draw_terminator (Drawing *d)
{
  double position, low, high, top, x;
  gboolean before;

  if (!ts_curve_get_terminator (d->curve, &position, &low, &high) || high - low > MOST_VAGUE)
    return;
  top = ts_curve_plot_y (&d->plot, ts_curve_get_lightness (d->curve, position));
  x = ts_curve_plot_x (&d->plot, position);
  before = position > 0.5;
  before = d->plot.mirror ? !before : before;
  draw_place (d, position, low, high, top);
  ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, _ ("terminator"), x + (before ? -5.0 : 5.0),
                d->plot.bottom - 10.0, before ? 1.0 : 0.0, 0.5, &d->palette.dim);
}

/* Its word stands above the lines it would cross. */
static void
draw_core_shadow (Drawing *d)
{
  double low_end, high_end, position = ts_curve_get_core_shadow (d->curve, &low_end, &high_end);
  double x = floor (ts_curve_plot_x (&d->plot, position)) + 0.5,
         room = d->plot.right - d->plot.left;
  g_autoptr (PangoLayout) layout =
    ts_draw_new_layout (d->widget, TS_EM_AXIS, FALSE, _ ("core shadow"));
  double align = position > 0.7 ? 0.5 + (position - 0.7) / 0.6 : 0.5;
  double before, top;
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  before = align * width / room;
  align = d->plot.mirror ? 1.0 - align : align;
  top = ts_curve_plot_y (&d->plot,
                         find_lightest (d, position - before, position - before + width / room));
  top = MAX (top - 22.0, d->plot.top + 6.0);

  draw_place (d, position, low_end, high_end, top + 9.0);
  ts_draw_layout (d->cr, layout, x, top, align, 0.5, &d->palette.dim);
}

static void
draw_outlier (Drawing *d, double x, double y)
{
  gdk_cairo_set_source_rgba (d->cr, &d->palette.text);
  cairo_set_line_width (d->cr, 1.4);
  cairo_move_to (d->cr, x - 3.0, y - 3.0);
  cairo_line_to (d->cr, x + 3.0, y + 3.0);
  cairo_move_to (d->cr, x + 3.0, y - 3.0);
  cairo_line_to (d->cr, x - 3.0, y + 3.0);
  cairo_stroke (d->cr);
}

/* Whether its reason is told: of the hovered one, or of a single one. */
static gboolean
tells_reason (Drawing *d, guint index)
{
  int hovered = d->self->hover != NULL ? ts_hover_get_spot (d->self->hover) : -1;
  guint n = 0;

  for (guint i = 0; i < ts_curve_get_n_samples (d->curve); i++)
    n += ts_curve_sample_is_outlier (d->curve, i);
  return n == 1 || hovered == (int) index;
}

/* How many steps a rectangle would lie under. */
static guint
count_covered (Drawing *d, double x, double y, double width, double height)
{
  guint n = 0;

  for (guint i = 0; i < ts_stair_get_n_steps (d->stair); i++)
    {
      const TsStep *step = ts_stair_get_step (d->stair, i);
      double step_x = ts_curve_plot_x (&d->plot, step->position);
      double step_y = ts_curve_plot_y (&d->plot, step->wanted.L);

      n += step_x > x - STEP_RADIUS && step_x < x + width + STEP_RADIUS &&
           step_y > y - STEP_RADIUS && step_y < y + height + STEP_RADIUS;
    }
  return n;
}

/* In as many lines as keep it within the plot, under the cross, or over it where that covers fewer
 * steps. */
static void
draw_reason (Drawing *d, guint index, const TsSpot *spot)
{
  const char *words = ts_format_outlier (d->curve, index, spot->clipped_share);
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (d->widget, TS_EM_AXIS, FALSE, words);
  double room = d->plot.right - d->plot.left, x = ts_curve_plot_x (&d->plot, spot->position);
  double cross = ts_curve_plot_y (&d->plot, spot->lab.L), y = cross + REASON_GAP, above;
  int width, height;

  pango_layout_set_width (layout, (int) (REASON_SHARE * room) * PANGO_SCALE);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_get_pixel_size (layout, &width, &height);
  pango_layout_set_width (layout, width * PANGO_SCALE);
  x = CLAMP (x - width / 2.0, d->plot.left + REASON_PAD, d->plot.right - width - REASON_PAD);
  above = cross - REASON_GAP - height;
  if (y + height > d->plot.bottom ||
      (above > d->plot.top &&
       count_covered (d, x, above, width, height) < count_covered (d, x, y, width, height)))
    y = above;
  ts_draw_rounded (d->cr, x - REASON_PAD, y, width + 2.0 * REASON_PAD, height, 3.0);
  gdk_cairo_set_source_rgba (d->cr, &d->palette.panel);
  cairo_fill (d->cr);
  ts_draw_layout (d->cr, layout, x, y, 0.0, 0.0, &d->palette.text);
}

static void
draw_reasons (Drawing *d)
{
  const TsSpot *spot;

  for (guint i = 0; i < ts_curve_get_n_samples (d->curve) &&
                    (spot = ts_curve_view_get_spot (d->self, i)) != NULL;
       i++)
    if (ts_curve_sample_is_outlier (d->curve, i) && tells_reason (d, i))
      draw_reason (d, i, spot);
}

/* A stroke through the ring: clipped, and so it counts less. */
static void
draw_clipped (Drawing *d, double x, double y)
{
  gdk_cairo_set_source_rgba (d->cr, &d->palette.text);
  cairo_set_line_width (d->cr, 1.4);
  cairo_move_to (d->cr, x - 5.0, y + 5.0);
  cairo_line_to (d->cr, x + 5.0, y - 5.0);
  cairo_stroke (d->cr);
}

static void
draw_spots (Drawing *d)
{
  int hovered = d->self->hover != NULL ? ts_hover_get_spot (d->self->hover) : -1;
  const TsSpot *spot;

  for (guint i = 0; (spot = ts_curve_view_get_spot (d->self, i)) != NULL; i++)
    {
      double x = ts_curve_plot_x (&d->plot, spot->position);
      double y = ts_curve_plot_y (&d->plot, spot->lab.L);

      if (i < ts_curve_get_n_samples (d->curve) && ts_curve_sample_is_outlier (d->curve, i))
        {
          draw_outlier (d, x, y);
          continue;
        }
      cairo_new_path (d->cr);
      cairo_arc (d->cr, x, y, (int) i == hovered ? SPOT_RADIUS + 2.5 : SPOT_RADIUS, 0.0,
                 2.0 * G_PI);
      gdk_cairo_set_source_rgba (d->cr, &d->palette.plot);
      cairo_fill_preserve (d->cr);
      gdk_cairo_set_source_rgba (d->cr, (int) i == hovered ? &d->palette.text : &d->palette.dim);
      cairo_set_line_width (d->cr, (int) i == hovered ? 1.8 : 1.1);
      cairo_stroke (d->cr);
      if (spot->clipped_share > TS_SPOT_MOST_CLIPPED)
        draw_clipped (d, x, y);
    }
}

static void
draw_wanted_line (Drawing *d)
{
  cairo_new_path (d->cr);
  for (guint i = 0; i < ts_stair_get_n_steps (d->stair); i++)
    {
      const TsStep *step = ts_stair_get_step (d->stair, i);

      cairo_line_to (d->cr, ts_curve_plot_x (&d->plot, step->position),
                     ts_curve_plot_y (&d->plot, step->wanted.L));
    }
  gdk_cairo_set_source_rgba (d->cr, &d->palette.text);
  cairo_set_line_width (d->cr, 1.6);
  cairo_stroke (d->cr);
}

static void
draw_step (Drawing *d, guint index, gboolean selected, gboolean hovered)
{
  const TsStep *step = ts_stair_get_step (d->stair, index);
  double x = ts_curve_plot_x (&d->plot, step->position);
  double y = ts_curve_plot_y (&d->plot, step->wanted.L);

  cairo_new_path (d->cr);
  cairo_arc (d->cr, x, y, selected || hovered ? BASE_RADIUS : STEP_RADIUS, 0.0, 2.0 * G_PI);
  ts_palette_set_lab (d->cr, step->wanted);
  cairo_fill_preserve (d->cr);
  gdk_cairo_set_source_rgba (d->cr, &d->palette.text);
  cairo_set_line_width (d->cr, selected ? 2.2 : 1.3);
  cairo_stroke (d->cr);
}

/* The same tone elsewhere on the run: reflected light, and what a polished surface mirrors. */
static void
draw_other_places (Drawing *d, guint index)
{
  const TsStep *step = ts_stair_get_step (d->stair, index);
  double places[TS_CURVE_MAX_PLACES];
  guint n = ts_stair_find_places (d->stair, index, places);

  for (guint i = 0; i < n; i++)
    {
      if (fabs (places[i] - step->position) < SAME_PLACE)
        continue;
      cairo_new_path (d->cr);
      cairo_arc (d->cr, ts_curve_plot_x (&d->plot, places[i]),
                 ts_curve_plot_y (&d->plot, step->wanted.L), SPOT_RADIUS + 1.0, 0.0, 2.0 * G_PI);
      ts_palette_set_lab (d->cr, step->wanted);
      cairo_fill_preserve (d->cr);
      gdk_cairo_set_source_rgba (d->cr, &d->palette.dim);
      cairo_set_line_width (d->cr, 1.0);
      cairo_stroke (d->cr);
    }
}

static void
draw_steps (Drawing *d)
{
  int selected = ts_document_get_selected_step (ts_view_get_document (TS_VIEW (d->self)));
  int hovered = d->self->hover != NULL ? ts_hover_get_step (d->self->hover) : -1;

  for (guint i = 0; i < ts_stair_get_n_steps (d->stair); i++)
    draw_other_places (d, i);
  for (guint i = 0; i < ts_stair_get_n_steps (d->stair); i++)
    draw_step (d, i, (int) i == selected, (int) i == hovered);
}

/* Under the photo's curve, or over it where the wanted line runs below; a free curve has dots of
 * other places about its lit end. */
static void
draw_photo_name (Drawing *d)
{
  gboolean at_end = ts_curve_get_shape (d->curve) == TS_CURVE_FREE;
  double position = at_end ? 0.97 : 0.035, align = at_end == !d->plot.mirror ? 1.0 : 0.0;
  double photo = ts_curve_get_lightness (d->curve, at_end ? 0.9 : 0.05);
  const TsStep *near =
    ts_stair_get_step (d->stair, at_end ? ts_stair_get_n_steps (d->stair) - 1 : 0);
  double far = ts_curve_plot_y (&d->plot, photo) - ts_curve_plot_y (&d->plot, near->wanted.L);
  double below = far > 0.0 ? 15.0 : -13.0;

  if (fabs (far) > 10.0)
    ts_draw_text (d->cr, d->widget, TS_EM_AXIS, FALSE, _ ("photo"),
                  ts_curve_plot_x (&d->plot, position), ts_curve_plot_y (&d->plot, photo) + below,
                  align, 0.5, &d->palette.dim);
}

/* Beside the first step, over its line or under it, away from the photo's, and within the plot. */
static void
draw_names (Drawing *d)
{
  const TsStep *first = ts_stair_get_step (d->stair, 0);
  double s = d->plot.mirror ? -1.0 : 1.0, near = d->plot.mirror ? 1.0 : 0.0;
  double photo_y =
    ts_curve_plot_y (&d->plot, ts_curve_get_lightness (d->curve, first->position + 0.1));
  double wanted_y = ts_curve_plot_y (&d->plot, first->wanted.L);
  double word_y = wanted_y + (photo_y < wanted_y && photo_y > wanted_y - 24.0 ? 14.0 : -9.0);

  ts_draw_text (d->cr, d->widget, TS_EM_AXIS, TRUE, _ ("wanted"),
                ts_curve_plot_x (&d->plot, first->position) + s * 12.0,
                MAX (word_y, d->plot.top + 7.0), near, 0.5, &d->palette.text);
  draw_photo_name (d);
}

/**
 * ts_curve_view_draw:
 * @self: the view
 * @cr: a cairo context
 *
 * Draws band, curve of the photo, spots, and the line of wanted steps.
 */
void
ts_curve_view_draw (TsCurveView *self, cairo_t *cr)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  Drawing d = { .self = self, .widget = GTK_WIDGET (self), .cr = cr };

  d.plot = ts_curve_view_get_plot (self);
  ts_palette_get (d.widget, &d.palette);
  draw_grid (&d);
  draw_values (&d);
  draw_ends (&d);
  if (result == NULL)
    return;
  d.curve = ts_surface_result_get_curve (result);
  d.stair = ts_surface_result_get_stair (result);
  draw_band (&d);
  draw_photo_curve (&d);
  if (ts_curve_get_shape (d.curve) != TS_CURVE_FREE)
    {
      draw_terminator (&d);
      draw_core_shadow (&d);
    }
  draw_spots (&d);
  draw_names (&d);
  draw_reasons (&d);
  draw_wanted_line (&d);
  draw_steps (&d);
}
