/* test-paint-fit.c: swatch files, the minimiser, the loss and its slopes, and calibration
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "paint/ts-lbfgs.h"
#include "paint/ts-paint-fit-loss.h"
#include "paint/ts-paint-fit-problem.h"
#include "paint/ts-paint-fit.h"
#include "ts-test.h"

static const char set_text[] = "# surface: k1=0.03 k2=0.6\n"
                               "name,kind,opacity,L,a,b\n"
                               "Chalk,paint,,96,0,2\n"
                               "Coal,paint,opaque,26,0,0\n"
                               "Rust,paint,,42,30,32\n"
                               "5 Fathom Blue,paint,transparent,30,8,-38\n"
                               "Clear,medium,,,,\n"
                               "Dark Ground,primer,,27,0,0\n";

static TsPaintSet *
read_set (void)
{
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_parse (set_text, -1, "set.csv", &error);

  assert_no_error (error);
  return set;
}

static GArray *
read_swatches (const TsPaintSet *set, const char *text)
{
  g_autoptr (GError) error = NULL;
  GArray *swatches = ts_swatches_parse (set, text, -1, "swatches.csv", &error);

  assert_no_error (error);
  return swatches;
}

static void
test_read_swatches (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (GArray) swatches =
    read_swatches (set, "recipe,coats,over,se,L,a,b\n"
                        "2 Rust + 1 chalk,,,,60,20,20\n"
                        "5 Fathom Blue,1.5,Dark Ground,0.5,28,4,-20\n"
                        "0.5 5 Fathom Blue + 3 Clear,1,95 0 2,,80,-2,-12\n");
  const TsSwatch *s = &g_array_index (swatches, TsSwatch, 0);
  TsSpectrum ground;

  assert_int_equal (swatches->len, 3);
  assert_int_equal (s[0].n_amounts, 2);
  assert_int_equal (s[0].amounts[0].paint, 2);
  assert_near (s[0].amounts[0].parts, 2.0, 0.0);
  assert_int_equal (s[0].amounts[1].paint, 0);
  assert_true (isinf (s[0].coats));
  assert_true (s[0].from_lab);
  assert_near (ts_delta_e_2000 (s[0].lab, (TsLab){ 60, 20, 20 }), 0.0, 1e-6);
  assert_int_equal (s[0].line, 2);

  assert_int_equal (s[1].n_amounts, 1);
  assert_int_equal (s[1].amounts[0].paint, 3);
  assert_near (s[1].amounts[0].parts, 1.0, 0.0);
  assert_near (s[1].coats, 1.5, 0.0);
  assert_near (s[1].se, 0.5, 0.0);
  assert_near (ts_spectrum_to_lab (&s[1].ground, TS_LIGHT_D50).L, 27.0, 0.01);

  assert_near (s[2].amounts[0].parts, 0.5, 0.0);
  assert_int_equal (s[2].amounts[0].paint, 3);
  assert_true (ts_spectrum_from_lab ((TsLab){ 95, 0, 2 }, &ground, NULL));
  assert_memory_equal (&s[2].ground, &ground, sizeof ground);
}

typedef struct
{
  const char *name;
  const char *text;
  TsError code;
  const char *says;
} RefuseCase;

static const RefuseCase refuse_cases[] = {
  { "no recipe column", "paint,L,a,b\nRust,40,0,0\n", TS_ERROR_FORMAT, "recipe" },
  { "no rows", "recipe,L,a,b\n", TS_ERROR_FORMAT, "rows" },
  { "unknown paint", "recipe,L,a,b\n2 Rost,40,0,0\n", TS_ERROR_NOT_FOUND, "Rost" },
  { "no parts", "recipe,L,a,b\n0 Rust,40,0,0\n", TS_ERROR_NOT_FOUND, "line 2" },
  { "nan parts", "recipe,L,a,b\nnan Rust,40,0,0\n", TS_ERROR_NOT_FOUND, "line 2" },
  { "empty recipe", "recipe,L,a,b\n,40,0,0\n", TS_ERROR_BAD_VALUE, "line 2" },
  { "nine paints",
    "recipe,L,a,b\nRust + Rust + Rust + Rust + Rust + Rust + Rust + Rust + Rust,40,0,0\n",
    TS_ERROR_BAD_VALUE, "1 to 8" },
  { "coats without ground", "recipe,coats,L,a,b\nRust,1,40,0,0\n", TS_ERROR_TOO_FEW, "ground" },
  { "no coats", "recipe,coats,over,L,a,b\nRust,0,Coal,40,0,0\n", TS_ERROR_BAD_VALUE, "line 2" },
  { "unknown ground", "recipe,coats,over,L,a,b\nRust,1,Sea,40,0,0\n", TS_ERROR_NOT_FOUND, "Sea" },
  { "ground of two numbers", "recipe,coats,over,L,a,b\nRust,1,40 0,40,0,0\n", TS_ERROR_NOT_FOUND,
    "95 0 2" },
  { "no colour", "recipe,L,a,b\nRust,,,\n", TS_ERROR_TOO_FEW, "no colour" },
  { "bad colour", "recipe,L,a,b\nRust,40,300,0\n", TS_ERROR_BAD_VALUE, "line 2" },
};

static void
test_refuse (void **state)
{
  const RefuseCase *c = *state;
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (GError) error = NULL;

  assert_null (ts_swatches_parse (set, c->text, -1, "swatches.csv", &error));
  assert_non_null (error);
  if (error->code != (int) c->code || strstr (error->message, c->says) == NULL)
    fail_msg ("code %d: %s", error->code, error->message);
}

/* Rosenbrock (1960) in 20 dimensions: the least is 0 at all ones. */
static double
rosenbrock (const double *x, double *gradient, gpointer user_data)
{
  const guint n = 20;
  double sum = 0.0;

  (*(guint *) user_data)++;
  memset (gradient, 0, n * sizeof *gradient);
  for (guint i = 0; i < n; i += 2)
    {
      double u = x[i + 1] - x[i] * x[i];
      double v = 1.0 - x[i];

      sum += 100.0 * u * u + v * v;
      gradient[i] += -400.0 * u * x[i] - 2.0 * v;
      gradient[i + 1] += 200.0 * u;
    }
  return sum;
}

