/* ts-sheet-template.c: a sheet to print and paint swatches on, with black and white halves
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "card/ts-sheet-template.h"

#include <glib/gi18n.h>
#include <math.h>

#include "card/ts-card-private.h"
#include "card/ts-pages.h"
#include "sheet/ts-sheet-marks.h"

/* All in points. */
#define MARGIN 40.0
#define FOOT 26.0
#define CARD_WIDTH 244.0 /* room for a grey card or a chart of 86 by 54 mm */
#define CARD_HEIGHT 154.0
#define RADIUS 8.0 /* of a ring at a corner */
#define NAME_SIZE 7.4
#define SMALLEST_NAME 4.5
#define INK 0.07
#define QUIET 0.36
#define LABEL 0.14 /* of a cell's height, at its foot */
#define GAP 0.04   /* of a cell's side, between its halves' edges and the next cell */
#define CELLS (TS_TEMPLATE_ROWS * TS_TEMPLATE_COLUMNS)

struct _TsSheetTemplate
{
  /* Owned */
  GStrv names;
  char *title;

  guint n_names;
  double width, height;
};

static void
template_clear (gpointer data)
{
  TsSheetTemplate *self = data;

  g_strfreev (self->names);
  g_free (self->title);
}

/**
 * ts_sheet_template_new:
 * @names: (array zero-terminated=1): names of the paints, in order
 * @title: (nullable): what stands at the top of each page; %NULL: that it is a swatch sheet
 * @paper: size of the paper
 *
 * Returns: (transfer full): the sheet, 40 cells a page; one page without names
 */
TsSheetTemplate *
ts_sheet_template_new (const char *const *names, const char *title, TsPaper paper)
{
  TsSheetTemplate *self = g_atomic_rc_box_new0 (TsSheetTemplate);

  self->names = g_strdupv ((char **) (gpointer) names);
  self->n_names = g_strv_length (self->names);
  self->title = g_strdup (title != NULL ? title : _ ("Swatch sheet"));
  /* ISO 216 A4 and US letter, in points */
  self->width = paper == TS_PAPER_A4 ? 595.276 : 612.0;
  self->height = paper == TS_PAPER_A4 ? 841.890 : 792.0;
  return self;
}

/**
 * ts_sheet_template_dup_names:
 * @set: a set
 *
 * Returns: (transfer full) (array zero-terminated=1): names of the paints a sheet is painted with
 */
GStrv
ts_sheet_template_dup_names (const TsPaintSet *set)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);
      TsPaintKind kind = ts_paint_get_kind (paint);

      if (kind != TS_PAINT_MEDIUM && kind != TS_PAINT_VARNISH && kind != TS_PAINT_PRIMER)
        g_ptr_array_add (names, g_strdup (ts_paint_get_name (paint)));
    }
  g_ptr_array_add (names, NULL);
  return (GStrv) g_ptr_array_free (g_steal_pointer (&names), FALSE);
}

/**
 * ts_sheet_template_ref:
 * @self: a sheet
 *
 * Returns: (transfer full): @self
 */
