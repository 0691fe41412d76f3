/* test-document-checks.c: outlines, the light, and how surfaces are looked at, as verbs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <cairo.h>
#include <string.h>

#include "document/ts-document.h"

#define LIMIT_MS 30000
#define WIDTH 240
#define HEIGHT 160

typedef struct
{
  char *folder;
  TsDocument *document;
  gboolean done;
  int surface;
  guint n_messages;
} Fixture;

/* Light falls from left to right. */
static char *
write_picture (const char *folder)
{
  char *path = g_build_filename (folder, "figure.png", NULL);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  guint32 *words = (guint32 *) (gpointer) cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface) / 4;

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        guint v = (guint) (230.0 - 190.0 * x / (WIDTH - 1));

        words[y * stride + x] = v << 16 | (guint) (v * 0.9) << 8 | (guint) (v * 0.7);
      }
  cairo_surface_mark_dirty (surface);
  assert_int_equal (cairo_surface_write_to_png (surface, path), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  return path;
}

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
wait_for_done (Fixture *f)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (!f->done && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_true (f->done);
  f->done = FALSE;
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  Fixture *f = data;

  assert_true (ts_document_open_finish (TS_DOCUMENT (source), result, NULL));
  f->done = TRUE;
}

static void
on_outlined (GObject *source, GAsyncResult *result, gpointer data)
{
  Fixture *f = data;

  f->surface = ts_document_outline_finish (TS_DOCUMENT (source), result);
  f->done = TRUE;
}

static void
on_message (TsDocument *document, const char *text, const char *action, const char *label,
            Fixture *f)
{
  f->n_messages++;
}

static int
set_up (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);
  g_autofree char *picture = NULL;

  f->folder = ts_test_make_folder ();
  picture = write_picture (f->folder);
  f->document = ts_document_new ();
  g_signal_connect (f->document, "message", G_CALLBACK (on_message), f);
  ts_document_open (f->document, picture, on_opened, f);
  wait_for_done (f);
  *state = f;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *f = *state;

  ts_document_close (f->document);
  g_object_unref (f->document);
  ts_test_remove_folder (f->folder);
  g_free (f);
  return 0;
}

static void
outline (Fixture *f, int surface, double left, double right)
{
  const TsPoint corners[] = { { left, 10 }, { right, 10 }, { right, 150 }, { left, 150 } };

  ts_document_outline (f->document, surface, corners, 4, on_outlined, f);
  wait_for_done (f);
}

static const TsSurface *
get_surface (Fixture *f, guint index)
{
  return ts_plan_get_surface (ts_document_get_plan (f->document), index);
}

static void
test_outline (void **state)
{
  Fixture *f = *state;
  TsSurfaceResult *result;
  double sum = 0.0;

  outline (f, -1, 10, 230);
  assert_int_equal (f->surface, 0);
  assert_int_equal (ts_document_get_selected_surface (f->document), 0);
  result = ts_document_get_result (f->document, 0);
  assert_non_null (result);
  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    sum += ts_surface_result_get_area (result, i);
  assert_near (sum, 1.0, 1e-9);
  ts_document_undo (f->document);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 0);
  ts_document_redo (f->document);
  assert_non_null (get_surface (f, 0)->outline);
  ts_document_remove_outline (f->document, 0);
  assert_null (get_surface (f, 0)->outline);
  assert_null (ts_document_get_result (f->document, 0));
}

/* A run gives the curve, the outline the areas. */
static void
test_outline_of_a_run (void **state)
{
  Fixture *f = *state;

  ts_document_add_surface (f->document, (TsPoint){ 20, 80 }, (TsPoint){ 220, 80 });
  assert_near (ts_surface_result_get_area (ts_document_get_result (f->document, 0), 0), -1.0, 0.0);
  outline (f, 0, 120, 230);
  assert_int_equal (f->surface, 0);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 1);
  /* The lit half lies outside the outline. */
  assert_near (ts_surface_result_get_area (ts_document_get_result (f->document, 0), 0), 0.0, 0.01);
  assert_true (ts_surface_result_get_area (ts_document_get_result (f->document, 0), 6) > 0.05);
}