static void
test_lbfgs (void **state)
{
  double x[20], least = 1.0;
  guint n_calls = 0;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 20; i++)
    x[i] = i % 2 == 0 ? -1.2 - 0.1 * i : 1.0;
  assert_true (ts_lbfgs_minimise (x, 20, rosenbrock, &n_calls, 500, NULL, &least, &error));
  assert_near (least, 0.0, 1e-8);
  for (guint i = 0; i < 20; i++)
    assert_near (x[i], 1.0, 1e-3);
  assert_in_range (n_calls, 20, 300);
}

/* The slopes by hand against differences, for films, thick layers and mixes, where K and S differ.
 */
static void
test_gradient (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (GArray) swatches = read_swatches (set, "recipe,coats,over,L,a,b\n"
                                                    "2 Rust + 1 Chalk,,,60,20,20\n"
                                                    "5 Fathom Blue,0.3,Chalk,50,0,-30\n"
                                                    "1 Rust + 2 Clear,2,Coal,35,12,10\n"
                                                    "Clear,1,95 0 2,94,0,2\n");
  g_autoptr (TsFitSetup) setup =
    ts_fit_setup_new (set, (const TsSwatch *) (const void *) swatches->data, swatches->len, 6);
  guint n = setup->problem.n_paints * TS_FIT_UNKNOWNS;
  g_autofree double *x = ts_fit_setup_dup_start (setup);
  g_autofree double *gradient = g_new (double, n);
  g_autofree double *other = g_new (double, n);
  guint n_steep = 0;
  double farthest = 0.0;

  assert_int_equal (setup->problem.n_paints, 4);
  for (guint i = 0; i < n; i++)
    x[i] += 0.3 * sin (1.7 * i);
  ts_fit_loss (x, gradient, &setup->problem);
  for (guint i = 0; i < n; i++)
    {
      const double h = 1e-5;
      double here = x[i], up, down;

      x[i] = here + h;
      up = ts_fit_loss (x, other, &setup->problem);
      x[i] = here - h;
      down = ts_fit_loss (x, other, &setup->problem);
      x[i] = here;
      assert_near ((up - down) / (2.0 * h), gradient[i], 1e-6 * (1.0 + fabs (gradient[i])));
      farthest =
        fmax (farthest, fabs ((up - down) / (2.0 * h) - gradient[i]) / (1.0 + fabs (gradient[i])));
      n_steep += fabs (gradient[i]) > 1e-3;
    }
  print_message ("slopes by hand from differences: %.1e at most, of %u\n", farthest, n);
  assert_true (n_steep > n / 2);
}

