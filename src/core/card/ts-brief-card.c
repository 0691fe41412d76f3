/* ts-brief-card.c: the client's card: what was asked for beside what is mixed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * It tells colours and verdicts. The recipes are the painter's, and stand on the mixing card.
 */
#include "card/ts-brief-card.h"

#include <glib/gi18n.h>

#include "card/ts-card-private.h"
#include "card/ts-mark.h"
#include "card/ts-pages.h"
#include "colour/ts-colour-convert.h"

/* All in points. */
#define MARGIN 46.0
#define HEAD 86.0 /* height of the title, the summary and the heads of the columns */
#define FOOT 78.0
#define ROW 58.0
#define CHIP_WIDTH 70.0
#define CHIP_HEIGHT 40.0
#define EDGE 4.0
#define WORDS_AT (2.0 * CHIP_WIDTH + 2.0 * EDGE + 14.0)
#define VERDICT_WIDTH 112.0
#define MARK 8.0
#define INK 0.07
#define QUIET 0.36
#define FIELD (119.0 / 255.0) /* L* 50 */
#define BODY 9.4
#define SMALL 7.8

typedef struct
{
  char *name, *asked, *mixed, *verdict, *off;
  TsLab colour[2]; /* asked for, and mixed */
  gboolean has_mix;
  TsMark mark;
} Row;

struct _TsBriefCard
{
  /* Owned */
  char *title, *subtitle, *summary;
  GPtrArray *rows; /* Row */

  double width, height;
};

static void
row_free (gpointer data)
{
  Row *row = data;

  g_free (row->name);
  g_free (row->asked);
  g_free (row->mixed);
  g_free (row->verdict);
  g_free (row->off);
  g_free (row);
}

static void
card_clear (gpointer data)
{
  TsBriefCard *self = data;

  g_free (self->title);
  g_free (self->subtitle);
  g_free (self->summary);
  g_ptr_array_unref (self->rows);
}

/* "L* 66 a 8 b 45, sRGB #C89F50", with what a screen can show of it. */
static char *
colour_words (TsLab lab)
{
  guint8 code[3];
  gboolean shown = ts_lab_to_srgb8 (lab, code);

  if (!shown)
    return g_strdup_printf (_ ("L* %.0f a* %.0f b* %.0f, more vivid than sRGB"), lab.L, lab.a,
                            lab.b);
  return g_strdup_printf (_ ("L* %.0f a* %.0f b* %.0f, sRGB #%02X%02X%02X"), lab.L, lab.a, lab.b,
                          code[0], code[1], code[2]);
}

static Row *
row_new (const TsBriefResult *result)
{
  Row *row = g_new0 (Row, 1);

  row->name = g_strdup (result->line->name);
  row->colour[0] = row->colour[1] = result->line->lab;
  row->asked = colour_words (row->colour[0]);
  row->has_mix = result->has_recipe;
  if (!row->has_mix)
    {
      row->mixed = g_strdup ("");
      row->verdict = g_strdup (_ ("not mixed yet"));
      row->off = g_strdup ("");
      return row;
    }
  row->colour[1] = result->recipe.lab;
  row->mixed = colour_words (row->colour[1]);
  row->verdict = g_strdup (ts_mark_of_brief (result->verdict, &row->mark));
  row->off = g_strdup_printf (_ ("dE %.1f ± %.0f; %.1f allowed"), result->recipe.delta_e,
                              result->recipe.error, result->line->tolerance);
  return row;
}

/**
 * ts_brief_card_new:
 * @results: (element-type TsBriefResult): of all lines, in the order in which they are to stand
 * @title: the plan's
 * @date: (nullable): shown as it stands
 * @paper: size of the pages
 *
 * Returns: (transfer full): the card
 */
TsBriefCard *
ts_brief_card_new (const GArray *results, const char *title, const char *date, TsPaper paper)
{
  TsBriefCard *self = g_atomic_rc_box_new0 (TsBriefCard);

  self->title = g_strdup (*title != '\0' ? title : _ ("Colours"));
  self->subtitle = date != NULL ? g_strdup_printf (_ ("Colours for the client, %s"), date)
                                : g_strdup (_ ("Colours for the client"));
  self->summary = ts_brief_results_to_summary (results);
  self->rows = g_ptr_array_new_with_free_func (row_free);
  for (guint i = 0; i < results->len; i++)
    g_ptr_array_add (self->rows, row_new (&g_array_index (results, TsBriefResult, i)));
  /* ISO 216 A4 and US letter, in points */
  self->width = paper == TS_PAPER_A4 ? 595.276 : 612.0;
  self->height = paper == TS_PAPER_A4 ? 841.890 : 792.0;
  return self;
}

/**
 * ts_brief_card_unref:
 * @self: (transfer full): a card
 */
void
ts_brief_card_unref (TsBriefCard *self)
{
  g_return_if_fail (self != NULL);

  g_atomic_rc_box_release_full (self, card_clear);
}

static guint
rows_a_page (const TsBriefCard *self)
{
  return (guint) ((self->height - MARGIN - HEAD - FOOT) / ROW);
}

/**
 * ts_brief_card_get_n_pages:
 * @self: a card
 *
 * Returns: the number of its pages, 1 at least
 */
guint
ts_brief_card_get_n_pages (const TsBriefCard *self)
{
  guint n = rows_a_page (self);

  return MAX (1, (self->rows->len + n - 1) / n);
}