static void
set_done (Fixture *f)
{
  f->done = TRUE;
}

/* What is moved is in the plan once it has been read. */
static void
read_moved (Fixture *f)
{
  gulong id = g_signal_connect_swapped (f->document, "plan-changed", G_CALLBACK (set_done), f);

  ts_document_read_finish_outline (f->document);
  wait_for_done (f);
  g_signal_handler_disconnect (f->document, id);
}

static void
open_finished (Fixture *f)
{
  g_autofree char *picture = g_build_filename (f->folder, "figure.png", NULL);
  g_autofree char *photo = g_build_filename (f->folder, "painted.png", NULL);
  g_autoptr (GFile) from = g_file_new_for_path (picture), to = g_file_new_for_path (photo);

  assert_true (g_file_copy (from, to, G_FILE_COPY_OVERWRITE, NULL, NULL, NULL, NULL));
  ts_document_open_finished (f->document, photo, on_opened, f);
  wait_for_done (f);
}

static double
get_corner (Fixture *f, guint corner)
{
  const TsOutline *outline = ts_document_get_finish_outline (f->document, 0);

  assert_non_null (outline);
  return g_array_index (outline->points, TsPoint, corner).x;
}

/* A surface that was outlined is held to its outline on the finished figure, and that comes with
 * the photograph in one step. */
static void
test_outline_finished (void **state)
{
  Fixture *f = *state;
  g_autofree char *path = g_build_filename (f->folder, "plan.tonestair", NULL);
  g_autofree char *report = NULL;
  const TsFinished *finished;

  outline (f, -1, 10, 150);
  open_finished (f);
  assert_near (get_corner (f, 1), 150.0, 1e-9);
  finished = ts_document_get_finished (f->document, 0);
  assert_non_null (finished);
  assert_int_equal (ts_finished_get_verdict (finished), TS_FINISH_KEPT);
  assert_near (finished->range_achieved, finished->range_planned, 0.01);
  report = ts_document_report_finish (f->document);
  assert_non_null (strstr (report, "kept"));
  ts_document_undo (f->document);
  assert_int_equal (ts_document_get_plan (f->document)->pictures->len, 1);
  assert_null (get_surface (f, 0)->finish_outline);
  ts_document_redo (f->document);
  assert_non_null (ts_document_get_finished (f->document, 0));
  assert_true (ts_document_save (f->document, path, NULL));
  ts_document_open (f->document, path, on_opened, f);
  wait_for_done (f);
  assert_near (get_corner (f, 1), 150.0, 1e-9);
  assert_near (ts_document_get_finished (f->document, 0)->range_achieved,
               ts_document_get_finished (f->document, 0)->range_planned, 0.01);
  ts_document_remove_picture (f->document, 1);
  assert_null (ts_document_get_finished (f->document, 0));
}

/* Moved, it tells what another surface outlined there has; it is one step back, and can be laid
 * anew. */
static void
test_outline_finished_moves (void **state)
{
  Fixture *f = *state;
  const TsFinished *finished;
  const TsStair *there;
  const TsPlan *plan;
  gulong id;

  outline (f, -1, 10, 150);
  outline (f, -1, 70, 210);
  open_finished (f);
  plan = ts_document_get_plan (f->document);
  ts_document_move_finish_outline (f->document, 0, G_MAXUINT, 40.0, 0.0);
  ts_document_move_finish_outline (f->document, 0, G_MAXUINT, 20.0, 0.0);
  assert_near (get_corner (f, 0), 70.0, 1e-9);
  assert_ptr_equal (ts_document_get_plan (f->document), plan);
  read_moved (f);
  assert_near (g_array_index (get_surface (f, 0)->finish_outline->points, TsPoint, 0).x, 70.0,
               1e-9);
  finished = ts_document_get_finished (f->document, 0);
  there = ts_surface_result_get_stair (ts_document_get_result (f->document, 1));
  assert_near (finished->step[0].achieved.L, ts_stair_get_step (there, 0)->wanted.L, 0.5);
  assert_near (finished->step[6].achieved.L, ts_stair_get_step (there, 6)->wanted.L, 0.5);
  ts_document_undo (f->document);
  assert_near (get_corner (f, 0), 10.0, 1e-9);
  assert_int_equal (ts_document_get_plan (f->document)->pictures->len, 2);

  /* A corner moves by itself; the whole stays in the picture, in shape. */
  ts_document_move_finish_outline (f->document, 0, 1, 50.0, 0.0);
  read_moved (f);
  assert_near (get_corner (f, 0), 10.0, 1e-9);
  assert_near (get_corner (f, 1), 200.0, 1e-9);
  assert_near (get_corner (f, 2), 150.0, 1e-9);
  ts_document_move_finish_outline (f->document, 0, G_MAXUINT, -500.0, 0.0);
  read_moved (f);
  assert_near (get_corner (f, 1) - get_corner (f, 0), 190.0, 1e-9);
  id = g_signal_connect_swapped (f->document, "plan-changed", G_CALLBACK (set_done), f);
  ts_document_lay_finish (f->document, 0);
  wait_for_done (f);
  g_signal_handler_disconnect (f->document, id);
  assert_near (get_corner (f, 0), 10.0, 1e-9);
  assert_near (get_corner (f, 1), 150.0, 1e-9);
}