/* Another set, whose paints differ from what was known of them, paints the swatches. */
static TsPaintSet *
make_truth (void)
{
  g_autoptr (GString) text = g_string_new ("# surface: k1=0.03 k2=0.6\nname");
  static const char *const names[] = { "Chalk", "Coal", "Rust", "5 Fathom Blue" };
  static const double S_of[] = { 8.0, 0.5, 2.0, 0.6 };
  g_autoptr (TsPaintSet) known = read_set ();
  g_autoptr (GError) error = NULL;
  TsPaintSet *truth;

  for (guint i = 0; i < 2 * TS_BANDS; i++)
    g_string_append_printf (text, ",%c%u", i < TS_BANDS ? 'K' : 'S',
                            TS_BAND_FIRST + TS_BAND_STEP * (i % TS_BANDS));
  for (guint p = 0; p < 4; p++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (known, p);

      g_string_append_printf (text, "\n%s", names[p]);
      for (guint i = 0; i < 2 * TS_BANDS; i++)
        {
          double ratio =
            ts_paint_get_K (paint)->band[i % TS_BANDS] / ts_paint_get_S (paint)->band[i % TS_BANDS];

          g_string_append_printf (text, ",%.9g", i < TS_BANDS ? ratio * S_of[p] : S_of[p]);
        }
    }
  truth = ts_paint_set_parse (text->str, -1, "truth", &error);
  assert_no_error (error);
  return truth;
}

/* The loss is built on the same optics as the predictions: without prior or miss it vanishes. */
static void
test_loss_of_truth (void **state)
{
  g_autoptr (TsPaintSet) set = make_truth ();
  TsSwatch swatches[2] = {
    { .n_amounts = 2, .amounts = { { 0, 2.0 }, { 2, 1.0 } }, .coats = (double) INFINITY },
    { .n_amounts = 2, .amounts = { { 0, 1.0 }, { 2, 3.0 } }, .coats = 0.4 },
  };
  g_autoptr (TsFitSetup) setup = NULL;
  g_autofree double *x = NULL;
  g_autofree double *gradient = g_new (double, 2 * TS_FIT_UNKNOWNS);
  TsFitProblem problem;
  TsFitPaint *free_paints;
  double roughness, loss;

  for (guint b = 0; b < TS_BANDS; b++)
    swatches[1].ground.band[b] = 0.1 + 0.02 * b;
  for (guint s = 0; s < 2; s++)
    swatches[s].lab = ts_swatch_predict (set, &swatches[s], &swatches[s].reflectance);
  setup = ts_fit_setup_new (set, swatches, 2, 6);
  x = ts_fit_setup_dup_start (setup);
  problem = setup->problem;
  free_paints = g_memdup2 (problem.paints, problem.n_paints * sizeof *free_paints);
  problem.paints = free_paints;
  loss = ts_fit_loss (x, gradient, &problem);
  problem.n_swatches = 0;
  roughness = ts_fit_loss (x, gradient, &problem);
  g_free (free_paints);
  assert_near (loss - roughness, 0.0, 1e-12);
}

