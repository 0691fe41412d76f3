/* test-document-correct.c: a correction while it is worked on, and in the plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The picture is drawn from the chart's published values (data/charts/later.txt) under an invented
 * warm light, with a gain for each channel of linear sRGB.
 */
#include "ts-test.h"

#include <cairo.h>
#include <glib/gstdio.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "document/ts-correction-draft.h"
#include "spots/ts-spot-find.h"

#define LIMIT_MS 30000
#define LONGEST_STALL_US 50000
#define WIDTH 600
#define HEIGHT 500
/* Centres of patches: 60 apart from 50, 60; measured areas reach 0.43 of that to each side. */
#define PITCH 60
#define LEFT 50
#define TOP 60

typedef struct
{
  char *folder, *picture, *other;
  TsDocument *document;
  gboolean opened;
} Fixture;

static guint32
encode (TsXyz xyz, const double light[3])
{
  TsRgb rgb = ts_rgb_from_xyz (xyz);
  const double channel[3] = { rgb.r * light[0], rgb.g * light[1], rgb.b * light[2] };
  guint32 word = 0;

  for (int c = 0; c < 3; c++)
    word =
      word << 8 |
      (guint32) (255.0 * CLAMP (ts_srgb_encode (CLAMP (channel[c], 0.0, 1.0)), 0.0, 1.0) + 0.5);
  return word;
}

/* A chart above; below it cards of L* 96, 49.5 and 20, and a slope from light to dark. */
static TsLab
colour_at (int x, int y, const TsChartReference *reference)
{
  int column = (x - LEFT + PITCH / 2) / PITCH, row = (y - TOP + PITCH / 2) / PITCH;

  if (y > 300 && y < 380 && x < 480)
    return (TsLab){ x < 160 ? 96.0 : x < 320 ? 49.5 : 20.0, 0.0, 0.0 };
  if (y >= 380)
    return (TsLab){ 80.0 - 60.0 * x / WIDTH, 10.0, 20.0 };
  if (x > LEFT - PITCH / 2 && y > TOP - PITCH / 2 && column < 6 && row < 4 &&
      abs (x - LEFT - column * PITCH) < 26 && abs (y - TOP - row * PITCH) < 26)
    return reference->lab[row * 6 + column];
  return (TsLab){ 15.0, 0.0, 0.0 };
}

static char *
write_chart (const char *folder, const char *name, const double light[3])
{
  char *path = g_build_filename (folder, name, NULL);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  guint32 *words = (guint32 *) (gpointer) cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface) / 4;
  TsChartReference reference;
  g_autoptr (GError) error = NULL;

  ts_chart_reference_get ("later", &reference, &error);
  assert_no_error (error);
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      words[y * stride + x] = encode (ts_xyz_from_lab (colour_at (x, y, &reference)), light);
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
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  Fixture *f = data;
  g_autoptr (GError) error = NULL;

  ts_document_open_finish (TS_DOCUMENT (source), result, &error);
  assert_no_error (error);
  f->opened = TRUE;
}

static void
open_path (Fixture *f, const char *path)
{
  guint id = g_timeout_add (5, wake, NULL);

  f->opened = FALSE;
  ts_document_open (f->document, path, on_opened, f);
  while (!f->opened)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
}

static void
settle (TsCorrectionDraft *draft)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (ts_correction_draft_get_busy (draft) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_false (ts_correction_draft_get_busy (draft));
}

static int
set_up (void **state)
{
  const double warm[3] = { 0.95, 0.75, 0.45 }, cool[3] = { 0.70, 0.80, 0.95 };
  Fixture *f = g_new0 (Fixture, 1);
  g_autoptr (GError) error = NULL;

  f->folder = g_dir_make_tmp ("tonestair-correct-XXXXXX", &error);
  assert_no_error (error);
  f->picture = write_chart (f->folder, "warm.png", warm);
  f->other = write_chart (f->folder, "cool.png", cool);
  f->document = ts_document_new ();
  open_path (f, f->picture);
  ts_document_add_surface (f->document, (TsPoint){ 20.0, 440.0 }, (TsPoint){ 580.0, 440.0 });
  *state = f;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *f = *state;

  ts_document_close (f->document);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_object_unref (f->document);
  g_unlink (f->picture);
  g_unlink (f->other);
  g_rmdir (f->folder);
  g_free (f->picture);
  g_free (f->other);
  g_free (f->folder);
  g_free (f);
  return 0;
}