/* What is given up, or cannot be read, is where it was. */
static void
test_outline_finished_stays (void **state)
{
  Fixture *f = *state;
  gulong id;
  guint before;

  outline (f, -1, 10, 150);
  open_finished (f);
  before = f->n_messages;
  ts_document_set_n_steps (f->document, 0, 5);
  ts_document_move_finish_outline (f->document, 0, G_MAXUINT, 40.0, 0.0);
  ts_document_read_finish_outline (f->document);
  ts_document_undo (f->document);
  assert_near (get_corner (f, 0), 10.0, 1e-9);
  ts_document_move_finish_outline (f->document, 0, 1, -140.0, 0.0);
  ts_document_move_finish_outline (f->document, 0, 2, -140.0, 0.0);
  id = g_signal_connect_swapped (f->document, "message", G_CALLBACK (set_done), f);
  ts_document_read_finish_outline (f->document);
  wait_for_done (f);
  g_signal_handler_disconnect (f->document, id);
  assert_int_equal (f->n_messages, before + 1);
  assert_near (get_corner (f, 1), 150.0, 1e-9);
  assert_int_equal (ts_finished_get_verdict (ts_document_get_finished (f->document, 0)),
                    TS_FINISH_KEPT);
}

static void
test_too_small (void **state)
{
  Fixture *f = *state;
  guint before = f->n_messages;

  outline (f, -1, 10, 10.5);
  assert_int_equal (f->surface, -1);
  assert_int_equal (f->n_messages, before + 1);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 0);
}

static void
test_verbs (void **state)
{
  Fixture *f = *state;
  const TsPlan *plan;

  ts_document_add_surface (f->document, (TsPoint){ 20, 40 }, (TsPoint){ 220, 40 });
  ts_document_add_surface (f->document, (TsPoint){ 20, 80 }, (TsPoint){ 120, 80 });
  ts_document_set_stair_of (f->document, 1, 0);
  assert_near (ts_surface_result_get_colour (ts_document_get_result (f->document, 1), 6).L,
               ts_surface_result_get_colour (ts_document_get_result (f->document, 0), 6).L, 0.0);
  /* What follows the first follows its changes. */
  ts_document_set_n_steps (f->document, 0, 5);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 1)), 5);
  ts_document_set_fewest_steps (f->document, 0);
  assert_in_range (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 0)), 5, 8);
  ts_document_set_touch (f->document, 1, 0, 1);
  ts_document_set_looked_at (f->document, 0, 300.0, 1.0);
  ts_document_set_figure_height (f->document, 28.0);
  ts_document_set_light (f->document, 0, (TsPoint){ 5, 5 }, (TsPoint){ 60, 5 });
  plan = ts_document_get_plan (f->document);
  assert_int_equal (ts_plan_get_touch (plan, 0, 1), 1);
  assert_near (plan->contrast.band, 0.7, 1e-9);
  assert_near (ts_surface_result_get_settings (ts_document_get_result (f->document, 0)).distance,
               300.0, 0.0);
  assert_near (ts_surface_result_get_settings (ts_document_get_result (f->document, 1)).distance,
               410.0, 0.0);
  assert_true (ts_plan_get_picture (plan, 0)->has_light);
  ts_document_set_light (f->document, 0, (TsPoint){ 5, 5 }, (TsPoint){ 5, 5 });
  assert_false (ts_plan_get_picture (ts_document_get_plan (f->document), 0)->has_light);
  ts_document_remove_surface (f->document, 0);
  assert_int_equal (get_surface (f, 0)->stair_of, -1);
}

