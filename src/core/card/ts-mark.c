/* ts-mark.c: the shapes that stand for verdicts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "card/ts-mark.h"

#include <glib/gi18n.h>

static void
disc (cairo_t *cr, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0.5, 0.5, radius, 0.0, 2.0 * G_PI);
}

static void
triangle (cairo_t *cr, double x0, double y0, double x1, double y1, double x2, double y2)
{
  cairo_move_to (cr, x0, y0);
  cairo_line_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
  cairo_close_path (cr);
}

static void
stroke_lines (cairo_t *cr, const double (*points)[2], guint n)
{
  cairo_move_to (cr, points[0][0], points[0][1]);
  for (guint i = 1; i < n; i++)
    cairo_line_to (cr, points[i][0], points[i][1]);
  cairo_stroke (cr);
}

static void
draw_padlock (cairo_t *cr)
{
  cairo_rectangle (cr, 0.16, 0.44, 0.68, 0.5);
  cairo_fill (cr);
  cairo_set_line_width (cr, 0.13);
  cairo_move_to (cr, 0.28, 0.46);
  cairo_arc (cr, 0.5, 0.34, 0.22, G_PI, 2.0 * G_PI);
  cairo_line_to (cr, 0.72, 0.46);
  cairo_stroke (cr);
}

static void
draw_caution (cairo_t *cr)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, 0.12);
  triangle (cr, 0.5, 0.08, 0.96, 0.92, 0.04, 0.92);
  cairo_stroke (cr);
  cairo_move_to (cr, 0.5, 0.38);
  cairo_line_to (cr, 0.5, 0.62);
  cairo_stroke (cr);
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0.5, 0.77, 0.065, 0.0, 2.0 * G_PI);
  cairo_fill (cr);
}

static void
draw_filled (cairo_t *cr, TsMark mark)
{
  switch (mark)
    {
    case TS_MARK_DISC:
      disc (cr, 0.36);
      break;
    case TS_MARK_MEETING:
      triangle (cr, 0.0, 0.12, 0.48, 0.5, 0.0, 0.88);
      triangle (cr, 1.0, 0.12, 0.52, 0.5, 1.0, 0.88);
      break;
    case TS_MARK_PARTING:
      triangle (cr, 0.42, 0.12, 0.0, 0.5, 0.42, 0.88);
      triangle (cr, 0.58, 0.12, 1.0, 0.5, 0.58, 0.88);
      break;
    default:
      triangle (cr, 0.08, 0.24, 0.92, 0.24, 0.5, 0.82);
    }
  cairo_fill (cr);
}

static void
draw_stroked (cairo_t *cr, TsMark mark)
{
  static const double tick[][2] = { { 0.08, 0.55 }, { 0.36, 0.84 }, { 0.92, 0.18 } };
  static const double falling[][2] = { { 0.14, 0.14 }, { 0.86, 0.86 } };
  static const double rising[][2] = { { 0.14, 0.86 }, { 0.86, 0.14 } };

  cairo_set_line_width (cr, 0.16);
  switch (mark)
    {
    case TS_MARK_TICK:
      stroke_lines (cr, tick, 3);
      break;
    case TS_MARK_CROSS:
      stroke_lines (cr, falling, 2);
      stroke_lines (cr, rising, 2);
      break;
    case TS_MARK_OUT_OF_REACH:
      disc (cr, 0.4);
      cairo_stroke (cr);
      cairo_move_to (cr, 0.22, 0.78);
      cairo_line_to (cr, 0.78, 0.22);
      cairo_stroke (cr);
      break;
    default:
      disc (cr, 0.32);
      cairo_stroke (cr);
    }
}

/**
 * ts_mark_draw:
 * @cr: a context; its colour is used
 * @mark: which shape
 * @x: left edge
 * @y: upper edge
 * @size: of the square it fills
 */
void
ts_mark_draw (cairo_t *cr, TsMark mark, double x, double y, double size)
{
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, size, size);
  switch (mark)
    {
    case TS_MARK_PADLOCK:
      draw_padlock (cr);
      break;
    case TS_MARK_CAUTION:
      draw_caution (cr);
      break;
    case TS_MARK_DISC:
    case TS_MARK_MEETING:
    case TS_MARK_PARTING:
    case TS_MARK_DOWN:
      draw_filled (cr, mark);
      break;
    default:
      draw_stroked (cr, mark);
    }
  cairo_restore (cr);
}

/**
 * ts_mark_of_verdict:
 * @verdict: between two neighbours
 *
 * Returns: its shape
 */
TsMark
ts_mark_of_verdict (TsVerdict verdict)
{
  static const TsMark marks[] = {
    [TS_VERDICT_TOO_CLOSE] = TS_MARK_MEETING,
    [TS_VERDICT_MAY_READ] = TS_MARK_RING,
    [TS_VERDICT_READS] = TS_MARK_DISC,
    [TS_VERDICT_TOO_WIDE] = TS_MARK_PARTING,
  };

  return marks[verdict];
}

/**
 * ts_mark_verdict_word:
 * @verdict: between two neighbours
 *
 * Returns: its word, to be translated
 */
const char *
ts_mark_verdict_word (TsVerdict verdict)
{
  static const char *const words[] = {
    [TS_VERDICT_TOO_CLOSE] = N_ ("too close"),
    [TS_VERDICT_MAY_READ] = N_ ("may read"),
    [TS_VERDICT_READS] = N_ ("reads"),
    [TS_VERDICT_TOO_WIDE] = N_ ("too wide"),
  };

  return words[verdict];
}

/**
 * ts_mark_of_brief:
 * @verdict: of a line of the brief
 * @mark: (out): its shape
 *
 * Returns: its word, translated
 */
const char *
ts_mark_of_brief (TsBriefVerdict verdict, TsMark *mark)
{
  switch (verdict)
    {
    case TS_BRIEF_PASSES:
      *mark = TS_MARK_TICK;
      return _ ("passes");
    case TS_BRIEF_MAY_PASS:
      *mark = TS_MARK_RING;
      return _ ("may pass");
    case TS_BRIEF_FAILS:
    default:
      *mark = TS_MARK_CROSS;
      return _ ("fails");
    }
}
