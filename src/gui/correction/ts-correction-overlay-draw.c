/* ts-correction-overlay-draw.c: patches and numbers over the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-correction-overlay-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"

#define LEAST_FOR_NUMBERS 26.0 /* width of a patch's area on the screen */
#define DARK_TEXT_ABOVE 55.0   /* L* of a patch */
#define PILL_GAP 6.0

/* The patch that the correction leaves the most of, or -1. */
static int
find_largest (const TsChartReading *reading)
{
  int largest = -1;

  for (int i = 0; i < TS_CHART_PATCHES; i++)
    if (reading->patch[i].used &&
        (largest < 0 || reading->patch[i].residual > reading->patch[largest].residual))
      largest = i;
  return largest;
}

static void
add_area (TsCorrectionOverlay *self, cairo_t *cr, const TsPoint corner[4])
{
  cairo_new_path (cr);
  for (guint k = 0; k < 4; k++)
    {
      TsPoint at = ts_image_view_to_widget (self->image_view, corner[k]);

      cairo_line_to (cr, at.x, at.y);
    }
  cairo_close_path (cr);
}

static double
get_width (TsCorrectionOverlay *self, const TsPoint corner[4])
{
  return hypot (corner[1].x - corner[0].x, corner[1].y - corner[0].y) *
         ts_image_view_get_zoom (self->image_view);
}

/* What is left on a patch; one that is left out has a stroke through it instead. */
static void
draw_number (TsCorrectionOverlay *self, cairo_t *cr, const TsChartPatch *patch,
             const TsPoint corner[4])
{
  const GdkRGBA dark = { 0.06F, 0.06F, 0.06F, 1.0F }, light = { 1.0F, 1.0F, 1.0F, 1.0F };
  TsPoint middle = ts_image_view_to_widget (
    self->image_view, (TsPoint){ (corner[0].x + corner[1].x + corner[2].x + corner[3].x) / 4.0,
                                 (corner[0].y + corner[1].y + corner[2].y + corner[3].y) / 4.0 });
  g_autofree char *text = g_strdup_printf ("%.1f", patch->residual);

  if (patch->used)
    ts_draw_text (cr, GTK_WIDGET (self), TS_EM_SMALL, TRUE, text, middle.x, middle.y, 0.5, 0.5,
                  ts_lab_from_xyz (patch->xyz).L > DARK_TEXT_ABOVE ? &dark : &light);
  cairo_new_path (cr);
}

static void
draw_stroke_through (TsCorrectionOverlay *self, cairo_t *cr, const TsPoint corner[4])
{
  TsPoint from = ts_image_view_to_widget (self->image_view, corner[0]);
  TsPoint to = ts_image_view_to_widget (self->image_view, corner[2]);

  cairo_new_path (cr);
  cairo_move_to (cr, from.x, from.y);
  cairo_line_to (cr, to.x, to.y);
  ts_draw_stroke_over (cr, 1.4);
}

static void
draw_chart (TsCorrectionOverlay *self, cairo_t *cr)
{
  const TsChartReading *reading = ts_correction_draft_get_reading (self->draft);
  int largest = reading != NULL ? find_largest (reading) : -1;
  TsChartLayout layout;

  if (!ts_correction_draft_lay_out (self->draft, &layout))
    return;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      const TsChartPatch *patch =
        reading != NULL && layout.patch[i] >= 0 ? &reading->patch[layout.patch[i]] : NULL;

      add_area (self, cr, layout.corner[i]);
      ts_draw_stroke_over (cr, patch != NULL && layout.patch[i] == largest ? 2.6 : 1.0);
      if (patch != NULL && !patch->used)
        draw_stroke_through (self, cr, layout.corner[i]);
      else if (patch != NULL && get_width (self, layout.corner[i]) >= LEAST_FOR_NUMBERS)
        draw_number (self, cr, patch, layout.corner[i]);
    }
}

static char *
dup_disc_words (TsCorrectionOverlay *self, TsDraftDisc disc)
{
  double lightness = ts_correction_draft_get_disc (self->draft, disc)->lightness;

  switch (disc)
    {
    case TS_DISC_GREY:
      return g_strdup_printf (_ ("grey card, L* %.1f"), lightness);
    case TS_DISC_WHITE:
      return g_strdup_printf (_ ("white card, L* %.1f"), lightness);
    case TS_DISC_BLACK:
      return g_strdup_printf (_ ("black card, L* %.1f"), lightness);
    case TS_DISC_HERE:
    case TS_DISC_THERE:
    case TS_N_DISCS:
    default:
      return g_strdup (_ ("the same grey card"));
    }
}

static void
draw_disc_words (TsCorrectionOverlay *self, cairo_t *cr, TsDraftDisc disc)
{
  const TsCardPlace *place = ts_correction_draft_get_disc (self->draft, disc);
  TsPoint at = ts_image_view_to_widget (self->image_view, (TsPoint){ place->x, place->y });
  g_autofree char *words = dup_disc_words (self, disc);
  double width, height, y = at.y + ts_correction_overlay_get_radius (self, disc) + PILL_GAP;
  int whole = gtk_widget_get_width (GTK_WIDGET (self));

  ts_draw_pill_size (GTK_WIDGET (self), words, &width, &height);
  ts_draw_pill (cr, GTK_WIDGET (self), words, CLAMP (at.x, width / 2.0, whole - width / 2.0),
                MIN (y + height / 2.0, gtk_widget_get_height (GTK_WIDGET (self)) - height / 2.0));
  cairo_new_path (cr);
}

void
ts_correction_overlay_draw (TsCorrectionOverlay *self, cairo_t *cr)
{
  if (ts_correction_overlay_shows_chart (self))
    draw_chart (self, cr);
  for (guint i = 0; i < TS_N_DISCS; i++)
    if (ts_correction_overlay_shows_disc (self, (TsDraftDisc) i))
      draw_disc_words (self, cr, (TsDraftDisc) i);
}
