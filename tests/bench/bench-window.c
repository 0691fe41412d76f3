/* bench-window.c: the window while a big picture opens, is panned and zoomed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-window FILE [move|open]: opens FILE, moving the view in every frame from the start on where
 * "move" is given, then, but for "open", zooms in, pans and zooms out. Prints lines "name value":
 * milliseconds from the request to the first view and to the whole picture at the window's
 * resolution, the longest time that the main loop was away from its poll (and how much of that its
 * thread was computing), the 95th percentile of the frames' work, and the most memory in kB.
 */
#include <gtk/gtk.h>
#include <stdio.h>
#include <string.h>

#include "loop-probe.h"
#include "gui/window/ts-application.h"
#include "gui/picture/ts-image-view-private.h"
#include "gui/window/ts-window.h"

#define LIMIT_US (100 * G_USEC_PER_SEC)
#define FRAMES 240 /* of each kind of movement */

/* What the loop is asked for, in order. */
typedef enum
{
  PHASE_START,
  PHASE_OPEN,
  PHASE_MOVE,
  PHASE_END
} Phase;

typedef struct
{
  TsImageView *view;
  gboolean moves_from_start;
  gboolean opens_only;
  Phase phase;
  gint64 asked, first, whole; /* us */
  guint frame;

  gint64 frame_begun, frame_begun_cpu;
  /* double, ms: from before-paint to after-paint while the view moves */
  GArray *frames, *frames_cpu;

  double opening_stall; /* ms */
} Bench;

static Bench bench;

static TsImageView *
find_view (GtkWidget *widget)
{
  TsImageView *found = NULL;

  if (TS_IS_IMAGE_VIEW (widget))
    return TS_IMAGE_VIEW (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_view (child);
  return found;
}

/* In, about at 1:1, out, and about fitted again; each a quarter of the frames. */
static void
move (guint frame)
{
  double width = gtk_widget_get_width (GTK_WIDGET (bench.view));
  double height = gtk_widget_get_height (GTK_WIDGET (bench.view));
  guint quarter = frame / FRAMES % 4;
  double way = frame / 60 % 2 == 0 ? -1.0 : 1.0;

  if (quarter == 0 && ts_image_view_get_zoom (bench.view) < 1.5)
    ts_image_view_zoom_at (bench.view, ts_image_view_get_zoom (bench.view) * 1.02, width * 0.6,
                           height * 0.4);
  else if (quarter == 2)
    ts_image_view_zoom_at (bench.view, ts_image_view_get_zoom (bench.view) / 1.02, width * 0.3,
                           height * 0.7);
  else
    ts_image_view_pan (bench.view, way * 13.0, way * 7.0);
}

static void
on_before_paint (GdkFrameClock *clock, gpointer data)
{
  bench.frame_begun = g_get_monotonic_time ();
  bench.frame_begun_cpu = loop_probe_thread_time ();
}

static gboolean
is_shown (void)
{
  return bench.view->image != NULL && gtk_widget_get_mapped (GTK_WIDGET (bench.view)) &&
         ts_texture_is_sharp (bench.view->texture);
}

static void
on_after_paint (GdkFrameClock *clock, gpointer data)
{
  gint64 now = g_get_monotonic_time ();
  double work = (double) (now - bench.frame_begun) / 1000.0;
  double computing = (double) (loop_probe_thread_time () - bench.frame_begun_cpu) / 1000.0;
  gboolean moves = bench.phase == PHASE_MOVE;

  if (bench.phase == PHASE_OPEN && bench.first == 0 && is_shown ())
    bench.first = now;
  if (bench.phase == PHASE_OPEN && bench.whole == 0 && !bench.view->preview && is_shown ())
    bench.whole = now;
  if (moves || (bench.moves_from_start && bench.view->image != NULL))
    {
      g_array_append_val (bench.frames, work);
      g_array_append_val (bench.frames_cpu, computing);
    }
}

/* Before the frame's layout, as input comes. */
static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  if (bench.view->image != NULL && (bench.phase == PHASE_MOVE || bench.moves_from_start))
    move (bench.frame++);
  return G_SOURCE_CONTINUE;
}

