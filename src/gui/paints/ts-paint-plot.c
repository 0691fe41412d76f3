/* ts-paint-plot.c: reflectance of a paint against wavelength
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-plot.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-palette.h"

#define LEFT 34
#define TOP 10
#define BOTTOM 34
#define RIGHT 8
#define BAND_LAST (TS_BAND_FIRST + TS_BAND_STEP * (TS_BANDS - 1))

struct _TsPaintPlot
{
  GtkWidget parent_instance;

  gboolean filled, has_band;
  TsSpectrum reflectance, low, high;
};

/* Where the plot lies, and how high it goes. */
typedef struct
{
  TsPaintPlot *self;
  cairo_t *cr;
  TsPalette palette;
  double left, right, top, bottom;
  double most; /* reflectance, 0..1 */
} Drawing;

G_DEFINE_FINAL_TYPE (TsPaintPlot, ts_paint_plot, GTK_TYPE_WIDGET)

static double
find_most (TsPaintPlot *self)
{
  double most = 0.0;

  for (guint b = 0; b < TS_BANDS; b++)
    most = MAX (most, self->has_band ? self->high.band[b] : self->reflectance.band[b]);
  return CLAMP (ceil (most * 10.0 + 0.2) / 10.0, 0.2, 1.0);
}

static double
get_x (const Drawing *d, double wavelength)
{
  return d->left +
         (d->right - d->left) * (wavelength - TS_BAND_FIRST) / (BAND_LAST - TS_BAND_FIRST);
}

static double
get_y (const Drawing *d, double reflectance)
{
  return d->bottom - (d->bottom - d->top) * CLAMP (reflectance, 0.0, d->most) / d->most;
}

static void
draw_axes (Drawing *d)
{
  GtkWidget *widget = GTK_WIDGET (d->self);
  double step = d->most > 0.6 ? 0.2 : 0.1;

  cairo_set_line_width (d->cr, 1.0);
  for (double r = 0.0; r <= d->most + 0.01; r += step)
    {
      double y = floor (get_y (d, r)) + 0.5;
      g_autofree char *number = g_strdup_printf ("%.0f", 100.0 * r);

      gdk_cairo_set_source_rgba (d->cr, &d->palette.grid);
      cairo_move_to (d->cr, d->left, y);
      cairo_line_to (d->cr, d->right, y);
      cairo_stroke (d->cr);
      ts_draw_text (d->cr, widget, TS_EM_AXIS, FALSE, number, d->left - 7.0, y, 1.0, 0.5,
                    &d->palette.dim);
    }
  for (int w = TS_BAND_FIRST; w <= BAND_LAST; w += 50)
    {
      g_autofree char *number = g_strdup_printf ("%d", w);
      double align = w == TS_BAND_FIRST ? 0.0 : w == BAND_LAST ? 1.0 : 0.5;

      ts_draw_text (d->cr, widget, TS_EM_AXIS, FALSE, number, get_x (d, w), d->bottom + 4.0, align,
                    0.0, &d->palette.dim);
    }
  ts_draw_text (d->cr, widget, TS_EM_AXIS, FALSE, _ ("wavelength, nm"), d->left, d->bottom + 18.0,
                0.0, 0.0, &d->palette.dim);
  ts_draw_text (d->cr, widget, TS_EM_AXIS, FALSE, "%", d->left - 7.0, d->bottom + 18.0, 1.0, 0.0,
                &d->palette.dim);
}

static void
add_line (Drawing *d, const TsSpectrum *spectrum, gboolean back)
{
  for (guint i = 0; i < TS_BANDS; i++)
    {
      guint b = back ? TS_BANDS - 1 - i : i;

      cairo_line_to (d->cr, get_x (d, TS_BAND_FIRST + TS_BAND_STEP * (double) b),
                     get_y (d, spectrum->band[b]));
    }
}

static void
draw_curve (Drawing *d)
{
  cairo_new_path (d->cr);
  if (d->self->has_band)
    {
      add_line (d, &d->self->low, FALSE);
      add_line (d, &d->self->high, TRUE);
      cairo_close_path (d->cr);
      gdk_cairo_set_source_rgba (d->cr, &d->palette.band);
      cairo_fill (d->cr);
    }
  add_line (d, &d->self->reflectance, FALSE);
  gdk_cairo_set_source_rgba (d->cr, &d->palette.text);
  cairo_set_line_width (d->cr, 1.6);
  cairo_set_line_join (d->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (d->cr);
}

static void
ts_paint_plot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPaintPlot *self = TS_PAINT_PLOT (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  Drawing d = { self,
                gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height)) };

  ts_palette_get (widget, &d.palette);
  d.left = LEFT;
  d.right = width - RIGHT;
  d.top = TOP;
  d.bottom = height - BOTTOM;
  if (self->filled && d.right > d.left && d.bottom > d.top)
    {
      d.most = find_most (self);
      draw_axes (&d);
      draw_curve (&d);
    }
  cairo_destroy (d.cr);
}

static void
ts_paint_plot_class_init (TsPaintPlotClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = ts_paint_plot_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_paint_plot_init (TsPaintPlot *self)
{
  gtk_widget_set_size_request (GTK_WIDGET (self), 200, 150);
  /* Before there is a paint. */
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Reflectance"), -1);
}

/* Where it is highest and lowest, which is what a curve is looked at for. */
static char *
describe (const TsSpectrum *reflectance)
{
  guint least = 0, most = 0;

  for (guint b = 1; b < TS_BANDS; b++)
    {
      least = reflectance->band[b] < reflectance->band[least] ? b : least;
      most = reflectance->band[b] > reflectance->band[most] ? b : most;
    }
  return g_strdup_printf (_ ("highest %.0f %% at %u nm, lowest %.0f %% at %u nm"),
                          100.0 * reflectance->band[most], TS_BAND_FIRST + TS_BAND_STEP * most,
                          100.0 * reflectance->band[least], TS_BAND_FIRST + TS_BAND_STEP * least);
}

/**
 * ts_paint_plot_show:
 * @self: the plot
 * @reflectance: measured reflectance, 0..1
 * @low: (nullable): the least that it may be
 * @high: (nullable): the most that it may be
 * @name: what it is the reflectance of
 *
 * Plots it, and says it in words.
 */
void
ts_paint_plot_show (TsPaintPlot *self, const TsSpectrum *reflectance, const TsSpectrum *low,
                    const TsSpectrum *high, const char *name)
{
  g_autofree char *label = g_strdup_printf (_ ("Reflectance of %s"), name);
  g_autofree char *words = describe (reflectance);

  g_return_if_fail (TS_IS_PAINT_PLOT (self));

  self->filled = TRUE;
  self->reflectance = *reflectance;
  self->has_band = low != NULL && high != NULL;
  if (self->has_band)
    {
      self->low = *low;
      self->high = *high;
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