static const TsPoint right_corners[4] = { { LEFT + 0.5, TOP + 0.5 },
                                          { LEFT + 5 * PITCH + 0.5, TOP + 0.5 },
                                          { LEFT + 5 * PITCH + 0.5, TOP + 3 * PITCH + 0.5 },
                                          { LEFT + 0.5, TOP + 3 * PITCH + 0.5 } };

static char *
dup_undo_name (Fixture *f)
{
  char *name = NULL;

  g_object_get (f->document, "undo-name", &name, NULL);
  return name;
}

static TsCorrectionKind
get_planned (Fixture *f, guint picture)
{
  return ts_plan_get_picture (ts_document_get_plan (f->document), picture)->correction.kind;
}

static const TsSpot *
get_spot (Fixture *f, guint index)
{
  const TsSurface *surface = ts_plan_get_surface (ts_document_get_plan (f->document), 0);

  return &g_array_index (ts_surface_get_run (surface, 0)->spots, TsSpot, index);
}

/* The slope's own colour where a spot lies. */
static TsLab
get_truth (const TsSpot *spot)
{
  return (TsLab){ 80.0 - 60.0 * (spot->x - 0.5) / WIDTH, 10.0, 20.0 };
}

static void
test_chart (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  TsChartLayout layout;

  settle (draft);
  assert_false (ts_correction_draft_can_keep (draft));
  assert_true (ts_delta_e_2000 (get_spot (f, 3)->lab, get_truth (get_spot (f, 3))) > 6.0);

  ts_correction_draft_choose (draft, TS_DRAFT_CHART);
  assert_false (ts_correction_draft_lay_out (draft, &layout));
  ts_correction_draft_set_corners (draft, right_corners);
  assert_true (ts_correction_draft_lay_out (draft, &layout));
  assert_int_equal (layout.n_columns, 6);
  assert_int_equal (layout.patch[0], -1);
  settle (draft);
  assert_null (ts_correction_draft_get_fault (draft));
  assert_true (ts_correction_draft_get_reading (draft)->n_used >= 22);
  assert_true (ts_correction_draft_lay_out (draft, &layout));
  for (int i = 0; i < TS_CHART_PATCHES; i++)
    assert_int_equal (layout.patch[i], i);
  assert_int_equal (get_planned (f, 0), TS_CORRECTION_NONE);

  assert_true (ts_correction_draft_can_keep (draft));
  assert_true (ts_correction_draft_keep (draft, &error));
  assert_no_error (error);
  assert_int_equal (get_planned (f, 0), TS_CORRECTION_CHART);
  assert_true (ts_delta_e_2000 (get_spot (f, 3)->lab, get_truth (get_spot (f, 3))) < 2.0);
  name = dup_undo_name (f);
  assert_string_equal (name, "Correct by the chart");
  assert_false (ts_correction_draft_can_keep (draft));

  ts_document_undo (f->document);
  assert_int_equal (get_planned (f, 0), TS_CORRECTION_NONE);
  assert_int_equal (ts_correction_draft_get_choice (draft), TS_DRAFT_NONE);
  assert_true (ts_delta_e_2000 (get_spot (f, 3)->lab, get_truth (get_spot (f, 3))) > 6.0);
}

/* The first corner lies on patch 24: the chart is turned round in the picture's order. */
static void
test_turned (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  const TsPoint corners[4] = { right_corners[2], right_corners[3], right_corners[0],
                               right_corners[1] };
  TsChartLayout layout;

  ts_correction_draft_choose (draft, TS_DRAFT_CHART);
  ts_correction_draft_set_corners (draft, corners);
  settle (draft);
  assert_null (ts_correction_draft_get_fault (draft));
  assert_true (ts_correction_draft_lay_out (draft, &layout));
  for (int i = 0; i < TS_CHART_PATCHES; i++)
    assert_int_equal (layout.patch[i], TS_CHART_PATCHES - 1 - i);
}