TsSheetTemplate *
ts_sheet_template_ref (TsSheetTemplate *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_sheet_template_unref:
 * @self: (transfer full): a sheet
 */
void
ts_sheet_template_unref (TsSheetTemplate *self)
{
  g_return_if_fail (self != NULL);

  g_atomic_rc_box_release_full (self, template_clear);
}

/**
 * ts_sheet_template_get_n_pages:
 * @self: a sheet
 *
 * Returns: how many pages it has, at least 1
 */
guint
ts_sheet_template_get_n_pages (const TsSheetTemplate *self)
{
  return MAX (1, (self->n_names + CELLS - 1) / CELLS);
}

/**
 * ts_sheet_template_get_size:
 * @self: a sheet
 * @width: (out): of a page, points of 1/72 inch
 * @height: (out): of a page
 */
void
ts_sheet_template_get_size (const TsSheetTemplate *self, double *width, double *height)
{
  *width = self->width;
  *height = self->height;
}

static void
fill_box (cairo_t *cr, double x, double y, double width, double height, double grey)
{
  cairo_set_source_rgb (cr, grey, grey, grey);
  cairo_rectangle (cr, x, y, width, height);
  cairo_fill (cr);
}

static void
stroke_box (cairo_t *cr, double x, double y, double width, double height)
{
  cairo_set_source_rgb (cr, 0.6, 0.6, 0.6);
  cairo_set_line_width (cr, 0.5);
  cairo_rectangle (cr, x, y, width, height);
  cairo_stroke (cr);
}

/* A name, set smaller where it is long, or a line to write one on. */
static void
draw_name (cairo_t *cr, const char *name, double x, double y, double width)
{
  double needed = ts_card_text_width (cr, name, NAME_SIZE, FALSE);
  double size = MAX (SMALLEST_NAME, NAME_SIZE * MIN (1.0, width / MAX (needed, 1.0)));

  if (*name == '\0')
    {
      fill_box (cr, x, y + 8.0, 0.8 * width, 0.4, QUIET);
      return;
    }
  cairo_save (cr);
  cairo_rectangle (cr, x, y, width, 2.0 * NAME_SIZE);
  cairo_clip (cr);
  ts_card_text (cr, name, x, y + 0.5, -1.0, size, FALSE, INK, TS_CARD_TEXT_LEFT);
  cairo_restore (cr);
}

/* Black and white halves, the strip that stays bare, and the name. */
static void
draw_cell (cairo_t *cr, const char *name, double x, double y, double width, double height)
{
  double top = y + GAP * height, foot = y + (1.0 - LABEL) * height;
  double paint_top = y + TS_TEMPLATE_BARE * height;

  fill_box (cr, x + 0.5 * width, top, (0.5 - GAP) * width, foot - top, 0.0);
  stroke_box (cr, x + GAP * width, paint_top, (1.0 - 2.0 * GAP) * width, foot - paint_top);
  draw_name (cr, name, x + GAP * width, foot, (1.0 - 2.0 * GAP) * width);
}

/* A ring and a dot; the first corner's dot is the small one, so that a photograph can be turned any
 * way. */
static void
draw_mark (cairo_t *cr, double x, double y, gboolean first)
{
  const double radius[] = { RADIUS, TS_SHEET_MARK_WHITE * RADIUS,
                            (first ? TS_SHEET_MARK_FIRST : TS_SHEET_MARK_DOT) * RADIUS };

  for (int i = 0; i < 3; i++)
    {
      cairo_arc (cr, x, y, radius[i], 0.0, 2.0 * G_PI);
      cairo_set_source_rgb (cr, i % 2, i % 2, i % 2);
      cairo_fill (cr);
    }
}

static double
draw_head (const TsSheetTemplate *self, cairo_t *cr, double width)
{
  double text = width - CARD_WIDTH - 20.0, at = MARGIN, x = MARGIN + text + 20.0;
  static const char *const advice[] = {
    /* xgettext:no-c-format */
    N_ ("Print at 100 % on matt white card."),
    N_ ("Paint each box in one even coat, right across black and white. Leave the strip above it "
        "bare."),
    N_ (
      "When dry, photograph it straight on, in even light, with the card or chart in its place and "
      "all four rings in the picture."),
  };

  at += ts_card_text (cr, self->title, MARGIN, at, text, 15.0, TRUE, INK, TS_CARD_TEXT_LEFT) + 6.0;
  for (gsize i = 0; i < G_N_ELEMENTS (advice); i++)
    at +=
      ts_card_text (cr, _ (advice[i]), MARGIN, at, text, 9.0, FALSE, INK, TS_CARD_TEXT_LEFT) + 5.0;
  stroke_box (cr, x, MARGIN, CARD_WIDTH, CARD_HEIGHT);
  ts_card_text (cr, _ ("Lay the grey card or the colour chart here"), x,
                MARGIN + 0.5 * CARD_HEIGHT - 6.0, CARD_WIDTH, 9.0, FALSE, QUIET,
                TS_CARD_TEXT_MIDDLE);
  return MAX (at, MARGIN + CARD_HEIGHT) + 2.0 * RADIUS + 8.0;
}

static void
draw_grid (const TsSheetTemplate *self, cairo_t *cr, guint page, double top)
{
  double w = (self->width - 2.0 * MARGIN) / (TS_TEMPLATE_COLUMNS + 4.0 * TS_SHEET_MARK_OUT);
  double left = MARGIN + 2.0 * TS_SHEET_MARK_OUT * w, right = self->width - left;
  double bottom = self->height - FOOT - 2.0 * RADIUS - 8.0, h = (bottom - top) / TS_TEMPLATE_ROWS;
  double out_x = TS_SHEET_MARK_OUT * w, out_y = TS_SHEET_MARK_OUT * h;

  for (guint i = 0; i < CELLS; i++)
    {
      guint index = page * CELLS + i;

      draw_cell (cr, index < self->n_names ? self->names[index] : "",
                 left + (i % TS_TEMPLATE_COLUMNS) * w, top + (i / TS_TEMPLATE_COLUMNS) * h, w, h);
    }
  draw_mark (cr, left - out_x, top - out_y, TRUE);
  draw_mark (cr, right + out_x, top - out_y, FALSE);
  draw_mark (cr, right + out_x, bottom + out_y, FALSE);
  draw_mark (cr, left - out_x, bottom + out_y, FALSE);
}

/**
 * ts_sheet_template_draw:
 * @self: a sheet
 * @page: below the number of its pages
 * @cr: a context in points, the page's top left corner at 0, 0
 */
void
ts_sheet_template_draw (const TsSheetTemplate *self, guint page, cairo_t *cr)
{
  g_autofree char *facts = g_strdup_printf (
    _ ("%d rows, %d columns, black and white halves, bare strip %.2f; page %u of %u"),
    TS_TEMPLATE_ROWS, TS_TEMPLATE_COLUMNS, TS_TEMPLATE_BARE, page + 1,
    ts_sheet_template_get_n_pages (self));

  g_return_if_fail (page < ts_sheet_template_get_n_pages (self));

  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  draw_grid (self, cr, page, draw_head (self, cr, self->width - 2.0 * MARGIN));
  ts_card_text (cr, facts, MARGIN, self->height - FOOT, self->width - 2.0 * MARGIN, 7.8, FALSE,
                QUIET, TS_CARD_TEXT_RIGHT);
}

static void
draw (gconstpointer self, guint page, cairo_t *cr)
{
  ts_sheet_template_draw (self, page, cr);
}

/**
 * ts_sheet_template_save:
 * @self: a sheet
 * @path: its ending chooses the format: .pdf, .svg or .png
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with a #TsError; a file that was there is then as it was
 */
gboolean
ts_sheet_template_save (const TsSheetTemplate *self, const char *path, GError **error)
{
  TsPages pages = { self->title, self->width, self->height, ts_sheet_template_get_n_pages (self),
                    draw,        self };

  return ts_pages_save (&pages, path, "", error);
}