/* Tints and pairs, as true paints would give them. */
static GArray *
paint_swatches (const TsPaintSet *truth, gboolean all)
{
  static const double parts[][4] = {
    { 1, 0, 0, 0 }, { 0, 1, 0, 0 }, { 0, 0, 1, 0 }, { 0, 0, 0, 1 }, { 2, 1, 0, 0 }, { 2, 0, 1, 0 },
    { 2, 0, 0, 1 }, { 0, 1, 2, 0 }, { 0, 0, 1, 1 }, { 5, 1, 0, 0 }, { 1, 0, 3, 0 }, { 6, 0, 0, 1 },
  };
  GArray *swatches = g_array_new (FALSE, FALSE, sizeof (TsSwatch));

  for (gsize r = 0; r < (all ? G_N_ELEMENTS (parts) : 4); r++)
    {
      TsSwatch swatch = { .coats = (double) INFINITY };

      for (guint p = 0; p < 4; p++)
        if (parts[r][p] > 0.0)
          swatch.amounts[swatch.n_amounts++] = (TsAmount){ p, parts[r][p] };
      swatch.lab = ts_swatch_predict (truth, &swatch, &swatch.reflectance);
      g_array_append_val (swatches, swatch);
    }
  return swatches;
}

/* Mean miss of mixes that nobody painted. */
static double
mean_miss (const TsPaintSet *set, const TsPaintSet *truth)
{
  static const double parts[][4] = {
    { 3, 1, 1, 0 }, { 3, 0, 1, 2 }, { 1, 1, 0, 4 }, { 4, 1, 0, 1 }, { 0, 1, 1, 1 },
  };
  double sum = 0.0;

  for (gsize r = 0; r < G_N_ELEMENTS (parts); r++)
    {
      TsSwatch swatch = { .coats = (double) INFINITY };

      for (guint p = 0; p < 4; p++)
        if (parts[r][p] > 0.0)
          swatch.amounts[swatch.n_amounts++] = (TsAmount){ p, parts[r][p] };
      sum += ts_delta_e_2000 (ts_swatch_predict (set, &swatch, NULL),
                              ts_swatch_predict (truth, &swatch, NULL));
    }
  return sum / G_N_ELEMENTS (parts);
}

static TsPaintFit *
fit (const TsPaintSet *set, const GArray *swatches)
{
  g_autoptr (GError) error = NULL;
  TsPaintFit *self = ts_paint_fit_new (set, (const TsSwatch *) (const void *) swatches->data,
                                       swatches->len, NULL, NULL, NULL, &error);

  assert_no_error (error);
  return self;
}

static void
test_fit_finds_truth (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintSet) truth = make_truth ();
  g_autoptr (GArray) swatches = paint_swatches (truth, TRUE);
  g_autoptr (TsPaintFit) result = fit (set, swatches);
  g_autoptr (TsPaintFit) again = fit (set, swatches);
  g_autofree char *text = ts_paint_set_to_csv (ts_paint_fit_get_set (result));
  g_autofree char *text_again = ts_paint_set_to_csv (ts_paint_fit_get_set (again));
  const TsFitReport *report = ts_paint_fit_get_report (result);
  double before = mean_miss (set, truth);
  double after = mean_miss (ts_paint_fit_get_set (result), truth);
  const TsFitMove *moves;
  guint n_moves;

  print_message ("mixes nobody painted: %.2f before, %.2f after\n", before, after);
  assert_true (before > 5.0);
  assert_true (after < 1.5);
  assert_true (report->before_median > 3.0);
  assert_true (report->after_median < 0.7);
  assert_int_equal (report->n_left_out, 8);
  /* Same start, same result. */
  assert_string_equal (text, text_again);

  moves = ts_paint_fit_get_moves (result, &n_moves);
  assert_int_equal (n_moves, 4);
  for (guint i = 0; i < n_moves; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (ts_paint_fit_get_set (result), moves[i].paint);

      assert_int_equal (ts_paint_get_source (paint), TS_SOURCE_CALIBRATED);
      assert_near (ts_paint_get_error (paint), moves[i].error, 0.06 * moves[i].error);
      assert_true (moves[i].n_swatches >= 4);
    }
  /* Mixes that hide tell strengths against white's, and no absolute ones. */
  for (guint i = 1; i < n_moves; i++)
    {
      double truth_to_white = ts_paint_get_K (ts_paint_set_get_paint (truth, i))->band[15] /
                              ts_paint_get_S (ts_paint_set_get_paint (truth, 0))->band[15];
      double known_to_white = ts_paint_get_K (ts_paint_set_get_paint (set, i))->band[15] /
                              ts_paint_get_S (ts_paint_set_get_paint (set, 0))->band[15];

      assert_near (log (moves[i].K_factor / moves[0].S_factor),
                   log (truth_to_white / known_to_white), log (1.3));
    }
}

