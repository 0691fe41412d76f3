/* ts-card-draw.c: the mixing card on its pages
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <math.h>

#include "card/ts-card-private.h"

#include <glib/gi18n.h>

#include "card/ts-mark.h"
#include "colour/ts-colour-convert.h"

/* All in points. Text greys are light enough to be quiet and dark enough to print. */
#define MARGIN 46.0
#define FOOT 30.0        /* from the page's lower edge */
#define GAP 13.0         /* between parts */
#define CHIP_HEIGHT 17.0 /* one half */
#define FIELD_EDGE 4.0
#define INK 0.07
#define QUIET 0.36
#define FIELD (119.0 / 255.0) /* L* 50 */
#define SMALL 7.8
#define BODY 8.6
#define LINE 12.4
#define BOX 7.0
#define WORK_INDENT 62.0
#define ACCENT 10.0

static void
set_lab (cairo_t *cr, TsLab lab)
{
  guint8 srgb[3];

  ts_lab_to_srgb8 (lab, srgb);
  cairo_set_source_rgb (cr, srgb[0] / 255.0, srgb[1] / 255.0, srgb[2] / 255.0);
}

/* A letter in a dark disc where a run begins, and its line. */
static void
draw_run (cairo_t *cr, const TsCardSurface *surface, double width, double height)
{
  double x0 = surface->lit.x * width, y0 = surface->lit.y * height;

  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (int i = 0; i < 2; i++)
    {
      cairo_move_to (cr, x0, y0);
      cairo_line_to (cr, surface->shadow.x * width, surface->shadow.y * height);
      cairo_set_line_width (cr, i == 0 ? 2.0 : 1.0);
      cairo_set_source_rgba (cr, i, i, i, i == 0 ? 0.5 : 1.0);
      cairo_stroke (cr);
    }
  cairo_arc (cr, x0, y0, 6.0, 0.0, 2.0 * G_PI);
  cairo_set_source_rgb (cr, 0.11, 0.11, 0.11);
  cairo_fill (cr);
  ts_card_text (cr, surface->letter, x0 - 6.0, y0 - 5.4, 12.0, 7.6, TRUE, 1.0, TS_CARD_TEXT_MIDDLE);
}

/* At the right of the head; returns its height. */
static double
draw_picture (const TsCard *self, cairo_t *cr, double x, double y, double width)
{
  double w = cairo_image_surface_get_width (self->picture);
  double h = cairo_image_surface_get_height (self->picture);
  double scale = fmin (width / w, 150.0 / h);

  cairo_save (cr);
  cairo_translate (cr, x + width - w * scale, y);
  cairo_save (cr);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, self->picture, 0.0, 0.0);
  cairo_rectangle (cr, 0.0, 0.0, w, h);
  cairo_fill (cr);
  cairo_restore (cr);
  for (guint i = 0; i < self->surfaces->len; i++)
    {
      const TsCardSurface *surface = g_ptr_array_index (self->surfaces, i);

      if (surface->on_picture)
        draw_run (cr, surface, w * scale, h * scale);
    }
  cairo_restore (cr);
  return h * scale;
}

double
ts_card_draw_head (const TsCard *self, cairo_t *cr, double x, double y, double width)
{
  double text_width = self->picture != NULL ? width - 222.0 : width;
  double at = y, picture = 0.0, names = 60.0;

  for (guint i = 0; i < TS_CARD_N_FACTS; i++)
    names = fmax (names, ts_card_text_width (cr, self->fact_name[i], 9.0, FALSE));
  names = fmin (ceil (names), 0.4 * text_width);
  at += ts_card_text (cr, self->title, x, at, text_width, 22.0, TRUE, INK, TS_CARD_TEXT_LEFT);
  at += ts_card_text (cr, self->subtitle, x, at, text_width, 9.6, FALSE, QUIET, TS_CARD_TEXT_LEFT);
  at += 7.0;
  for (guint i = 0; i < TS_CARD_N_FACTS; i++)
    {
      ts_card_text (cr, self->fact_name[i], x, at, names, 9.0, FALSE, QUIET, TS_CARD_TEXT_LEFT);
      at += ts_card_text (cr, self->fact[i], x + names + 6.0, at, text_width - names - 6.0, 9.0,
                          FALSE, INK, TS_CARD_TEXT_LEFT) +
            3.4;
    }
  at += 4.0 + ts_card_text (cr, self->advice, x, at + 4.0, text_width, SMALL, FALSE, QUIET,
                            TS_CARD_TEXT_LEFT);
  if (self->picture != NULL)
    picture = draw_picture (self, cr, x + text_width + 14.0, y, width - text_width - 14.0);
  return fmax (at - y, picture);
}

