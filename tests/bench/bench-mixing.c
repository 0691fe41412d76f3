/* bench-mixing.c: the window while mixes of many paints are looked for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-mixing PICTURE [PAINTS]: opens PICTURE (data/demo/lighthouse.jpg) with so many invented
 * paints (300), draws one run on it and waits for the mixes of all steps, then drags a step to and
 * fro, once a frame. Prints the longest time that the main loop was away from its poll in each, and
 * how much of that its thread was computing.
 */
#include <gtk/gtk.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "invented-paints.h"
#include "loop-probe.h"
#include "gui/window/ts-application.h"
#include "gui/window/ts-window.h"

#define LIMIT_US (300 * G_USEC_PER_SEC)
#define DRAGS 120
#define STEP 2

/* The coat's left sleeve, from data/demo/lighthouse-places.csv. */
static const TsPoint lit = { 140.0, 980.0 }, shadow = { 250.0, 1000.0 };

typedef gboolean (*Condition) (TsDocument *document);

static gboolean
on_wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static gboolean
has_picture (TsDocument *document)
{
  return ts_document_get_has_plan (document) && ts_document_get_image (document, 0) != NULL &&
         !ts_document_get_busy (document);
}

static gboolean
has_mixes (TsDocument *document)
{
  TsSurfaceResult *result = ts_document_get_result (document, 0);

  for (guint i = 0; result != NULL && i < ts_surface_result_get_n_steps (result); i++)
    if (ts_surface_result_get_recipe (result, i) == NULL)
      return FALSE;
  return result != NULL && !ts_document_get_busy (document);
}

static void
iterate_until (Condition condition, TsDocument *document, const char *what)
{
  gint64 end = g_get_monotonic_time () + LIMIT_US;

  while (!condition (document) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  if (!condition (document))
    g_error ("%s: it takes too long", what);
}

static void
say (const char *what, gint64 begun)
{
  printf ("%-40s %6.1f s, longest stall %5.1f ms, computing %5.1f ms\n", what,
          (double) (g_get_monotonic_time () - begun) / G_USEC_PER_SEC, loop_probe_get_stall (),
          loop_probe_get_computing ());
}

static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  TsDocument *document = ts_window_get_document (TS_WINDOW (widget));
  guint *drags = data;

  if (*drags == DRAGS)
    return G_SOURCE_REMOVE;
  ts_document_place_step (document, 0, STEP, 0.3 + 0.1 * sin (*drags / 12.0),
                          60.0 + 5.0 * sin (*drags / 12.0));
  (*drags)++;
  return G_SOURCE_CONTINUE;
}

static void
run (TsWindow *window, const char *path, guint n_paints)
{
  InventedPaints *paints = invented_paints_new (n_paints, 1);
  TsDocument *document = ts_window_get_document (window);
  guint drags = 0;
  gint64 begun;

  ts_document_set_default_paints (document, paints->set, "Invented");
  ts_window_open (window, path);
  iterate_until (has_picture, document, path);

  loop_probe_reset ();
  begun = g_get_monotonic_time ();
  ts_document_add_surface (document, lit, shadow);
  ts_document_select_surface (document, 0);
  iterate_until (has_mixes, document, "mixes");
  say ("a first stair", begun);

  loop_probe_reset ();
  begun = g_get_monotonic_time ();
  gtk_widget_add_tick_callback (GTK_WIDGET (window), on_tick, &drags, NULL);
  while (drags < DRAGS)
    g_main_context_iteration (NULL, TRUE);
  iterate_until (has_mixes, document, "mixes");
  say ("a step dragged", begun);
  invented_paints_free (paints);
}

int
main (int argc, char **argv)
{
  g_autoptr (TsApplication) application = NULL;
  GtkWindow *window;

  if (argc < 2)
    {
      fprintf (stderr, "usage: bench-mixing PICTURE [PAINTS]\n");
      return 2;
    }
  gtk_init ();
  application = ts_application_new ();
  g_application_register (G_APPLICATION (application), NULL, NULL);
  g_application_activate (G_APPLICATION (application));
  window = gtk_application_get_active_window (GTK_APPLICATION (application));
  g_timeout_add (5, on_wake, NULL);
  loop_probe_install ();
  run (TS_WINDOW (window), argv[1], argc > 2 ? (guint) atoi (argv[2]) : 300);
  return 0;
}
