/* test-window.c: the window in this process: what it shows, and that it leaves nothing behind
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <gtk/gtk.h>
#include <math.h>

#include "plan/ts-surface-under.h"
#include "gui/window/ts-application.h"
#include "gui/widgets/ts-draw.h"
#include "gui/pixels/ts-look.h"
#include "gui/surfaces/ts-surface-row.h"
#include "gui/window/ts-window.h"

#define LIMIT_MS 60000

/* The coat's left sleeve, from data/demo/lighthouse-places.csv. */
static const TsPoint lit = { 140.0, 980.0 }, shadow = { 250.0, 1000.0 };

#if defined(__SANITIZE_ADDRESS__)
int dlclose (void *handle);

/* What a library that was unloaded has kept, LeakSanitizer can neither reach nor name. */
int
dlclose (void *handle)
{
  return 0;
}
#endif

typedef struct
{
  TsApplication *application;
  GtkWidget *window;
  TsDocument *document;
} Fixture;

typedef gboolean (*Condition) (Fixture *f);

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

/* Runs the loop until @condition holds. */
static void
wait_until (Condition condition, Fixture *f)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (!condition (f) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_true (condition (f));
}

static void
on_after_paint (GdkFrameClock *clock, gboolean *painted)
{
  *painted = TRUE;
}

static void
wait_for_frame (GtkWidget *widget)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (widget);
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);
  gboolean painted = FALSE;
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_after_paint), &painted);

  gtk_widget_queue_draw (widget);
  while (!painted && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, handler);
  g_source_remove (id);
  assert_true (painted);
}

static gboolean
is_mapped (Fixture *f)
{
  return gtk_widget_get_mapped (f->window) && gtk_widget_get_width (f->window) > 0;
}

static gboolean
has_picture (Fixture *f)
{
  return ts_document_get_has_plan (f->document) && ts_document_get_image (f->document, 0) != NULL &&
         !ts_document_get_busy (f->document);
}

static gboolean
has_mixes (Fixture *f)
{
  TsSurfaceResult *result = ts_document_get_result (f->document, 0);

  for (guint i = 0; result != NULL && i < ts_surface_result_get_n_steps (result); i++)
    if (ts_surface_result_get_recipe (result, i) == NULL)
      return FALSE;
  return result != NULL && !ts_document_get_busy (f->document);
}

static gboolean
is_gone (Fixture *f)
{
  return f->window == NULL && f->document == NULL;
}

/* One application a process: a second cannot be registered. */
static int
start (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);

  f->application = ts_application_new ();
  assert_true (g_application_register (G_APPLICATION (f->application), NULL, NULL));
  *state = f;
  return 0;
}

static int
stop (void **state)
{
  Fixture *f = *state;

  g_clear_object (&f->application);
  g_free (f);
  return 0;
}

static int
open_window (void **state)
{
  Fixture *f = *state;

  g_application_activate (G_APPLICATION (f->application));
  f->window = GTK_WIDGET (gtk_application_get_active_window (GTK_APPLICATION (f->application)));
  assert_non_null (f->window);
  f->document = ts_window_get_document (TS_WINDOW (f->window));
  g_object_add_weak_pointer (G_OBJECT (f->window), (gpointer *) &f->window);
  g_object_add_weak_pointer (G_OBJECT (f->document), (gpointer *) &f->document);
  wait_until (is_mapped, f);
  return 0;
}

/* A window that is gone has let go of all it held. */
static int
close_window (void **state)
{
  Fixture *f = *state;

  gtk_window_destroy (GTK_WINDOW (f->window));
  wait_until (is_gone, f);
  return 0;
}

static void
open_picture (Fixture *f)
{
  g_autofree char *picture = ts_test_source ("data/demo/lighthouse.jpg");

  ts_window_open (TS_WINDOW (f->window), picture);
  wait_until (has_picture, f);
}

static void
add_surface (Fixture *f)
{
  int added = ts_document_add_surface (f->document, lit, shadow);

  assert_int_equal (added, 0);
  ts_document_select_surface (f->document, added);
  wait_until (has_mixes, f);
}

/* The first widget of a type that can be seen. */
static GtkWidget *
find (GtkWidget *widget, const char *type)
{
  GtkWidget *found = NULL;

  if (strcmp (G_OBJECT_TYPE_NAME (widget), type) == 0 && gtk_widget_get_mapped (widget))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find (child, type);
  return found;
}

static guint
count_children (GtkWidget *widget)
{
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n++;
  return n;
}