static void
test_refined_set_reads_back (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintSet) truth = make_truth ();
  g_autoptr (GArray) swatches = paint_swatches (truth, TRUE);
  g_autoptr (TsPaintFit) result = fit (set, swatches);
  g_autofree char *text = ts_paint_set_to_csv (ts_paint_fit_get_set (result));
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) back = ts_paint_set_parse (text, -1, "back", &error);
  g_autofree char *text_back = NULL;

  assert_no_error (error);
  text_back = ts_paint_set_to_csv (back);
  assert_string_equal (text, text_back);
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (back, 0)), TS_SOURCE_CALIBRATED);
  /* What no swatch holds stays as it was. */
  assert_int_equal (ts_paint_get_source (ts_paint_set_get_paint (back, 5)), TS_SOURCE_WORD);
  assert_memory_equal (ts_paint_get_K (ts_paint_set_get_paint (back, 5)),
                       ts_paint_get_K (ts_paint_set_get_paint (set, 5)), sizeof (TsSpectrum));
}

/* One reading that belongs to another mix is named, and no other. */
static void
test_suspect_is_named (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintSet) truth = make_truth ();
  g_autoptr (GArray) swatches = paint_swatches (truth, TRUE);
  g_autoptr (TsPaintFit) result = NULL;
  const TsFitResidual *residuals;
  TsSwatch *swapped = &g_array_index (swatches, TsSwatch, 9);
  guint n;

  *swapped = g_array_index (swatches, TsSwatch, 11);
  swapped->amounts[1].paint = 1;
  result = fit (set, swatches);
  residuals = ts_paint_fit_get_residuals (result, &n);
  assert_int_equal (n, swatches->len);
  for (guint s = 0; s < n; s++)
    if (residuals[s].suspect != (s == 9))
      fail_msg ("swatch %u: %.2f", s, residuals[s].after);
}

static void
test_without_mixes (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintSet) truth = make_truth ();
  g_autoptr (GArray) swatches = paint_swatches (truth, FALSE);
  g_autoptr (TsPaintFit) result = fit (set, swatches);
  const TsFitMove *moves;
  guint n_moves;

  assert_int_equal (ts_paint_fit_get_report (result)->n_left_out, 0);
  assert_true (isnan (ts_paint_fit_get_report (result)->left_out_median));
  moves = ts_paint_fit_get_moves (result, &n_moves);
  assert_int_equal (n_moves, 4);
  for (guint i = 0; i < n_moves; i++)
    assert_true (moves[i].error >= 10.0); /* one thick swatch tells no strength */
}

