/* test-card.c: the mixing card of the demo plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <math.h>
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

/* How often two edges of the field lie about a pair of chips in a column, and how much of the field
 * shows within them. */
static void
look_down (const guint32 *words, guint stride, guint height, double scale, guint *n_pairs,
           guint *n_seams)
{
  guint last = 0, inside = 0;

  for (guint y = 0; y < height; y++)
    {
      guint n = 0;

      while (y + n < height && (words[(y + n) * stride] & 0xffffff) == 0x777777)
        n++;
      if (n == 0)
        continue;
      if (n < 2)
        {
          inside++;
          continue;
        }
      if (last > 0 && fabs ((y - last) - 34.0 * scale) < 3.0)
        {
          (*n_pairs)++;
          *n_seams += inside;
        }
      y += n - 1;
      last = y + 1;
      inside = 0;
    }
}

/* A page is drawn at whatever size it is looked at. */
static void
test_chips_touch (void **state)
{
  Fixture *f = *state;
  guint n_pairs = 0, n_seams = 0, n_sizes = 0;
  double width, height;

  ts_card_get_size (f->card, &width, &height);
  for (int pixels = 500; pixels < 600; pixels += 8, n_sizes++)
    {
      double scale = pixels / width;
      cairo_surface_t *surface =
        cairo_image_surface_create (CAIRO_FORMAT_RGB24, pixels, (int) (height * scale));
      const guint32 *words = (const guint32 *) (gpointer) cairo_image_surface_get_data (surface);
      cairo_t *cr = cairo_create (surface);

      cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
      cairo_paint (cr);
      cairo_scale (cr, scale, scale);
      ts_card_draw (f->card, 0, cr);
      cairo_surface_flush (surface);
      /* Where the first step's chips are. */
      look_down (words + (guint) (80.0 * scale),
                 (guint) cairo_image_surface_get_stride (surface) / 4, (guint) (height * scale),
                 scale, &n_pairs, &n_seams);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  assert_true (n_pairs >= 3 * n_sizes);
  assert_int_equal (n_seams, 0);
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

/* The card of the demo's plan with all mixes found one by one, and changed by @change. */
static TsCard *
make_card (const Fixture *f, void (*change) (TsPlan *plan))
{
  g_autoptr (TsPlan) plan = ts_plan_copy (f->plan);
  g_autoptr (GPtrArray) results = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < plan->surfaces->len; i++)
    ts_plan_get_surface (plan, i)->together = TS_TOGETHER_APART;
  if (change != NULL)
    change (plan);
  results = ts_pipeline_run (plan, NULL, NULL, NULL, &error);
  assert_no_error (error);
  return ts_card_new (plan, results, NULL, "today", TS_PAPER_A4, TS_LENGTH_CENTIMETRES);
}

static void
choose_together (TsPlan *plan)
{
  ts_plan_get_surface (plan, 0)->together = TS_TOGETHER_BETWEEN;
}

static void
say_area (TsPlan *plan)
{
  ts_plan_get_surface (plan, 0)->area = 500.0;
}

static void
say_coats (TsPlan *plan)
{
  ts_plan_get_surface (plan, 0)->coats = 3.0;
}

static void
tick_off (TsPlan *plan)
{
  ts_plan_get_surface (plan, 0)->done = g_strdupv ((char *[]){ (char *) "a work", NULL });
}

static void
untick (TsPlan *plan)
{
  ts_plan_get_surface (plan, 0)->done = g_new0 (char *, 1);
}

static void
ask_for_all (TsPlan *plan)
{
  plan->card_work = TRUE;
}

/* Mixes that grow from one another bring their order of work, and those that the painter has begun
 * to plan; others none, until it is asked for. The table of recipes is the same. */
static void
test_order_of_work (void **state)
{
  void (*const changes[]) (TsPlan * plan) = { choose_together, say_area, say_coats, tick_off };
  Fixture *f = *state;
  g_autoptr (TsCard) plain = make_card (f, NULL), unticked = make_card (f, untick);
  g_autoptr (TsCard) all = make_card (f, ask_for_all);
  g_autofree char *table = ts_card_to_csv (plain), *table_of_all = ts_card_to_csv (all);
  double end = find_end (plain);

  /* A line of at least 10 points a step, and the title. */
  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      g_autoptr (TsCard) card = make_card (f, changes[i]);

      assert_true (find_end (card) - end > 7 * 10.0);
    }
  assert_near (find_end (unticked), end, 0.5);
  assert_true (find_end (all) - end > count_steps (f) * 10.0);
  assert_string_equal (table, table_of_all);
}

/* Dark points in a column of the page where the boxes' inner sides are: ticks. */
static guint
count_in_boxes (const TsCard *card)
{
  double width, height;
  guint n = 0;

  ts_card_get_size (card, &width, &height);
  for (guint page = 0; page < ts_card_get_n_pages (card); page++)
    {
      cairo_surface_t *surface =
        cairo_image_surface_create (CAIRO_FORMAT_RGB24, 4 * (int) width, 4 * (int) height);
      const guint32 *words = (const guint32 *) (gpointer) cairo_image_surface_get_data (surface);
      cairo_t *cr = cairo_create (surface);
      guint stride = (guint) cairo_image_surface_get_stride (surface) / 4;

      cairo_scale (cr, 4.0, 4.0);
      ts_card_draw (card, page, cr);
      cairo_surface_flush (surface);
      for (guint y = 0; y < 4 * (guint) height - 200; y++)
        for (guint x = 4 * 49; x < 4 * 51; x++)
          n += (words[y * stride + x] & 0xff) < 0x30;
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  return n;
}

/* All of the first surface's work. */
static void
tick_all (TsPlan *plan)
{
  g_autoptr (GPtrArray) results = ts_pipeline_run (plan, NULL, NULL, NULL, NULL);
  TsSurfaceResult *result = g_ptr_array_index (results, 0);
  g_autoptr (TsMixingSequence) sequence = ts_surface_result_sequence (result, plan, 0);
  g_autoptr (GStrvBuilder) done = g_strv_builder_new ();

  for (guint i = 0; i < ts_mixing_sequence_get_n (sequence); i++)
    {
      g_autofree char *key = ts_work_to_key (ts_mixing_sequence_get_work (sequence, i),
                                             ts_surface_result_get_paints (result));

      g_strv_builder_add (done, key);
    }
  ts_plan_get_surface (plan, 0)->done = g_strv_builder_end (done);
}

/* What is ticked off in the plan is ticked on the card. */
static void
test_ticks (void **state)
{
  Fixture *f = *state;
  g_autoptr (TsCard) open = make_card (f, tick_off), done = make_card (f, tick_all);

  assert_true (count_in_boxes (done) > count_in_boxes (open) + 7 * 10);
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
    cmocka_unit_test (test_order_of_work), cmocka_unit_test (test_ticks),
    cmocka_unit_test (test_marks_differ),  cmocka_unit_test (test_chips_touch),
  };

  return cmocka_run_group_tests_name ("card", tests, set_up, tear_down);
}