static gboolean
is_enabled (Fixture *f, const char *action)
{
  return g_action_group_get_action_enabled (G_ACTION_GROUP (f->window), action);
}

static void
go_to (Fixture *f, const char *place)
{
  g_action_group_activate_action (G_ACTION_GROUP (f->window), "place",
                                  g_variant_new_string (place));
  wait_for_frame (f->window);
}

/* The pixels that the widget draws, rendered here; free with g_free(). */
static guint32 *
draw (GtkWidget *widget, gsize *n)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  g_autoptr (GtkSnapshot) snapshot = gtk_snapshot_new ();
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  GskRenderer *renderer = gtk_native_get_renderer (gtk_widget_get_native (widget));
  g_autoptr (GskRenderNode) node = NULL;
  g_autoptr (GdkTexture) texture = NULL;
  guint32 *pixels = g_new0 (guint32, (gsize) width * (gsize) height);

  gdk_paintable_snapshot (paintable, snapshot, width, height);
  node = gtk_snapshot_to_node (snapshot);
  if (node == NULL) /* nothing was painted yet */
    {
      *n = 0;
      return pixels;
    }
  texture = gsk_renderer_render_texture (renderer, node,
                                         &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  gdk_texture_download (texture, (guchar *) (gpointer) pixels, (gsize) width * 4);
  *n = (gsize) width * (gsize) height;
  return pixels;
}

static guint
count_colours (GtkWidget *widget)
{
  g_autoptr (GHashTable) colours = g_hash_table_new (NULL, NULL);
  gsize n;
  g_autofree guint32 *pixels = draw (widget, &n);

  for (gsize i = 0; i < n; i++)
    g_hash_table_add (colours, GUINT_TO_POINTER (pixels[i]));
  return g_hash_table_size (colours);
}

/* A photograph, and not a field of one colour; its pixels come from another thread. */
static gboolean
shows_photograph (Fixture *f)
{
  GtkWidget *view = find (f->window, "TsImageView");

  return view != NULL && gtk_widget_get_width (view) > 0 && count_colours (view) > 1000;
}

static void
test_empty (void **state)
{
  Fixture *f = *state;

  wait_for_frame (f->window);
  assert_non_null (find (f->window, "TsEmptyView"));
  assert_null (find (f->window, "TsPicturePlace"));
  assert_false (is_enabled (f, "save"));
  assert_false (is_enabled (f, "undo"));
  assert_false (is_enabled (f, "save-card"));
  go_to (f, "card"); /* there is none yet */
  assert_non_null (find (f->window, "TsEmptyView"));
  go_to (f, "paints");
  assert_non_null (find (f->window, "TsPaintsPane"));
}

static void
test_picture (void **state)
{
  Fixture *f = *state;

  open_picture (f);
  wait_for_frame (f->window);
  assert_null (find (f->window, "TsEmptyView"));
  wait_until (shows_photograph, f);
  assert_null (find (f->window, "TsStairView"));
}

/* Seen from where the plan says, the picture is told no finer than the eye does: what merges is 1
 * minute of arc (visual acuity 1.0; common practice, no source) or the band in which steps merge.
 */
static void
check_blur (Fixture *f)
{
  const TsPlan *plan = ts_document_get_plan (f->document);
  TsImage *image = ts_document_get_image (f->document, 0);
  double band = ts_surface_result_get_least_band (ts_document_get_result (f->document, 0));
  double arc = tan (G_PI / (180.0 * 60.0)) * plan->contrast.distance;
  double pixels = MAX (arc, band) * 0.9 * ts_image_get_full_height (image) / plan->figure_height;
  guint blur = ts_look_get_blur (TS_VIEW (find (f->window, "TsImageView")), image);

  assert_true (pixels > 2.0 && pixels < 64.0);
  assert_int_equal (blur, (guint) exp2 (floor (log2 (pixels))));
}