static void
draw_head (const TsBriefCard *self, cairo_t *cr, double width)
{
  double y = MARGIN;

  y += ts_card_text (cr, self->title, MARGIN, y, width, 17.0, TRUE, INK, TS_CARD_TEXT_LEFT);
  y += ts_card_text (cr, self->subtitle, MARGIN, y, width, BODY, FALSE, QUIET, TS_CARD_TEXT_LEFT);
  ts_card_text (cr, self->summary, MARGIN, y + 2.0, width, BODY, FALSE, INK, TS_CARD_TEXT_LEFT);
  y = MARGIN + HEAD - 16.0;
  ts_card_text (cr, _ ("asked"), MARGIN + EDGE, y, CHIP_WIDTH, SMALL, FALSE, QUIET,
                TS_CARD_TEXT_LEFT);
  ts_card_text (cr, _ ("mixed"), MARGIN + EDGE + CHIP_WIDTH, y, CHIP_WIDTH, SMALL, FALSE, QUIET,
                TS_CARD_TEXT_LEFT);
}

static void
draw_chips (const Row *row, cairo_t *cr, double x, double y)
{
  cairo_set_source_rgb (cr, FIELD, FIELD, FIELD);
  cairo_rectangle (cr, x, y, 2.0 * (CHIP_WIDTH + EDGE), CHIP_HEIGHT + 2.0 * EDGE);
  cairo_fill (cr);
  for (guint i = 0; i < (row->has_mix ? 2 : 1); i++)
    {
      guint8 srgb[3];

      ts_lab_to_srgb8 (row->colour[i], srgb);
      cairo_set_source_rgb (cr, srgb[0] / 255.0, srgb[1] / 255.0, srgb[2] / 255.0);
      cairo_rectangle (cr, x + EDGE + i * CHIP_WIDTH, y + EDGE, CHIP_WIDTH, CHIP_HEIGHT);
      cairo_fill (cr);
    }
}

static void
draw_row (const Row *row, cairo_t *cr, double y, double width)
{
  double x = MARGIN + WORDS_AT, right = MARGIN + width - VERDICT_WIDTH;
  double words = right - x - 10.0, line = y + EDGE;

  draw_chips (row, cr, MARGIN, y);
  line += ts_card_text (cr, row->name, x, line, words, BODY, TRUE, INK, TS_CARD_TEXT_LEFT);
  line += ts_card_text (cr, row->asked, x, line, words, SMALL, FALSE, QUIET, TS_CARD_TEXT_LEFT);
  if (row->has_mix)
    {
      g_autofree char *mixed = g_strdup_printf (_ ("mixed: %s"), row->mixed);

      ts_card_text (cr, mixed, x, line, words, SMALL, FALSE, QUIET, TS_CARD_TEXT_LEFT);
      cairo_set_source_rgb (cr, INK, INK, INK);
      ts_mark_draw (cr, row->mark, right, y + EDGE + 1.5, MARK);
    }
  line = y + EDGE;
  line += ts_card_text (cr, row->verdict, right + MARK + 5.0, line, VERDICT_WIDTH - MARK - 5.0,
                        BODY, row->mark == TS_MARK_CROSS && row->has_mix, INK, TS_CARD_TEXT_LEFT);
  ts_card_text (cr, row->off, right, line, VERDICT_WIDTH, SMALL, FALSE, QUIET, TS_CARD_TEXT_LEFT);
}

static void
draw_foot (const TsBriefCard *self, cairo_t *cr, guint page, double width)
{
  g_autofree char *number =
    g_strdup_printf (_ ("page %u of %u"), page + 1, ts_brief_card_get_n_pages (self));
  double y = self->height - FOOT + 8.0;

  ts_card_rule (cr, MARGIN, y, width);
  y += 5.0;
  y += ts_card_text (
    cr,
    _ ("“passes” means within the tolerance even at the edge of what is known of the mix; “may "
       "pass” "
       "means that a painted sample has to tell. dE is the colour difference CIEDE2000 in daylight "
       "(D50); about 1 is just seen side by side. Paper and screens show colours as well as they "
       "can: judge a painted, dried sample."),
    MARGIN, y, width, SMALL, FALSE, QUIET, TS_CARD_TEXT_LEFT);
  ts_card_text (cr, number, MARGIN, y + 2.0, width, SMALL, FALSE, QUIET, TS_CARD_TEXT_RIGHT);
}

/**
 * ts_brief_card_draw:
 * @self: a card
 * @page: below the number of its pages
 * @cr: a context in points, the page's top left corner at 0, 0
 */
void
ts_brief_card_draw (const TsBriefCard *self, guint page, cairo_t *cr)
{
  double width = self->width - 2.0 * MARGIN;
  guint n = rows_a_page (self), first = page * n;

  g_return_if_fail (page < ts_brief_card_get_n_pages (self));

  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  draw_head (self, cr, width);
  for (guint i = first; i < MIN (first + n, self->rows->len); i++)
    draw_row (g_ptr_array_index (self->rows, i), cr, MARGIN + HEAD + (i - first) * ROW, width);
  draw_foot (self, cr, page, width);
}

static void
draw (gconstpointer self, guint page, cairo_t *cr)
{
  ts_brief_card_draw (self, page, cr);
}

/**
 * ts_brief_card_save:
 * @self: a card
 * @path: its ending chooses the format: .pdf, .svg or .png
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with a #TsError; a file that was there is then as it was
 */
gboolean
ts_brief_card_save (const TsBriefCard *self, const char *path, GError **error)
{
  TsPages pages = { self->title, self->width, self->height, ts_brief_card_get_n_pages (self),
                    draw,        self };

  return ts_pages_save (&pages, path, "", error);
}
