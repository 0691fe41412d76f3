/* test-card.c: the mixing card of the demo plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"
#include "card/ts-card-private.h"
#include "card/ts-mark.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "plan/ts-pipeline.h"
#include "plan/ts-plan-file.h"
#include "plan/ts-surface-accent.h"

typedef struct
{
  TsPlan *plan;
  GPtrArray *results;
  TsCard *card;
} Fixture;

static int
set_up (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);
  g_autofree char *path = ts_test_source ("data/demo/lighthouse.tonestair");
  g_autoptr (GError) error = NULL;

  f->plan = ts_plan_load (path, &error);
  assert_no_error (error);
  f->results = ts_pipeline_run (f->plan, NULL, NULL, NULL, &error);
  assert_no_error (error);
  f->card = ts_card_new (f->plan, f->results, NULL, "today", TS_PAPER_A4, TS_LENGTH_CENTIMETRES);
  *state = f;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *f = *state;

  ts_card_unref (f->card);
  g_ptr_array_unref (f->results);
  ts_plan_unref (f->plan);
  g_free (f);
  return 0;
}

static guint
count_steps (const Fixture *f)
{
  guint n = 0;

  for (guint i = 0; i < f->results->len; i++)
    n += ts_surface_result_get_n_steps (g_ptr_array_index (f->results, i));
  return n;
}

static void
test_table (void **state)
{
  Fixture *f = *state;
  g_autofree char *text = ts_card_to_csv (f->card);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCsv) csv = ts_csv_parse (text, -1, "card", &error);

  assert_no_error (error);
  assert_int_equal (ts_csv_get_n_rows (csv), count_steps (f));
  for (guint i = 0; i < ts_csv_get_n_rows (csv); i++)
    {
      const char *words = ts_csv_get_cell (csv, i, ts_csv_find_column (csv, "recipe"));
      TsRecipe recipe;

      assert_true (ts_recipe_parse (f->plan->paints, words, &recipe, &error));
    }
}

/* Pages as pixels, one a point; counts those of a colour. */
static guint
count_pixels (const TsCard *card, TsLab lab)
{
  double width, height;
  guint8 srgb[3];
  guint n = 0;

  ts_lab_to_srgb8 (lab, srgb);
  ts_card_get_size (card, &width, &height);
  for (guint page = 0; page < ts_card_get_n_pages (card); page++)
    {
      cairo_surface_t *surface =
        cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
      const guint32 *words = (const guint32 *) (gpointer) cairo_image_surface_get_data (surface);
      cairo_t *cr = cairo_create (surface);
      guint stride = (guint) cairo_image_surface_get_stride (surface) / 4;
      guint32 wanted = (guint32) srgb[0] << 16 | (guint32) srgb[1] << 8 | srgb[2];

      ts_card_draw (card, page, cr);
      cairo_surface_flush (surface);
      for (guint i = 0; i < stride * (guint) height; i++)
        n += (words[i] & 0xffffff) == wanted;
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  return n;
}

/* Every step's wanted and mixed colour stands on the card, as large as a chip. */
static void
test_chips (void **state)
{
  Fixture *f = *state;

  for (guint i = 0; i < f->results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (f->results, i);

      for (guint j = 0; j < ts_surface_result_get_n_steps (result); j += 2)
        {
          assert_true (
            count_pixels (
              f->card, ts_stair_get_step (ts_surface_result_get_stair (result), j)->wanted) > 500);
          assert_true (count_pixels (f->card, ts_surface_result_get_colour (result, j)) > 500);
        }
    }
  /* And a colour that is not on it does not. */
  assert_int_equal (count_pixels (f->card, (TsLab){ 60.0, 90.0, -60.0 }), 0);
}

/* Munsell's value stands beside lightness; ASTM D1535 has 7.9 for L* 80 and 2.4 for L* 24. */
static void
test_values (void **state)
{
  Fixture *f = *state;
  const TsCardSurface *coat = g_ptr_array_index (f->card->surfaces, 0);

  assert_string_equal (coat->step[0].lightness, "L* 80");
  assert_string_equal (coat->step[0].value, "value 7.9");
  assert_string_equal (coat->step[6].lightness, "L* 24");
  assert_string_equal (coat->step[6].value, "value 2.4");
  for (guint i = 0; i < coat->n_steps; i++)
    assert_int_equal (coat->step[i].is_base, g_strcmp0 (coat->step[i].role, "base") == 0);
}

/* An accent stands under its step: its colour, its row of the table, and its paint's caution. */
static void
test_accent (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsPlan) plan = ts_plan_copy (f->plan);
  g_autoptr (TsCard) card = NULL;
  g_autofree char *text = NULL;
  g_autoptr (TsCsv) csv = NULL;
  TsAccent *accent = ts_accent_new ("lip", 2, "Signal Red", 6);
  const char *words;
  TsRecipe mix, read;
  guint last;

  g_ptr_array_add (ts_plan_get_surface (plan, 1)->accents, accent);
  card = ts_card_new (plan, f->results, NULL, "today", TS_PAPER_A4, TS_LENGTH_CENTIMETRES);
  assert_true (ts_surface_result_mix_accent (g_ptr_array_index (f->results, 1), accent, &mix));
  assert_int_equal (count_pixels (f->card, mix.lab), 0);
  assert_true (count_pixels (card, mix.lab) >= 36);
  text = ts_card_to_csv (card);
  csv = ts_csv_parse (text, -1, "card", NULL);
  assert_int_equal (ts_csv_get_n_rows (csv), count_steps (f) + 1);
  last = ts_surface_result_get_n_steps (g_ptr_array_index (f->results, 0)) +
         ts_surface_result_get_n_steps (g_ptr_array_index (f->results, 1));
  assert_string_equal (ts_csv_get_cell (csv, last, ts_csv_find_column (csv, "role")),
                       "accent: lip");
  assert_string_equal (ts_csv_get_cell (csv, last, ts_csv_find_column (csv, "step")), "3");
  words = ts_csv_get_cell (csv, last, ts_csv_find_column (csv, "recipe"));
  assert_true (ts_recipe_parse (plan->paints, words, &read, NULL));
  assert_near (ts_delta_e_2000 (read.lab, mix.lab), 0.0, 1e-9);
}

