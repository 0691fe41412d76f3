/* test-document-paints.c: editing the set of paints, and refining it by test swatches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "document/ts-calibration.h"
#include "document/ts-document-paints.h"
#include "plan/ts-plan-file.h"

#define LIMIT_MS 30000

static const char table[] = "# kept as it is\n"
                            "name,kind,opacity,pigments,stock,L,a,b,shelf\n"
                            "Chalk White,paint,semi-opaque,PW6,full,95,0,2,top\n"
                            "Deep Teal,paint,semi-transparent,PG50,full,35,-26,-10,top\n"
                            "Lamp Black,paint,opaque,PBk7,low,15,0,0,\n"
                            "Brick,paint,opaque,PR101,out,42,32,26,\n";

static TsDocument *
new_document (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) paints = ts_paint_set_parse (table, -1, "test", &error);
  TsDocument *document = ts_document_new ();

  assert_no_error (error);
  ts_document_set_default_paints (document, paints, "Mine");
  return document;
}

static TsPaint *
paint_called (TsDocument *document, const char *name)
{
  TsPaintSet *paints = ts_document_get_paints (document);
  int index = ts_paint_set_find (paints, name);

  return index >= 0 ? ts_paint_set_get_paint (paints, (guint) index) : NULL;
}

static void
assert_step (TsDocument *document, const char *undo, const char *redo)
{
  g_autofree char *undo_name = NULL, *redo_name = NULL;

  g_object_get (document, "undo-name", &undo_name, "redo-name", &redo_name, NULL);
  if (undo != NULL)
    assert_string_equal (undo_name, undo);
  else
    assert_null (undo_name);
  if (redo != NULL)
    assert_string_equal (redo_name, redo);
  else
    assert_null (redo_name);
}

static void
test_edit_and_back (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  g_autofree char *before = ts_paint_set_to_csv (ts_document_get_paints (document));
  g_autofree char *after = NULL, *back = NULL;
  const char *const cells[] = { "opacity", "opaque", "notes", "thin, with \"quotes\"", NULL };

  assert_true (ts_document_edit_paint (document, 1, cells, NULL, NULL));
  assert_int_equal (ts_paint_get_opacity (paint_called (document, "Deep Teal")), TS_OPACITY_OPAQUE);
  assert_string_equal (ts_paint_get_notes (paint_called (document, "Deep Teal")),
                       "thin, with \"quotes\"");
  assert_step (document, "Edit Deep Teal", NULL);

  after = ts_paint_set_to_csv (ts_document_get_paints (document));
  assert_non_null (strstr (after, "# kept as it is"));
  assert_non_null (strstr (after, "top"));
  ts_document_undo (document);
  back = ts_paint_set_to_csv (ts_document_get_paints (document));
  assert_string_equal (back, before);
  assert_step (document, NULL, "Edit Deep Teal");
  ts_document_redo (document);
  assert_int_equal (ts_paint_get_opacity (paint_called (document, "Deep Teal")), TS_OPACITY_OPAQUE);
}

static void
test_refused (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  TsPaintSet *before = ts_document_get_paints (document);
  const char *const twice[] = { "name", "chalk white", NULL };
  const char *const nameless[] = { "name", "", NULL };
  const char *const colourless[] = { "name", "Olive", NULL };
  const char *const impossible[] = { "L", "50", "a", "150", "b", "0", NULL };
  const char *const double_add[] = { "name", "BRICK", "L", "40", "a", "0", "b", "0", NULL };
  g_autoptr (GError) error = NULL;

  assert_false (ts_document_edit_paint (document, 1, twice, NULL, &error));
  assert_int_equal (error->code, TS_ERROR_BAD_VALUE);
  g_clear_error (&error);
  assert_false (ts_document_edit_paint (document, 1, nameless, NULL, &error));
  g_clear_error (&error);
  assert_false (ts_document_edit_paint (document, 1, impossible, NULL, &error));
  g_clear_error (&error);
  assert_false (ts_document_add_paint (document, colourless, &error));
  g_clear_error (&error);
  assert_false (ts_document_add_paint (document, double_add, &error));
  /* Nothing has changed, and there is no step back. */
  assert_ptr_equal (ts_document_get_paints (document), before);
  assert_step (document, NULL, NULL);
}

