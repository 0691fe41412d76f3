/* bench-frame.c: how long the window waits while a step or a spot is dragged
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-frame PLAN: opens PLAN, drags a spot and then a step of every surface to and fro, and
 * prints what each move cost until curve, stair and checks were new: milliseconds, and as a share
 * of a frame of 16 ms. The longest run says how many spots its surface has.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "document/ts-document.h"

#define MOVES 200
#define FRAME_MS 16.0

typedef void (*Move) (TsDocument *document, guint surface, guint round);

static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  gboolean *done = data;

  ts_document_open_finish (TS_DOCUMENT (source), result, &error);
  if (error != NULL)
    g_printerr ("%s\n", error->message);
  *done = TRUE;
}

static const TsRun *
get_run (TsDocument *document, guint surface)
{
  return ts_surface_get_run (ts_plan_get_surface (ts_document_get_plan (document), surface), 0);
}

/* A pixel along the run and back, from one spot to the next. */
static void
move_spot (TsDocument *document, guint surface, guint round)
{
  const GArray *spots = get_run (document, surface)->spots;
  guint number = 1 + round / 2 % (spots->len - 2);
  const TsSpot *spot = &g_array_index (spots, TsSpot, number);
  double way = round % 2 ? -1.0 : 1.0;

  ts_document_move_spot (document, surface, 0, number, (TsPoint){ spot->x + way, spot->y + way });
}

static void
move_step (TsDocument *document, guint surface, guint round)
{
  TsStair *stair = ts_surface_result_get_stair (ts_document_get_result (document, surface));
  const TsStep *step = ts_stair_get_step (stair, 1);
  double way = round % 2 ? -1.0 : 1.0;

  ts_document_place_step (document, surface, 1, CLAMP (step->position + 0.004 * way, 0.0, 1.0),
                          CLAMP (step->wanted.L - 0.3 * way, 0.0, 100.0));
}

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return (a > b) - (a < b);
}

/* Between two moves the loop does what else there is, as it does between two frames. */
static void
time_moves (TsDocument *document, guint surface, const char *name, Move move)
{
  double ms[MOVES];

  ts_document_begin_gesture (document, name);
  for (guint round = 0; round < MOVES; round++)
    {
      TsSurfaceResult *before = ts_document_get_result (document, surface);
      gint64 start = g_get_monotonic_time ();

      move (document, surface, round);
      ms[round] = (g_get_monotonic_time () - start) / 1000.0;
      if (ts_document_get_result (document, surface) == before)
        g_printerr ("move %u of a %s changed nothing\n", round, name);
      while (g_main_context_iteration (NULL, FALSE))
        ;
    }
  ts_document_end_gesture (document);
  qsort (ms, MOVES, sizeof *ms, compare_doubles);
  printf ("%s, %u spots, %s: ms median %.2f, 95 %% %.2f, most %.2f; of a frame %.3f, %.3f, %.3f\n",
          ts_plan_get_surface (ts_document_get_plan (document), surface)->name,
          get_run (document, surface)->spots->len, name, ms[MOVES / 2], ms[MOVES * 19 / 20],
          ms[MOVES - 1], ms[MOVES / 2] / FRAME_MS, ms[MOVES * 19 / 20] / FRAME_MS,
          ms[MOVES - 1] / FRAME_MS);
}

int
main (int argc, char **argv)
{
  g_autoptr (TsDocument) document = NULL;
  gboolean done = FALSE;

  if (argc != 2)
    {
      g_printerr ("usage: bench-frame PLAN\n");
      return 2;
    }
  document = ts_document_new ();
  ts_document_open (document, argv[1], on_opened, &done);
  while (!done || ts_document_get_busy (document))
    g_main_context_iteration (NULL, TRUE);
  if (!ts_document_get_has_plan (document))
    return 1;
  for (guint i = 0; i < ts_document_get_plan (document)->surfaces->len; i++)
    if (ts_document_get_result (document, i) != NULL)
      {
        time_moves (document, i, "spot", move_spot);
        time_moves (document, i, "step", move_step);
      }
  return 0;
}
