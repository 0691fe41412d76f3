/* test-document-spots.c: several spots moved and removed at once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <cairo.h>
#include <glib/gstdio.h>

#include "colour/ts-colour-convert.h"
#include "document/ts-document.h"

#define WIDTH 300
#define HEIGHT 200
#define LIMIT_MS 30000

typedef struct
{
  char *folder, *picture;
  TsDocument *document;
  gboolean opened;
} Fixture;

/* Grey that falls from left to right, the same from top to bottom. */
static guint
get_grey (double x)
{
  return (guint) (230.0 - 190.0 * x / (WIDTH - 1));
}

static void
write_picture (const char *path)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  guint32 *words = (guint32 *) (gpointer) cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface) / 4;

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      words[y * stride + x] = get_grey (x) * 0x010101;
  cairo_surface_mark_dirty (surface);
  assert_int_equal (cairo_surface_write_to_png (surface, path), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  assert_true (ts_document_open_finish (TS_DOCUMENT (source), result, &error));
  ((Fixture *) data)->opened = TRUE;
}

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
wait_for (const gboolean *done)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (!*done && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_true (*done);
}

/* A surface with two runs. */
static int
set_up (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);

  f->folder = ts_test_make_folder ();
  f->picture = g_build_filename (f->folder, "grey.png", NULL);
  write_picture (f->picture);
  f->document = ts_document_new ();
  ts_document_open (f->document, f->picture, on_opened, f);
  wait_for (&f->opened);
  assert_int_equal (
    ts_document_add_surface (f->document, (TsPoint){ 20.0, 60.0 }, (TsPoint){ 250.0, 60.0 }), 0);
  ts_document_add_run (f->document, 0, (TsPoint){ 30.0, 140.0 }, (TsPoint){ 260.0, 140.0 });
  *state = f;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *f = *state;

  g_object_add_weak_pointer (G_OBJECT (f->document), (gpointer *) &f->document);
  g_object_unref (f->document);
  for (guint i = 0; i < 2000 && f->document != NULL; i++)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (1000);
    }
  assert_null (f->document);
  g_remove (f->picture);
  g_rmdir (f->folder);
  g_free (f->picture);
  g_free (f->folder);
  g_free (f);
  return 0;
}

static const TsRun *
get_run (Fixture *f, guint run)
{
  return ts_surface_get_run (ts_plan_get_surface (ts_document_get_plan (f->document), 0), run);
}

static TsSpot
get_spot (Fixture *f, guint run, guint spot)
{
  return g_array_index (get_run (f, run)->spots, TsSpot, spot);
}

/* It shows the grey of the place where it stands. */
static void
check_measured (const TsSpot *spot)
{
  guint8 code = (guint8) get_grey (spot->x - 0.5);
  const guint8 srgb[3] = { code, code, code };

  assert_near (spot->lab.L, ts_lab_from_srgb8 (srgb).L, 0.6);
}

static void
check_moved (Fixture *f, TsSpot before, guint run, guint spot, double dx, double dy)
{
  TsSpot now = get_spot (f, run, spot);

  assert_near (now.x, before.x + dx, 1e-9);
  assert_near (now.y, before.y + dy, 1e-9);
  check_measured (&now);
}

static char *
get_undo_name (Fixture *f)
{
  char *name;

  g_object_get (f->document, "undo-name", &name, NULL);
  return name;
}

/* Inner spots of two runs go together and the others stay; one step back brings all of it back. */
static void
test_move_some (void **state)
{
  Fixture *f = *state;
  const TsSpotRef refs[] = { { 0, 2 }, { 0, 3 }, { 1, 1 } };
  const TsPlan *plan = ts_document_get_plan (f->document);
  TsSpot before[] = { get_spot (f, 0, 2), get_spot (f, 0, 3), get_spot (f, 1, 1) };
  TsSpot still = get_spot (f, 0, 4);
  g_autofree char *name = NULL;

  ts_document_move_spots (f->document, 0, refs, G_N_ELEMENTS (refs), 7.0, -5.0);
  check_moved (f, before[0], 0, 2, 7.0, -5.0);
  check_moved (f, before[1], 0, 3, 7.0, -5.0);
  check_moved (f, before[2], 1, 1, 7.0, -5.0);
  check_moved (f, still, 0, 4, 0.0, 0.0);
  assert_near (get_spot (f, 0, 2).position, (before[0].x + 7.0 - 20.0) / 230.0, 1e-9);
  name = get_undo_name (f);
  assert_string_equal (name, "Move spots");
  ts_document_undo (f->document);
  assert_ptr_equal (ts_document_get_plan (f->document), plan);
}

