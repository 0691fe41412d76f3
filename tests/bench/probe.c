/* probe.c: what a program with a window keeps its user waiting for, seen from inside
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Loaded before any GTK program by LD_PRELOAD. Appends lines "name value" to the file that
 * TS_PROBE_FILE names: "first_frame_us", the CLOCK_MONOTONIC time when the first frame of a window on
 * the screen had been painted; at the end, of the time from then on until the last window went,
 * "stall_ms", the longest that the main loop was away from its poll, "stall_computing_ms", the longest
 * that its thread computed meanwhile, and "at_s", seconds from the start to the end of the longest
 * stall. With TS_PROBE_ONCE the program ends with its first frame.
 */
#include <gtk/gtk.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "loop-probe.h"

static gint64 begun;                   /* us */
static gint64 end;                     /* us: of the longest stall */
static double stall = -1.0, computing; /* ms, while there was a window */

/* A line a call: a program that is killed has told what it knew. */
static void
say (const char *name, double value)
{
  const char *path = g_getenv ("TS_PROBE_FILE");
  FILE *file = path != NULL ? fopen (path, "a") : NULL;

  if (file == NULL)
    return;
  fprintf (file, "%s %.1f\n", name, value);
  fclose (file);
}

static gboolean
is_on_screen (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (gtk_widget_get_mapped (window))
        return TRUE;
    }
  return FALSE;
}

static gboolean
on_after_paint (GSignalInvocationHint *hint, guint n_values, const GValue *values, gpointer data)
{
  if (!is_on_screen ())
    return TRUE;
  say ("first_frame_us", (double) g_get_monotonic_time ());
  if (g_getenv ("TS_PROBE_ONCE") != NULL)
    _exit (0);
  loop_probe_reset ();
  return FALSE;
}

/* What the loop does from here on nobody waits for, where it was the last window. */
static gboolean
on_unmap (GSignalInvocationHint *hint, guint n_values, const GValue *values, gpointer data)
{
  if (!GTK_IS_WINDOW (g_value_get_object (values)))
    return TRUE;
  stall = loop_probe_get_stall ();
  computing = loop_probe_get_computing ();
  end = loop_probe_get_stall_end ();
  return TRUE;
}

__attribute__ ((destructor)) static void
tell (void)
{
  if (stall < 0.0)
    return;
  say ("stall_ms", stall);
  say ("stall_computing_ms", computing);
  say ("at_s", (double) (end - begun) / G_USEC_PER_SEC);
}

__attribute__ ((constructor)) static void
begin (void)
{
  gpointer clock, widget;

  if (g_getenv ("TS_PROBE_FILE") == NULL)
    return;
  /* What the program starts is not what is measured. */
  g_unsetenv ("LD_PRELOAD");
  begun = g_get_monotonic_time ();
  clock = g_type_class_ref (GDK_TYPE_FRAME_CLOCK);
  g_signal_add_emission_hook (g_signal_lookup ("after-paint", GDK_TYPE_FRAME_CLOCK), 0,
                              on_after_paint, NULL, NULL);
  widget = g_type_class_ref (GTK_TYPE_WIDGET);
  g_signal_add_emission_hook (g_signal_lookup ("unmap", GTK_TYPE_WIDGET), 0, on_unmap, NULL, NULL);
  g_type_class_unref (widget);
  g_type_class_unref (clock);
  loop_probe_install ();
}