static void
iterate_until (gboolean (*is_reached) (void))
{
  gint64 end = g_get_monotonic_time () + LIMIT_US;

  while (!is_reached () && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  if (!is_reached ())
    g_error ("it takes too long");
}

static gboolean
is_whole (void)
{
  return bench.whole != 0 ||
         (bench.moves_from_start && bench.view->image != NULL && !bench.view->preview);
}

static gboolean
has_moved (void)
{
  return bench.frame >= 4 * FRAMES;
}

static gboolean
is_mapped (void)
{
  return gtk_widget_get_mapped (gtk_widget_get_ancestor (GTK_WIDGET (bench.view), GTK_TYPE_WINDOW));
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return one < other ? -1 : one > other;
}

static double
quantile (GArray *values, double share)
{
  if (values->len == 0)
    return 0.0;
  g_array_sort (values, compare_doubles);
  return g_array_index (values, double, (guint) (share * (values->len - 1)));
}

static gint64
read_peak (void)
{
  g_autofree char *text = NULL;
  const char *at;

  g_file_get_contents ("/proc/self/status", &text, NULL, NULL);
  at = text != NULL ? strstr (text, "VmHWM:") : NULL;
  return at != NULL ? g_ascii_strtoll (at + strlen ("VmHWM:"), NULL, 10) : 0;
}

static gboolean
on_wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
run (GtkWidget *window, const char *path)
{
  GdkFrameClock *clock;

  bench.view = find_view (window);
  g_timeout_add (20, on_wake, NULL);
  iterate_until (is_mapped);
  for (gint64 end = g_get_monotonic_time () + G_USEC_PER_SEC / 2; g_get_monotonic_time () < end;)
    g_main_context_iteration (NULL, TRUE);
  clock = gtk_widget_get_frame_clock (window);
  g_signal_connect (clock, "before-paint", G_CALLBACK (on_before_paint), NULL);
  g_signal_connect (clock, "after-paint", G_CALLBACK (on_after_paint), NULL);
  gtk_widget_add_tick_callback (window, on_tick, NULL, NULL);

  bench.phase = PHASE_OPEN;
  bench.asked = g_get_monotonic_time ();
  loop_probe_reset ();
  ts_window_open (TS_WINDOW (window), path);
  iterate_until (is_whole);
  bench.opening_stall = loop_probe_get_stall ();
  if (!bench.opens_only)
    {
      bench.phase = PHASE_MOVE;
      bench.frame = 0;
      iterate_until (has_moved);
    }
  bench.phase = PHASE_END;
}

int
main (int argc, char **argv)
{
  g_autoptr (TsApplication) application = NULL;
  GtkWidget *window;

  if (argc < 2)
    {
      fprintf (stderr, "usage: bench-window FILE [move|open]\n");
      return 2;
    }
  gtk_init ();
  bench.frames = g_array_new (FALSE, FALSE, sizeof (double));
  bench.frames_cpu = g_array_new (FALSE, FALSE, sizeof (double));
  bench.moves_from_start = argc > 2 && strcmp (argv[2], "move") == 0;
  bench.opens_only = argc > 2 && strcmp (argv[2], "open") == 0;
  loop_probe_install ();
  application = ts_application_new ();
  g_application_register (G_APPLICATION (application), NULL, NULL);
  g_application_activate (G_APPLICATION (application));
  window = GTK_WIDGET (gtk_application_get_active_window (GTK_APPLICATION (application)));
  run (window, argv[1]);

  if (bench.whole != 0)
    printf ("first_ms %.1f\nwhole_ms %.1f\n", (double) (bench.first - bench.asked) / 1000.0,
            (double) (bench.whole - bench.asked) / 1000.0);
  printf ("stall_ms %.1f\nstall_computing_ms %.1f\nopening_stall_ms %.1f\n",
          loop_probe_get_stall (), loop_probe_get_computing (), bench.opening_stall);
  printf ("frames %u\nframe_median_ms %.1f\nframe_95_ms %.1f\n", bench.frames->len,
          quantile (bench.frames, 0.5), quantile (bench.frames, 0.95));
  printf (
    "frame_computing_median_ms %.1f\nframe_computing_95_ms %.1f\nframe_computing_most_ms %.1f\n",
    quantile (bench.frames_cpu, 0.5), quantile (bench.frames_cpu, 0.95),
    quantile (bench.frames_cpu, 1.0));
  printf ("peak_kb %" G_GINT64_FORMAT "\n", read_peak ());
  g_array_unref (bench.frames);
  g_array_unref (bench.frames_cpu);
  return 0;
}