static void
draw_chips (const TsCardSurface *surface, cairo_t *cr, double x, double y, double width)
{
  double cell = (width - 2.0 * FIELD_EDGE) / surface->n_steps;

  cairo_set_source_rgb (cr, FIELD, FIELD, FIELD);
  cairo_rectangle (cr, x, y, width, 2.0 * (CHIP_HEIGHT + FIELD_EDGE));
  cairo_fill (cr);
  /* Neighbours touch: each lies on the one before, which goes on to the end under it, so that at no
   * size a line shows between two colours. */
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (guint i = 0; i < surface->n_steps; i++)
    for (int half = 0; half < 2; half++)
      {
        set_lab (cr, half == 0 ? surface->step[i].wanted : surface->step[i].mixed);
        cairo_rectangle (cr, x + FIELD_EDGE + i * cell, y + FIELD_EDGE + half * CHIP_HEIGHT,
                         (surface->n_steps - i) * cell, (2 - half) * CHIP_HEIGHT);
        cairo_fill (cr);
      }
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_DEFAULT);
}

/* What has room; where only one has, the value, but for the base. */
static void
draw_role_and_value (const TsCardStep *step, cairo_t *cr, double at, double y, double end)
{
  double value = ts_card_text_width (cr, step->value, SMALL, FALSE);
  double role = step->role != NULL ? ts_card_text_width (cr, step->role, SMALL, FALSE) + 4.0 : 0.0;

  if (at + role + value > end && !step->is_base && at + value <= end)
    role = 0.0;
  if (role > 0.0 && at + role - 4.0 <= end)
    {
      ts_card_text (cr, step->role, at, y, -1.0, SMALL, FALSE, QUIET, TS_CARD_TEXT_LEFT);
      at += role;
    }
  if (at + value <= end)
    ts_card_text (cr, step->value, at, y, -1.0, SMALL, FALSE, QUIET, TS_CARD_TEXT_LEFT);
}

static void
draw_captions (const TsCardSurface *surface, cairo_t *cr, double x, double y, double width)
{
  double cell = (width - 2.0 * FIELD_EDGE) / surface->n_steps;

  for (guint i = 0; i < surface->n_steps; i++)
    {
      double at = x + FIELD_EDGE + i * cell, end = at + cell - 3.0;
      g_autofree char *number = g_strdup_printf ("%u", i + 1);

      ts_card_text (cr, number, at, y, -1.0, BODY, TRUE, INK, TS_CARD_TEXT_LEFT);
      at += ts_card_text_width (cr, number, BODY, TRUE) + 4.0;
      ts_card_text (cr, surface->step[i].lightness, at, y, -1.0, BODY, FALSE, INK,
                    TS_CARD_TEXT_LEFT);
      at += ts_card_text_width (cr, surface->step[i].lightness, BODY, FALSE) + 5.0;
      draw_role_and_value (&surface->step[i], cr, at, y + 0.8, end);
    }
}

/* Shape and word on the line between two neighbours. */
static void
draw_verdicts (const TsCardSurface *surface, cairo_t *cr, double x, double y, double width)
{
  double cell = (width - 2.0 * FIELD_EDGE) / surface->n_steps;

  for (guint i = 0; i + 1 < surface->n_steps; i++)
    {
      TsVerdict verdict = surface->verdict[i];
      gboolean problem = verdict == TS_VERDICT_TOO_CLOSE || verdict == TS_VERDICT_TOO_WIDE;
      const char *word = _ (ts_mark_verdict_word (verdict));
      double text = ts_card_text_width (cr, word, SMALL, problem);
      double at = x + FIELD_EDGE + (i + 1) * cell, grey = problem ? INK : QUIET;

      cairo_set_source_rgb (cr, QUIET, QUIET, QUIET);
      cairo_rectangle (cr, at - 0.3, y - 3.0, 0.6, 3.0);
      cairo_fill (cr);
      at -= (text + 11.0) / 2.0;
      cairo_set_source_rgb (cr, grey, grey, grey);
      ts_mark_draw (cr, ts_mark_of_verdict (verdict), at, y + 2.2, 7.0);
      ts_card_text (cr, word, at + 11.0, y + 0.6, -1.0, SMALL, problem, grey, TS_CARD_TEXT_LEFT);
    }
}