/* How far down its last page a card reaches, pages above it counted whole. */
static double
find_end (const TsCard *card)
{
  double width, height;
  guint last = ts_card_get_n_pages (card) - 1;
  cairo_surface_t *surface;
  const guint32 *words;
  cairo_t *cr;
  guint stride, end = 0;

  ts_card_get_size (card, &width, &height);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
  words = (const guint32 *) (gpointer) cairo_image_surface_get_data (surface);
  stride = (guint) cairo_image_surface_get_stride (surface) / 4;
  cr = cairo_create (surface);
  ts_card_draw (card, last, cr);
  cairo_surface_flush (surface);
  /* The page's foot is the same on every card. */
  for (guint y = 0; y < (guint) height - 50; y++)
    for (guint x = 0; x < (guint) width; x++)
      if ((words[y * stride + x] & 0xff) < 0x80)
        end = y;
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return last * height + end;
}

/* Mixes that grow from one another bring their order of work, those that do not, none. */
static void
test_order_of_work (void **state)
{
  Fixture *f = *state;
  g_autoptr (GError) error = NULL;
  double end[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (TsPlan) plan = ts_plan_copy (f->plan);
      g_autoptr (GPtrArray) results = NULL;
      g_autoptr (TsCard) card = NULL;

      for (guint j = 0; j < plan->surfaces->len; j++)
        ts_plan_get_surface (plan, j)->together = TS_TOGETHER_APART;
      if (i == 1)
        ts_plan_get_surface (plan, 0)->together = TS_TOGETHER_BETWEEN;
      results = ts_pipeline_run (plan, NULL, NULL, NULL, &error);
      assert_no_error (error);
      card = ts_card_new (plan, results, NULL, "today", TS_PAPER_A4, TS_LENGTH_CENTIMETRES);
      end[i] = find_end (card);
    }
  /* A line of at least 10 points a step, and the title. */
  assert_true (end[1] - end[0] > 7 * 10.0);
}

static void
test_save (void **state)
{
  static const struct
  {
    const char *name, *start;
  } forms[] = {
    { "a.pdf", "%PDF-" }, { "b.svg", "<?xml" }, { "c.png", "\x89PNG" }, { "d.csv", "surface,step" }
  };
  Fixture *f = *state;
  char *folder = ts_test_make_folder ();
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      g_autofree char *path = g_build_filename (folder, forms[i].name, NULL);
      g_autofree char *text = NULL;

      assert_true (ts_card_save (f->card, path, &error));
      assert_true (g_file_get_contents (path, &text, NULL, NULL));
      assert_memory_equal (text, forms[i].start, strlen (forms[i].start));
    }
  /* The other pages of a form that holds one. */
  if (ts_card_get_n_pages (f->card) > 1)
    {
      g_autofree char *second = g_build_filename (folder, "c-2.png", NULL);

      assert_true (g_file_test (second, G_FILE_TEST_EXISTS));
    }
  assert_false (ts_card_save (f->card, "/nowhere/card.doc", &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_UNSUPPORTED));
  ts_test_remove_folder (folder);
}

/* A plan with nothing in it has a card all the same. */
static void
test_empty (void **state)
{
  g_autoptr (TsPlan) plan = ts_plan_new ();
  g_autoptr (GPtrArray) results = g_ptr_array_new ();
  g_autoptr (TsCard) card =
    ts_card_new (plan, results, NULL, NULL, TS_PAPER_LETTER, TS_LENGTH_CENTIMETRES);

  assert_int_equal (ts_card_get_n_pages (card), 1);
  assert_true (count_pixels (card, (TsLab){ 100.0, 0.0, 0.0 }) > 100000);
}

/* Each mark is a shape of its own: in grey print they still differ. */
static void
test_marks_differ (void **state)
{
  guint8 pictures[TS_MARK_CAUTION + 1][32 * 32];

  for (guint i = 0; i <= TS_MARK_CAUTION; i++)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 32, 32);
      cairo_t *cr = cairo_create (surface);

      ts_mark_draw (cr, (TsMark) i, 0.0, 0.0, 32.0);
      cairo_surface_flush (surface);
      assert_int_equal (cairo_image_surface_get_stride (surface), 32);
      memcpy (pictures[i], cairo_image_surface_get_data (surface), sizeof pictures[i]);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  for (guint i = 0; i <= TS_MARK_CAUTION; i++)
    for (guint j = 0; j < i; j++)
      {
        guint differ = 0;

        for (guint k = 0; k < sizeof pictures[i]; k++)
          differ += ABS (pictures[i][k] - pictures[j][k]) > 128;
        assert_true (differ > 40);
      }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_table),         cmocka_unit_test (test_chips),
    cmocka_unit_test (test_accent),        cmocka_unit_test (test_values),
    cmocka_unit_test (test_save),          cmocka_unit_test (test_empty),
    cmocka_unit_test (test_order_of_work), cmocka_unit_test (test_empty),
    cmocka_unit_test (test_marks_differ),
  };

  return cmocka_run_group_tests_name ("card", tests, set_up, tear_down);
}