/* All of a run is the run: its line goes along, and places on it stay what they were. */
static void
test_move_whole (void **state)
{
  Fixture *f = *state;
  guint n = get_run (f, 1)->spots->len;
  g_autofree TsSpotRef *refs = g_new (TsSpotRef, n);
  TsSpot before = get_spot (f, 1, 3);

  for (guint i = 0; i < n; i++)
    refs[i] = (TsSpotRef){ 1, i };
  ts_document_move_spots (f->document, 0, refs, n, 10.0, 4.0);
  check_moved (f, before, 1, 3, 10.0, 4.0);
  assert_near (get_spot (f, 1, 3).position, before.position, 1e-9);
  assert_near (g_array_index (get_run (f, 1)->points, TsPoint, 0).x, 40.0, 1e-9);
  assert_near (g_array_index (get_run (f, 1)->points, TsPoint, 1).y, 144.0, 1e-9);
  assert_near (g_array_index (get_run (f, 0)->points, TsPoint, 0).x, 20.0, 1e-9);
}

/* An end takes its line along; the spots between stay, and lie elsewhere on it. */
static void
test_move_end (void **state)
{
  Fixture *f = *state;
  const TsSpotRef refs[] = { { 0, 0 }, { 0, 1 } };
  TsSpot still = get_spot (f, 0, 2);

  ts_document_move_spots (f->document, 0, refs, G_N_ELEMENTS (refs), -10.0, 0.0);
  assert_near (g_array_index (get_run (f, 0)->points, TsPoint, 0).x, 10.0, 1e-9);
  assert_near (get_spot (f, 0, 0).position, 0.0, 1e-9);
  check_moved (f, still, 0, 2, 0.0, 0.0);
  assert_near (get_spot (f, 0, 2).position, (still.x - 10.0) / 240.0, 1e-9);
}

/* What would leave the picture stops all of them: they keep their shape. */
static void
test_held_within (void **state)
{
  Fixture *f = *state;
  guint last = get_run (f, 1)->spots->len - 2;
  const TsSpotRef refs[] = { { 0, 1 }, { 1, last } };
  TsSpot before[] = { get_spot (f, 0, 1), get_spot (f, 1, last) };
  double most = 0.5 - before[0].y;

  ts_document_move_spots (f->document, 0, refs, G_N_ELEMENTS (refs), 3.0, -500.0);
  check_moved (f, before[0], 0, 1, 3.0, most);
  check_moved (f, before[1], 1, last, 3.0, most);
  before[0] = get_spot (f, 0, 1);
  before[1] = get_spot (f, 1, last);
  most = WIDTH - 0.5 - MAX (before[0].x, before[1].x);
  ts_document_move_spots (f->document, 0, refs, G_N_ELEMENTS (refs), 900.0, 0.0);
  /* A disc at the edge is cut, so its grey is not the one of its middle. */
  assert_near (get_spot (f, 0, 1).x, before[0].x + most, 1e-9);
  assert_near (get_spot (f, 1, last).x, before[1].x + most, 1e-9);
}

static void
test_remove (void **state)
{
  Fixture *f = *state;
  const TsSpotRef inner[] = { { 0, 3 }, { 0, 1 } }, with_end[] = { { 0, 2 }, { 1, 0 } };
  const TsPlan *plan = ts_document_get_plan (f->document);
  guint n = get_run (f, 0)->spots->len;
  TsSpot stays[] = { get_spot (f, 0, 2), get_spot (f, 0, 4) };

  ts_document_remove_spots (f->document, 0, inner, G_N_ELEMENTS (inner));
  assert_int_equal (get_run (f, 0)->spots->len, n - 2);
  check_moved (f, stays[0], 0, 1, 0.0, 0.0);
  check_moved (f, stays[1], 0, 2, 0.0, 0.0);
  ts_document_undo (f->document);
  assert_ptr_equal (ts_document_get_plan (f->document), plan);

  ts_document_remove_spots (f->document, 0, with_end, G_N_ELEMENTS (with_end));
  assert_int_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->runs->len, 1);
  assert_int_equal (get_run (f, 0)->spots->len, n - 1);
}

static void
test_nothing (void **state)
{
  Fixture *f = *state;
  const TsPlan *plan = ts_document_get_plan (f->document);

  ts_document_move_spots (f->document, 0, NULL, 0, 5.0, 5.0);
  ts_document_remove_spots (f->document, 0, NULL, 0);
  assert_ptr_equal (ts_document_get_plan (f->document), plan);
}

#define WITH_FIXTURE(f) cmocka_unit_test_setup_teardown (f, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_FIXTURE (test_move_some),   WITH_FIXTURE (test_move_whole), WITH_FIXTURE (test_move_end),
    WITH_FIXTURE (test_held_within), WITH_FIXTURE (test_remove),     WITH_FIXTURE (test_nothing),
  };

  return cmocka_run_group_tests_name ("document-spots", tests, NULL, NULL);
}