static void
test_add_and_remove (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  const char *const cells[] = { "name", "Olive", "L", "44", "a", "-8", "b", "26", NULL };
  const char *const first[] = { "name", "Umber", "L", "30", "a", "5", "b", "8", NULL };

  assert_true (ts_document_add_paint (document, cells, NULL));
  assert_step (document, "Add Olive", NULL);
  assert_int_equal (ts_paint_set_get_n_paints (ts_document_get_paints (document)), 5);
  assert_true (fabs (ts_paint_get_masstone (paint_called (document, "Olive")).L - 44.0) < 0.01);

  for (guint n = 5; n > 0; n--)
    assert_true (ts_document_remove_paint (document, 0, NULL));
  assert_null (ts_document_get_paints (document));
  assert_step (document, "Remove Olive", NULL);
  assert_true (ts_document_add_paint (document, first, NULL));
  assert_int_equal (ts_paint_set_get_n_paints (ts_document_get_paints (document)), 1);
  ts_document_undo (document);
  assert_null (ts_document_get_paints (document));
  for (guint n = 0; n < 5; n++)
    ts_document_undo (document);
  assert_int_equal (ts_paint_set_get_n_paints (ts_document_get_paints (document)), 5);
  ts_document_undo (document);
  assert_step (document, NULL, "Add Olive");
}

static TsTestSwatch
swatch_of (const char *recipe, TsLab lab)
{
  return (TsTestSwatch){ recipe, (double) INFINITY, NULL, lab, 0.5 };
}

static void
test_rename_is_followed (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  const TsTestSwatch swatch = {
    "2 Deep Teal + 1 Chalk White", 1.0, "Deep Teal", { 50, -20, -8 }, 1
  };
  const char *const cells[] = { "name", "Sea Teal", "stock", "low", NULL };
  TsSwatch ready;

  assert_true (ts_document_add_swatch (document, &swatch, NULL));
  assert_step (document, "Add a Test Swatch", NULL);
  assert_true (ts_document_edit_paint (document, 1, cells, NULL, NULL));
  assert_int_equal (ts_paint_get_stock (paint_called (document, "Sea Teal")), TS_STOCK_LOW);
  assert_string_equal (ts_paint_set_get_swatch_text (ts_document_get_paints (document), 0),
                       "2 Sea Teal + 1 Chalk White,1,Sea Teal,1,50,-20,-8");
  assert_true (ts_paint_set_get_swatch (ts_document_get_paints (document), 0, &ready));
  assert_int_equal (ready.n_amounts, 2);

  ts_document_remove_swatch (document, 0);
  assert_int_equal (ts_paint_set_get_n_swatches (ts_document_get_paints (document)), 0);
  ts_document_undo (document);
  assert_int_equal (ts_paint_set_get_n_swatches (ts_document_get_paints (document)), 1);

  /* A swatch whose paint is gone stays in the file and counts no more. */
  assert_true (ts_document_remove_paint (document, 1, NULL));
  assert_false (ts_paint_set_get_swatch (ts_document_get_paints (document), 0, &ready));
}

static void
test_swatch_refused (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  const TsTestSwatch unknown = swatch_of ("1 No Such Paint", (TsLab){ 50, 0, 0 });
  const TsTestSwatch impossible = swatch_of ("1 Brick", (TsLab){ 50, 200, 0 });
  g_autoptr (GError) error = NULL;

  assert_false (ts_document_add_swatch (document, &unknown, &error));
  g_clear_error (&error);
  assert_false (ts_document_add_swatch (document, &impossible, &error));
  assert_step (document, NULL, NULL);
}

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
wait_for_end (TsCalibration *calibration)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (ts_calibration_is_running (calibration) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_false (ts_calibration_is_running (calibration));
}

static TsLab
predict (TsPaintSet *paints)
{
  TsSwatch swatch;
  TsSpectrum reflectance;

  assert_true (ts_paint_set_get_swatch (paints, 0, &swatch));
  return ts_swatch_predict (paints, &swatch, &reflectance);
}

static void
test_calibration (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  g_autoptr (TsCalibration) calibration = ts_calibration_new (document);
  const TsLab seen = { 60, -22, -9 };
  const TsTestSwatch swatch = swatch_of ("1 Deep Teal + 1 Chalk White", seen);
  g_autofree char *measured = NULL, *again = NULL;
  g_autoptr (TsPaintSet) before = NULL, bare = NULL, fitted = NULL;

  assert_false (ts_calibration_start (calibration));
  assert_true (ts_document_add_swatch (document, &swatch, NULL));
  before = ts_paint_set_ref (ts_document_get_paints (document));
  measured = ts_paint_set_to_csv (before);
  assert_true (ts_calibration_start (calibration));
  wait_for_end (calibration);
  assert_null (ts_calibration_get_problem (calibration));
  assert_non_null (ts_calibration_get_fit (calibration));
  assert_step (document, "Refine Paints by Swatches", NULL);
  assert_int_equal (ts_paint_get_source (paint_called (document, "Deep Teal")),
                    TS_SOURCE_CALIBRATED);
  assert_int_equal (ts_paint_get_source (paint_called (document, "Brick")), TS_SOURCE_WORD);
  assert_true (ts_delta_e_2000 (predict (ts_document_get_paints (document)), seen) <
               0.5 * ts_delta_e_2000 (predict (before), seen));

  /* A second fit starts from what was measured, not from the first, which would go farther each
   * time: the same but for the digits that the surface is written with. */
  fitted = ts_paint_set_ref (ts_document_get_paints (document));
  assert_true (ts_calibration_start (calibration));
  wait_for_end (calibration);
  assert_ptr_not_equal (ts_document_get_paints (document), fitted);
  assert_true (ts_delta_e_2000 (predict (ts_document_get_paints (document)), predict (fitted)) <
               0.01);

  bare = ts_paint_set_as_measured (ts_document_get_paints (document));
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (bare, 1)), TS_SOURCE_WORD);
  ts_document_undo (document);
  assert_ptr_equal (ts_document_get_paints (document), fitted);
  ts_document_undo (document);
  assert_null (ts_calibration_get_fit (calibration));
  again = ts_paint_set_to_csv (ts_document_get_paints (document));
  assert_string_equal (again, measured);
}