/* Room for the numbers of parts, so that the names below each other begin at one place. */
static double
recipe_indent (const TsCardStep *step, cairo_t *cr)
{
  double widest = ts_card_text_width (cr, "8", BODY, TRUE);

  for (guint i = 0; step->parts[i] != NULL && step->parts[i + 1] != NULL; i += 2)
    widest = fmax (widest, ts_card_text_width (cr, step->parts[i], BODY, TRUE));
  return widest + 4.0;
}

/* Under the recipe: each colour on a little field, and what comes to the mix. */
static double
draw_accents (const TsCardStep *step, cairo_t *cr, double x, double y, double width)
{
  double at = y;

  for (guint i = 0; i < step->accents->len; i++)
    {
      const TsCardAccent *accent = g_ptr_array_index (step->accents, i);

      at += 2.0;
      cairo_set_source_rgb (cr, FIELD, FIELD, FIELD);
      cairo_rectangle (cr, x, at, ACCENT, ACCENT);
      cairo_fill (cr);
      if (accent->known)
        set_lab (cr, accent->lab);
      cairo_rectangle (cr, x + 1.0, at + 1.0, ACCENT - 2.0, ACCENT - 2.0);
      cairo_fill (cr);
      at +=
        fmax (ACCENT, ts_card_text (cr, accent->text, x + ACCENT + 3.0, at, width - ACCENT - 3.0,
                                    SMALL, FALSE, INK, TS_CARD_TEXT_LEFT));
    }
  return at - y;
}

static double
draw_recipe (const TsCardStep *step, cairo_t *cr, double x, double y, double width)
{
  double at = y, indent = recipe_indent (step, cr);

  for (guint i = 0; step->parts[i] != NULL && step->parts[i + 1] != NULL; i += 2)
    {
      double height;

      ts_card_text (cr, step->parts[i], x, at, indent - 4.0, BODY, TRUE, INK, TS_CARD_TEXT_RIGHT);
      height = ts_card_text (cr, step->parts[i + 1], x + indent, at, width - indent, BODY, FALSE,
                             INK, TS_CARD_TEXT_LEFT);
      at += fmax (LINE, height + 2.4);
    }
  if (step->out_of_reach)
    {
      cairo_set_source_rgb (cr, INK, INK, INK);
      ts_mark_draw (cr, TS_MARK_OUT_OF_REACH, x, at + 1.8, 6.6);
    }
  else
    indent = 0.0; /* its whole line leaves a gap to the next column */
  at += ts_card_text (cr, step->sure, x + indent, at, width - indent, SMALL, step->out_of_reach,
                      step->out_of_reach ? INK : QUIET, TS_CARD_TEXT_LEFT);
  at += draw_accents (step, cr, x, at, width);
  return at - y;
}

double
ts_card_draw_surface (const TsCardSurface *surface, cairo_t *cr, double x, double y, double width)
{
  double cell = (width - 2.0 * FIELD_EDGE) / surface->n_steps, at = y, tallest = 0.0;

  ts_card_rule (cr, x, at, width);
  at += 7.0;
  ts_card_text (cr, surface->letter, x, at, -1.0, 12.5, TRUE, INK, TS_CARD_TEXT_LEFT);
  ts_card_text (cr, surface->summary, x + 160.0, at + 2.6, width - 160.0, 9.2, FALSE, QUIET,
                TS_CARD_TEXT_RIGHT);
  at += ts_card_text (cr, surface->name, x + 17.0, at, 220.0, 12.5, TRUE, INK, TS_CARD_TEXT_LEFT);
  at += 3.0;
  draw_captions (surface, cr, x, at, width);
  at += 13.5;
  draw_chips (surface, cr, x, at, width);
  at += 2.0 * (CHIP_HEIGHT + FIELD_EDGE) + 3.0;
  draw_verdicts (surface, cr, x, at, width);
  at += 15.0;
  for (guint i = 0; i < surface->n_steps; i++)
    tallest = fmax (tallest,
                    draw_recipe (&surface->step[i], cr, x + FIELD_EDGE + i * cell, at, cell - 4.0));
  return at + tallest - y;
}

