/* bench-calibrate.c: how long a calibration takes, beside predicting its swatches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-calibrate: prints seconds of the processor, and the time over that of one plain prediction
 * of every swatch.
 */
#include <math.h>
#include <stdio.h>
#include <time.h>

#include "colour/ts-difference.h"
#include "invented-paints.h"
#include "paint/ts-paint-fit.h"
#include "paint/ts-paint-teach.h"

/* Each paint alone, then pairs; films of one coat over white, as another set would have them. */
static GArray *
paint_swatches (const TsPaintSet *truth, guint n_paints, guint n, GRand *random)
{
  GArray *swatches = g_array_new (FALSE, FALSE, sizeof (TsSwatch));

  for (guint s = 0; s < n; s++)
    {
      TsSwatch swatch = { .n_amounts = s < 2 * n_paints ? 1 : 2, .coats = 1.0 + s % 2 };
      guint one =
        s < 2 * n_paints ? s % n_paints : (guint) g_rand_int_range (random, 0, (gint32) n_paints);

      swatch.amounts[0] = (TsAmount){ one, 1.0 };
      swatch.amounts[1] = (TsAmount){ (one + 1 + s % (n_paints - 1)) % n_paints, 1.0 + s % 3 };
      for (guint b = 0; b < TS_BANDS; b++)
        swatch.ground.band[b] = 0.85;
      swatch.lab = ts_swatch_predict (truth, &swatch, &swatch.reflectance);
      g_array_append_val (swatches, swatch);
    }
  return swatches;
}

/* Of this program's processor time: others may share the machine. */
static double
seconds_since (clock_t start)
{
  return (double) (clock () - start) / CLOCKS_PER_SEC;
}

static double
time_predictions (const TsPaintSet *set, const GArray *swatches)
{
  clock_t start = clock ();
  guint rounds = 0;

  for (; seconds_since (start) < 0.2; rounds++)
    for (guint s = 0; s < swatches->len; s++)
      ts_swatch_predict (set, &g_array_index (swatches, TsSwatch, s), NULL);
  return seconds_since (start) / rounds;
}

static void
tell (double done, gpointer user_data)
{
  ++*(guint *) user_data;
}

static void
run (guint n_paints, guint n_swatches)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  InventedPaints *start = invented_paints_new (n_paints, 1);
  InventedPaints *truth = invented_paints_new (n_paints, 2);
  g_autoptr (GArray) swatches = paint_swatches (truth->set, n_paints, n_swatches, random);
  const TsSwatch *data = (const TsSwatch *) (const void *) swatches->data;
  double plain = time_predictions (start->set, swatches), fit, teach;
  clock_t begun = clock ();
  guint n_told = 0;
  g_autoptr (TsPaintFit) result =
    ts_paint_fit_new (start->set, data, swatches->len, NULL, tell, &n_told, NULL);
  g_autoptr (GArray) next = NULL;

  fit = seconds_since (begun);
  begun = clock ();
  next =
    ts_paint_teach (ts_paint_fit_get_set (result), data, swatches->len, NULL, 0, 10, NULL, NULL);
  teach = seconds_since (begun);
  printf (
    "%u paints, %u swatches: calibrated in %.2f s (%.0f plain predictions), told %u times how "
    "far; ten next mixes in %.2f s (%.0f)\n",
    n_paints, n_swatches, fit, fit / plain, n_told, teach, teach / plain);
  invented_paints_free (start);
  invented_paints_free (truth);
}

int
main (void)
{
  run (13, 503);
  run (60, 300);
  return 0;
}