/* A drag asks for far more than can be worked out; none of it may hold the loop up. */
static void
test_drag (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  TsChartLayout layout;
  gint64 longest = 0;

  ts_correction_draft_choose (draft, TS_DRAFT_CHART);
  ts_correction_draft_set_corners (draft, right_corners);
  for (int i = 60; i >= 0; i--)
    {
      gint64 before = g_get_monotonic_time ();

      ts_correction_draft_move_corner (draft, 2,
                                       (TsPoint){ right_corners[2].x + i, right_corners[2].y });
      assert_true (ts_correction_draft_lay_out (draft, &layout));
      g_main_context_iteration (NULL, FALSE);
      longest = MAX (longest, g_get_monotonic_time () - before);
      g_usleep (2000);
    }
  assert_in_range (longest, 0, LONGEST_STALL_US);
  settle (draft);
  assert_null (ts_correction_draft_get_fault (draft));
  assert_true (ts_correction_draft_get_reading (draft)->leave_one_out < 1.5);
}

static void
test_not_the_chart (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  const TsPoint corners[4] = { { 60, 400 }, { 500, 400 }, { 500, 480 }, { 60, 480 } };

  ts_correction_draft_choose (draft, TS_DRAFT_CHART);
  ts_correction_draft_set_corners (draft, corners);
  settle (draft);
  assert_non_null (strstr (ts_correction_draft_get_fault (draft), "does not look like the chart"));
  assert_false (ts_correction_draft_can_keep (draft));
  assert_null (ts_correction_draft_get_reading (draft));
  ts_correction_draft_choose (draft, TS_DRAFT_NONE);
  settle (draft);
  assert_null (ts_correction_draft_get_fault (draft));
  assert_int_equal (get_planned (f, 0), TS_CORRECTION_NONE);
}

static void
test_cards (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  g_autoptr (GError) error = NULL;
  const TsCorrectionSettings *settings;
  const TsCardPlace *grey;
  g_autofree char *name = NULL;

  ts_correction_draft_choose (draft, TS_DRAFT_CARD);
  settle (draft);
  assert_false (ts_correction_draft_can_keep (draft));
  ts_correction_draft_find_disc (draft, TS_DISC_GREY, (TsPoint){ 240.0, 340.0 });
  grey = ts_correction_draft_get_disc (draft, TS_DISC_GREY);
  assert_true (grey->radius > 20.0 && grey->radius < 40.0);
  settle (draft);
  assert_int_equal (ts_correction_get_n_cards (ts_correction_draft_get_correction (draft)), 1);
  ts_correction_draft_find_disc (draft, TS_DISC_WHITE, (TsPoint){ 80.0, 340.0 });
  ts_correction_draft_find_disc (draft, TS_DISC_BLACK, (TsPoint){ 400.0, 340.0 });
  settle (draft);
  assert_null (ts_correction_draft_get_fault (draft));
  assert_int_equal (ts_correction_get_n_cards (ts_correction_draft_get_correction (draft)), 3);
  assert_true (ts_correction_draft_keep (draft, &error));
  settings = &ts_plan_get_picture (ts_document_get_plan (f->document), 0)->correction;
  assert_int_equal (settings->kind, TS_CORRECTION_CARD);
  assert_int_equal (settings->n_more_cards, 2);
  assert_true (fabs (get_spot (f, 3)->lab.L - get_truth (get_spot (f, 3)).L) < 2.0);
  name = dup_undo_name (f);
  assert_string_equal (name, "Correct by the cards");
}

/* Black where white should be: a typed L* that cannot be. */
static void
test_cards_refused (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);

  ts_correction_draft_choose (draft, TS_DRAFT_CARD);
  ts_correction_draft_find_disc (draft, TS_DISC_GREY, (TsPoint){ 240.0, 340.0 });
  ts_correction_draft_find_disc (draft, TS_DISC_WHITE, (TsPoint){ 400.0, 340.0 });
  settle (draft);
  assert_non_null (strstr (ts_correction_draft_get_fault (draft), "do not go together"));
  ts_correction_draft_clear_disc (draft, TS_DISC_WHITE);
  ts_correction_draft_set_lightness (draft, TS_DISC_GREY, 60.0);
  settle (draft);
  assert_null (ts_correction_draft_get_fault (draft));
  assert_true (ts_correction_draft_can_keep (draft));
}