static void
test_surface (void **state)
{
  Fixture *f = *state;
  GtkWidget *stair;
  guint before;

  open_picture (f);
  add_surface (f);
  wait_for_frame (f->window);
  stair = find (f->window, "TsStairView");
  assert_non_null (stair);
  assert_int_equal (count_children (stair), 7);
  before = count_colours (stair);
  assert_true (before > 14); /* wanted and mixed, and words */
  assert_non_null (find (f->window, "TsCurveView"));
  check_blur (f);
  assert_true (is_enabled (f, "undo"));
  assert_true (is_enabled (f, "save"));

  ts_document_set_n_steps (f->document, 0, 5);
  wait_until (has_mixes, f);
  assert_int_equal (count_children (stair), 5);

  g_action_group_activate_action (G_ACTION_GROUP (f->window), "undo", NULL);
  assert_int_equal (count_children (stair), 7);
  g_action_group_activate_action (G_ACTION_GROUP (f->window), "undo", NULL);
  wait_for_frame (f->window);
  assert_null (find (f->window, "TsStairView"));
  assert_false (is_enabled (f, "undo"));
  g_action_group_activate_action (G_ACTION_GROUP (f->window), "redo", NULL);
  wait_until (has_mixes, f);
  wait_for_frame (f->window);
  assert_non_null (find (f->window, "TsStairView"));
}

/* The words of a swatch reach out of it: white columns all along the pill, nothing left out. */
static void
test_pill (void **state)
{
  Fixture *f = *state;
  const char *words = "mix 4: dE 6 from the picture, 4 L* darker, give or take 5";
  double width, height;
  int first = G_MAXINT, last = 0;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 900, 60);
  cairo_t *cr = cairo_create (surface);
  GtkWidget *narrow = g_object_ref_sink (gtk_label_new ("4"));
  const guint32 *pixels = (const guint32 *) (gpointer) cairo_image_surface_get_data (surface);

  assert_non_null (f->window);
  ts_draw_pill_size (narrow, words, &width, &height);
  assert_true (width > 200.0 && width < 900.0);
  ts_draw_pill (cr, narrow, words, 450.0, 30.0);
  cairo_surface_flush (surface);
  for (int y = 0; y < 60; y++)
    for (int x = 0; x < 900; x++)
      if ((pixels[y * cairo_image_surface_get_stride (surface) / 4 + x] & 0xff) > 200)
        {
          first = MIN (first, x);
          last = MAX (last, x);
        }
  assert_near (first - (450.0 - width / 2.0), 450.0 + width / 2.0 - last, 6.0);
  assert_true (last - first > 0.85 * width);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_object_unref (narrow);
}

static gboolean
has_page (Fixture *f)
{
  return find (f->window, "TsPage") != NULL;
}

static void
test_places (void **state)
{
  const struct
  {
    const char *place, *type;
  } places[] = { { "paints", "TsPaintsPane" },
                 { "brief", "TsBriefPane" },
                 { "finish", "TsFinishPane" },
                 { "card", "TsCardPane" },
                 { "picture", "TsPicturePlace" } };
  Fixture *f = *state;

  open_picture (f);
  add_surface (f);
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    {
      go_to (f, places[i].place);
      for (gsize j = 0; j < G_N_ELEMENTS (places); j++)
        assert_true ((find (f->window, places[j].type) != NULL) == (i == j));
    }
  go_to (f, "card");
  wait_until (has_page, f);
}

/* The focus leaves an entry that is gone only with the next frame, or when something else takes it.
 */
static void
test_gone_while_named (void **state)
{
  Fixture *f = *state;
  GtkWidget *row;

  open_picture (f);
  add_surface (f);
  wait_for_frame (f->window);
  row = find (f->window, "TsSurfaceRow");
  ts_surface_row_rename (TS_SURFACE_ROW (row));
  wait_for_frame (f->window);
  ts_document_remove_surface (f->document, 0);
  gtk_widget_grab_focus (find (f->window, "TsImageView"));
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 0);
}

/* A window may be closed while a picture opens and while mixes are looked for. */
static void
test_close_early (void **state)
{
  Fixture *f = *state;
  g_autofree char *picture = ts_test_source ("data/demo/lighthouse.jpg");

  ts_window_open (TS_WINDOW (f->window), picture);
}

static void
test_close_while_mixing (void **state)
{
  Fixture *f = *state;

  open_picture (f);
  assert_int_equal (ts_document_add_surface (f->document, lit, shadow), 0);
  wait_for_frame (f->window);
}

#define window_test(name) cmocka_unit_test_setup_teardown (name, open_window, close_window)

int
main (int argc, char **argv)
{
  const struct CMUnitTest tests[] = {
    window_test (test_empty),       window_test (test_picture),
    window_test (test_surface),     window_test (test_pill),
    window_test (test_places),      window_test (test_gone_while_named),
    window_test (test_close_early), window_test (test_close_while_mixing),
  };

  g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING | G_LOG_FATAL_MASK);
  gtk_init ();
  return cmocka_run_group_tests_name ("gui/window", tests, start, stop);
}