/* Readings that no paint can give: the fit ends, and what it gives is finite and reads back. */
static void
test_nonsense (void **state)
{
  static const double readings[] = { 0.0, 1.0, 0.5, 1e-9 };
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (GRand) random = g_rand_new_with_seed (7);

  for (guint round = 0; round < 20; round++)
    {
      g_autoptr (GArray) swatches = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
      g_autoptr (TsPaintFit) result = NULL;
      const TsFitResidual *residuals;
      guint n;

      for (guint s = 0; s < 6; s++)
        {
          TsSwatch swatch = { .coats = s % 2 == 0 ? (double) INFINITY : s % 3 == 0 ? 100.0 : 0.01 };

          swatch.n_amounts = (guint) g_rand_int_range (random, 1, 4);
          for (guint i = 0; i < swatch.n_amounts; i++)
            swatch.amounts[i] = (TsAmount){ (guint) g_rand_int_range (random, 0, 6),
                                            g_rand_double_range (random, 0.01, 1000.0) };
          for (guint b = 0; b < TS_BANDS; b++)
            {
              swatch.reflectance.band[b] = readings[g_rand_int_range (random, 0, 4)];
              swatch.ground.band[b] = readings[g_rand_int_range (random, 0, 4)];
            }
          swatch.lab = ts_spectrum_to_lab (&swatch.reflectance, TS_LIGHT_D50);
          g_array_append_val (swatches, swatch);
        }
      result = fit (set, swatches);
      assert_non_null (ts_paint_fit_get_set (result));
      residuals = ts_paint_fit_get_residuals (result, &n);
      for (guint s = 0; s < n; s++)
        assert_true (isfinite (residuals[s].before) && isfinite (residuals[s].after));
    }
}

typedef struct
{
  guint n;
  double last;
  gboolean ordered;
} Progress;

static void
on_progress (double done, gpointer user_data)
{
  Progress *progress = user_data;

  progress->ordered &= done >= progress->last && done <= 1.0;
  progress->last = done;
  progress->n++;
}

static void
test_progress (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintSet) truth = make_truth ();
  g_autoptr (GArray) swatches = paint_swatches (truth, TRUE);
  g_autoptr (GError) error = NULL;
  Progress progress = { 0, 0.0, TRUE };
  g_autoptr (TsPaintFit) fit =
    ts_paint_fit_new (set, (const TsSwatch *) (const void *) swatches->data, swatches->len, NULL,
                      on_progress, &progress, &error);

  assert_no_error (error);
  assert_non_null (fit);
  assert_true (progress.ordered);
  assert_near (progress.last, 1.0, 1e-12);
  /* News within each fit, not only at its end. */
  assert_true (progress.n > 50);
}

static void
test_none_and_cancelled (void **state)
{
  g_autoptr (TsPaintSet) set = read_set ();
  g_autoptr (TsPaintSet) truth = make_truth ();
  g_autoptr (GArray) swatches = paint_swatches (truth, TRUE);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) none = NULL;
  g_autoptr (GError) stopped = NULL;

  assert_null (ts_paint_fit_new (set, NULL, 0, NULL, NULL, NULL, &none));
  assert_true (g_error_matches (none, TS_ERROR, TS_ERROR_TOO_FEW));
  g_cancellable_cancel (cancellable);
  assert_null (ts_paint_fit_new (set, (const TsSwatch *) (const void *) swatches->data,
                                 swatches->len, cancellable, NULL, NULL, &stopped));
  assert_true (g_error_matches (stopped, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

int
main (void)
{
  const struct CMUnitTest plain[] = {
    cmocka_unit_test (test_read_swatches),      cmocka_unit_test (test_lbfgs),
    cmocka_unit_test (test_gradient),           cmocka_unit_test (test_loss_of_truth),
    cmocka_unit_test (test_fit_finds_truth),    cmocka_unit_test (test_refined_set_reads_back),
    cmocka_unit_test (test_suspect_is_named),   cmocka_unit_test (test_without_mixes),
    cmocka_unit_test (test_none_and_cancelled), cmocka_unit_test (test_nonsense),
    cmocka_unit_test (test_progress),
  };
  struct CMUnitTest refuse[G_N_ELEMENTS (refuse_cases)] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (refuse_cases); i++)
    {
      refuse[i].name = refuse_cases[i].name;
      refuse[i].test_func = test_refuse;
      refuse[i].initial_state = (void *) &refuse_cases[i];
    }
  return cmocka_run_group_tests_name ("paint/fit", plain, NULL, NULL) +
         cmocka_run_group_tests_name ("paint/swatches refuse", refuse, NULL, NULL);
}