static void
test_guess (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  g_autoptr (GError) error = NULL;

  while (ts_correction_draft_get_guess (draft) == NULL && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  assert_int_equal (ts_correction_draft_get_guess (draft)->cast, TS_CAST_WARM);
  settle (draft);
  assert_false (ts_correction_draft_can_keep (draft)); /* never by itself */
  ts_correction_draft_set_use_guess (draft, TRUE);
  settle (draft);
  assert_true (ts_correction_draft_keep (draft, &error));
  assert_int_equal (get_planned (f, 0), TS_CORRECTION_GUESS);
}

/* The cool picture as the warm one: wrong without a card in both, right with one. */
static void
test_other (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) first = ts_correction_draft_new (f->document, 0), draft = NULL;
  const TsLab grey = { 49.5, 0.0, 0.0 };
  g_autoptr (GError) error = NULL;
  TsImage *image;
  TsXyz card;

  ts_correction_draft_choose (first, TS_DRAFT_CHART);
  ts_correction_draft_set_corners (first, right_corners);
  settle (first);
  assert_true (ts_correction_draft_keep (first, &error));
  open_path (f, f->other);
  assert_int_equal (ts_document_get_shown_picture (f->document), 1);
  image = ts_document_get_image (f->document, 1);
  ts_spot_measure_xyz (image, 240.0, 340.0, 20.0, &card, NULL, &error);
  assert_no_error (error);

  draft = ts_correction_draft_new (f->document, 1);
  ts_correction_draft_choose (draft, TS_DRAFT_OTHER);
  assert_int_equal (ts_correction_draft_get_source (draft), 0);
  settle (draft);
  assert_true (ts_delta_e_2000 (ts_lab_from_xyz (ts_correction_apply (
                                  ts_correction_draft_get_correction (draft), card)),
                                grey) > 8.0);
  ts_correction_draft_find_disc (draft, TS_DISC_HERE, (TsPoint){ 240.0, 340.0 });
  ts_correction_draft_set_aim (draft, TS_DISC_THERE);
  assert_int_equal (ts_document_get_shown_picture (f->document), 0);
  ts_correction_draft_find_disc (draft, TS_DISC_THERE, (TsPoint){ 240.0, 340.0 });
  settle (draft);
  assert_true (ts_delta_e_2000 (ts_lab_from_xyz (ts_correction_apply (
                                  ts_correction_draft_get_correction (draft), card)),
                                grey) < 1.0);
  assert_true (ts_correction_draft_keep (draft, &error));
  assert_string_equal (
    ts_plan_get_picture (ts_document_get_plan (f->document), 1)->correction.source, f->picture);
}

static void
test_share (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCorrectionDraft) draft = ts_correction_draft_new (f->document, 0);
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;

  ts_correction_draft_choose (draft, TS_DRAFT_CHART);
  ts_correction_draft_set_corners (draft, right_corners);
  settle (draft);
  assert_true (ts_correction_draft_keep (draft, &error));
  open_path (f, f->other);
  assert_true (ts_document_share_correction (f->document, 0, 1, &error));
  assert_no_error (error);
  assert_int_equal (get_planned (f, 1), TS_CORRECTION_CHART);
  assert_true (ts_correction_get_shared (ts_document_get_correction (f->document, 1)));
  name = dup_undo_name (f);
  assert_string_equal (name, "Correct as another photograph");
  ts_document_undo (f->document);
  assert_int_equal (get_planned (f, 1), TS_CORRECTION_NONE);
}

/* The ends of the range, told apart, as the file's own numbers have them. */
static void
test_clipping (void **state)
{
  static const guint8 pixels[] = { 255, 10, 10, 0, 10, 10, 0, 255, 10, 254, 1, 128 };
  g_autoptr (GBytes) bytes = g_bytes_new_static (pixels, sizeof pixels);
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);
  g_autoptr (TsImage) image = ts_image_new_from_pixels (bytes, 4, 1, TS_PIXEL_RGB8, profile);
  guint8 clipping[4];

  ts_image_read_clipping (image, 0, 0, 4, 1, clipping);
  assert_int_equal (clipping[0], TS_CLIPPED_LIGHT);
  assert_int_equal (clipping[1], TS_CLIPPED_SHADOW);
  assert_int_equal (clipping[2], TS_CLIPPED_LIGHT | TS_CLIPPED_SHADOW);
  assert_int_equal (clipping[3], 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (test_chart, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_turned, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_drag, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_not_the_chart, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_cards, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_cards_refused, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_guess, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_other, set_up, tear_down),
    cmocka_unit_test_setup_teardown (test_share, set_up, tear_down),
    cmocka_unit_test (test_clipping),
  };

  return cmocka_run_group_tests_name ("document/correct", tests, NULL, NULL);
}