static void
test_direct_is_kept (void **state)
{
  g_autoptr (GString) text = g_string_new ("name");
  g_autoptr (TsPaintSet) paints = NULL, refined = NULL, measured = NULL;
  g_autoptr (TsDocument) document = ts_document_new ();
  g_autoptr (TsCalibration) calibration = ts_calibration_new (document);
  const TsTestSwatch swatch = swatch_of ("1 Grey", (TsLab){ 60, 0, 0 });

  for (guint i = 0; i < 2 * TS_BANDS; i++)
    g_string_append_printf (text, ",%c%u", i < TS_BANDS ? 'K' : 'S', 400 + 10 * (i % TS_BANDS));
  g_string_append (text, "\nGrey");
  for (guint i = 0; i < 2 * TS_BANDS; i++)
    g_string_append (text, i < TS_BANDS ? ",0.5" : ",1");
  g_string_append_c (text, '\n');
  paints = ts_paint_set_parse (text->str, -1, "test", NULL);
  assert_non_null (paints);
  ts_document_set_default_paints (document, paints, "Direct");
  assert_true (ts_document_add_swatch (document, &swatch, NULL));
  assert_true (ts_calibration_start (calibration));
  wait_for_end (calibration);
  refined = ts_paint_set_ref (ts_document_get_paints (document));
  assert_true (fabs (ts_paint_get_K (ts_paint_set_get_paint (refined, 0))->band[15] - 0.5) > 0.01);
  measured = ts_paint_set_as_measured (refined);
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (measured, 0)), TS_SOURCE_DIRECT);
  for (guint b = 0; b < TS_BANDS; b++)
    {
      assert_true (fabs (ts_paint_get_K (ts_paint_set_get_paint (measured, 0))->band[b] - 0.5) <=
                   0.0);
      assert_true (fabs (ts_paint_get_S (ts_paint_set_get_paint (measured, 0))->band[b] - 1.0) <=
                   0.0);
    }
}

static void
test_stopped (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  g_autoptr (TsCalibration) calibration = ts_calibration_new (document);
  const TsTestSwatch swatch = swatch_of ("1 Deep Teal + 1 Chalk White", (TsLab){ 60, -22, -9 });
  TsPaintSet *before;

  assert_true (ts_document_add_swatch (document, &swatch, NULL));
  before = ts_document_get_paints (document);
  assert_true (ts_calibration_start (calibration));
  ts_calibration_stop (calibration);
  assert_false (ts_calibration_is_running (calibration));
  /* Its thread may end much later; nothing comes of it. */
  for (int i = 0; i < 50; i++)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (4000);
    }
  assert_ptr_equal (ts_document_get_paints (document), before);
  assert_step (document, "Add a Test Swatch", NULL);
}

static void
test_saved (void **state)
{
  g_autoptr (TsDocument) document = new_document ();
  g_autofree char *folder = g_dir_make_tmp ("tonestair-paints-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "mine.csv", NULL);
  g_autofree char *nowhere = g_build_filename (folder, "no", "mine.csv", NULL);
  g_autofree char *csv = ts_paint_set_to_csv (ts_document_get_paints (document));
  g_autofree char *found = NULL;
  g_autoptr (GError) error = NULL;

  assert_true (ts_document_save_paints (document, path, NULL));
  assert_true (g_file_get_contents (path, &found, NULL, NULL));
  assert_string_equal (found, csv);
  assert_false (ts_document_save_paints (document, nowhere, &error));
  assert_int_equal (error->domain, TS_ERROR);
  g_unlink (path);
  g_rmdir (folder);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_edit_and_back),  cmocka_unit_test (test_refused),
    cmocka_unit_test (test_add_and_remove), cmocka_unit_test (test_rename_is_followed),
    cmocka_unit_test (test_swatch_refused), cmocka_unit_test (test_calibration),
    cmocka_unit_test (test_direct_is_kept), cmocka_unit_test (test_stopped),
    cmocka_unit_test (test_saved),
  };

  return cmocka_run_group_tests_name ("document/paints", tests, NULL, NULL);
}