/* A box to tick, the step, and what is done for it, line by line. */
double
ts_card_draw_work (const TsCardSurface *surface, cairo_t *cr, double x, double y, double width)
{
  g_autofree char *title = g_strdup_printf (_ ("%s on one palette"), surface->name);
  double at = y + 7.0;

  ts_card_rule (cr, x, y, width);
  at += ts_card_text (cr, title, x, at, width, 12.5, TRUE, INK, TS_CARD_TEXT_LEFT) + 4.0;
  for (guint i = 0; i < surface->work->len; i++)
    {
      const TsCardWork *work = g_ptr_array_index (surface->work, i);

      cairo_rectangle (cr, x + 0.5, at + 1.8, BOX, BOX);
      cairo_set_source_rgb (cr, QUIET, QUIET, QUIET);
      cairo_set_line_width (cr, 0.7);
      cairo_stroke (cr);
      if (work->done)
        {
          cairo_set_source_rgb (cr, INK, INK, INK);
          ts_mark_draw (cr, TS_MARK_TICK, x + 0.5, at + 1.8, BOX);
        }
      ts_card_text (cr, work->step, x + 17.0, at, WORK_INDENT - 20.0, BODY, TRUE, INK,
                    TS_CARD_TEXT_LEFT);
      at += ts_card_text (cr, work->text, x + WORK_INDENT, at, width - WORK_INDENT, BODY, FALSE,
                          INK, TS_CARD_TEXT_LEFT) +
            3.6;
    }
  return at - y;
}

double
ts_card_draw_cautions (const TsCard *self, cairo_t *cr, double x, double y, double width)
{
  double at = y + 7.0;

  ts_card_rule (cr, x, y, width);
  cairo_set_source_rgb (cr, INK, INK, INK);
  ts_mark_draw (cr, TS_MARK_CAUTION, x, at + 1.0, 9.0);
  for (guint i = 0; i < self->cautions->len; i++)
    at += ts_card_text (cr, g_ptr_array_index (self->cautions, i), x + 17.0, at, width - 17.0,
                        SMALL, FALSE, INK, TS_CARD_TEXT_LEFT) +
          1.0;
  return at - y;
}

static double
draw_block (const TsCard *self, cairo_t *cr, int what, double y)
{
  double width = self->width - 2.0 * MARGIN;

  if (what == TS_CARD_HEAD)
    return ts_card_draw_head (self, cr, MARGIN, y, width);
  if (what == TS_CARD_CAUTIONS)
    return ts_card_draw_cautions (self, cr, MARGIN, y, width);
  if (what >= (int) self->surfaces->len)
    return ts_card_draw_work (
      g_ptr_array_index (self->surfaces, (guint) what - self->surfaces->len), cr, MARGIN, y, width);
  return ts_card_draw_surface (g_ptr_array_index (self->surfaces, (guint) what), cr, MARGIN, y,
                               width);
}

/* Puts one part below the last, or on the next page where it does not fit. */
static void
place_block (TsCard *self, cairo_t *cr, int what, double *y)
{
  double height = draw_block (self, cr, what, 0.0);
  TsCardBlock block;

  if (*y + height > self->height - MARGIN && *y > MARGIN)
    {
      self->n_pages++;
      *y = MARGIN;
    }
  block = (TsCardBlock){ what, self->n_pages - 1, *y };
  g_array_append_val (self->blocks, block);
  *y += height + GAP;
}

void
ts_card_lay_out (TsCard *self)
{
  cairo_surface_t *recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (recording);
  double y = 40.0;

  self->n_pages = 1;
  place_block (self, cr, TS_CARD_HEAD, &y);
  for (guint i = 0; i < self->surfaces->len; i++)
    place_block (self, cr, (int) i, &y);
  for (guint i = 0; i < self->surfaces->len; i++)
    if (((const TsCardSurface *) g_ptr_array_index (self->surfaces, i))->work->len > 0)
      place_block (self, cr, (int) (self->surfaces->len + i), &y);
  place_block (self, cr, TS_CARD_CAUTIONS, &y);
  cairo_destroy (cr);
  cairo_surface_destroy (recording);
}

/**
 * ts_card_draw:
 * @self: a card
 * @page: below the number of its pages
 * @cr: a context in points, the page's top left corner at 0, 0
 */
void
ts_card_draw (const TsCard *self, guint page, cairo_t *cr)
{
  g_autofree char *number = g_strdup_printf (_ ("page %u of %u"), page + 1, self->n_pages);
  double foot = self->height - FOOT - 8.0, width = self->width - 2.0 * MARGIN;

  g_return_if_fail (page < self->n_pages);

  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  for (guint i = 0; i < self->blocks->len; i++)
    {
      const TsCardBlock *block = &g_array_index (self->blocks, TsCardBlock, i);

      if (block->page == page)
        draw_block (self, cr, block->what, block->y);
    }
  ts_card_text (cr, self->footer, MARGIN, foot, width - 70.0, SMALL, FALSE, QUIET,
                TS_CARD_TEXT_LEFT);
  ts_card_text (cr, number, MARGIN, foot, width, SMALL, FALSE, QUIET, TS_CARD_TEXT_RIGHT);
}