static double
get_wanted (Fixture *f, guint surface, guint step)
{
  const TsStair *stair =
    ts_surface_result_get_stair (ts_document_get_result (f->document, surface));

  return ts_stair_get_step (stair, step)->wanted.L;
}

/* What is done to a stair is done to it from whichever surface it is looked at. */
static void
test_shared_stair (void **state)
{
  Fixture *f = *state;
  TsStairSettings settings;

  ts_document_add_surface (f->document, (TsPoint){ 20, 40 }, (TsPoint){ 220, 40 });
  ts_document_add_surface (f->document, (TsPoint){ 20, 80 }, (TsPoint){ 120, 80 });
  ts_document_set_stair_of (f->document, 1, 0);
  ts_document_set_n_steps (f->document, 1, 5);
  assert_int_equal (get_surface (f, 0)->stair.n_steps, 5);
  assert_int_equal (get_surface (f, 1)->stair.n_steps, 7);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 1)), 5);
  ts_document_add_step (f->document, 1, 0);
  ts_document_place_step (f->document, 1, 2, 0.5, 51.0);
  assert_int_equal (get_surface (f, 0)->stair.n_steps, 6);
  assert_near (get_wanted (f, 0, 2), 51.0, 0.01);
  assert_near (get_wanted (f, 1, 2), 51.0, 0.01);
  ts_document_merge_step (f->document, 1, 0);
  ts_document_set_spacing (f->document, 1, TS_SPACING_DIFFERENCE);
  assert_int_equal (get_surface (f, 0)->stair.n_steps, 5);
  assert_int_equal (get_surface (f, 0)->stair.spacing, TS_SPACING_DIFFERENCE);
  settings = get_surface (f, 0)->stair;
  settings.has_range = TRUE;
  settings.range_light = 80.0;
  settings.range_dark = 25.0;
  ts_document_set_stair (f->document, 1, &settings, "Range");
  assert_near (get_wanted (f, 0, 0), 80.0, 0.01);
  ts_document_set_polished (f->document, 1, TRUE);
  assert_true (get_surface (f, 0)->polished);
  assert_false (get_surface (f, 1)->polished);
  /* Its own again, as it was left. */
  ts_document_set_stair_of (f->document, 1, -1);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 1)), 7);
}

/* A step that is added halves the gap, also where the fall bends and where steps were moved. */
static void
test_added_step_is_halfway (void **state)
{
  Fixture *f = *state;

  ts_document_add_surface (f->document, (TsPoint){ 20, 40 }, (TsPoint){ 220, 40 });
  ts_document_set_n_steps (f->document, 0, 2);
  ts_document_add_step (f->document, 0, 0);
  assert_near (get_wanted (f, 0, 1), 0.5 * (get_wanted (f, 0, 0) + get_wanted (f, 0, 2)), 0.01);
  ts_document_place_step (f->document, 0, 0, 0.0, 97.0);
  ts_document_add_step (f->document, 0, 0);
  assert_near (get_wanted (f, 0, 1), 0.5 * (get_wanted (f, 0, 0) + get_wanted (f, 0, 2)), 0.01);
  assert_true (get_wanted (f, 0, 0) > get_wanted (f, 0, 1) + 5.0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (test_outline, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_outline_of_a_run, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_outline_finished, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_outline_finished_moves, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_outline_finished_stays, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_too_small, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_verbs, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_shared_stair, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_added_step_is_halfway, set_up, tear_down),
  };

  return cmocka_run_group_tests_name ("document/checks", tests, NULL, NULL);
}
