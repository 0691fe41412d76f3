/* ts-paint-fit.c: refining a set's paints by the painter's own test swatches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-fit.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "paint/ts-lbfgs.h"
#include "paint/ts-paint-fit-problem.h"
#include "paint/ts-paint-private.h"
#include "paint/ts-paint-set-private.h"

#define MAX_ITERATIONS 200
#define HALF_A_FIT 90.0 /* evaluations after which half of a fit is told to be done */
#define LEAST_K_S 1e-6  /* per coat */
#define MOST_K_S 1e4
#define MAX_FOLDS 6
#define ENOUGH_LEFT_OUT 6 /* mixes left out that make a figure of their own */
#define TO_95 1.12        /* from the 90 % radius, as for a normal error in three dimensions */
#define LEAST_ERROR 4.0   /* the law itself and the reading: 2 to 3 in the middle (see tests) */
#define MOST_ERROR 50.0   /* beyond that nothing is known at all */
#define SUSPECT_FROM 6.0
#define SUSPECT_TIMES 4.0 /* the median */

struct _TsPaintFit
{
  /* Owned */
  TsPaintSet *set;
  TsFitMove *moves;
  TsFitResidual *residuals;

  guint n_moves;
  guint n_residuals;
  TsFitReport report;
};

/* Fits under way. */
typedef struct
{
  TsFitSetup *setup;
  TsFitProblem *problem; /* borrowed: the one that is fitted now */
  GCancellable *cancellable;
  TsProgressFunc progress;
  gpointer progress_data;
  guint n_fits; /* in all */
  guint n_done;
  guint n_calls; /* of the loss, in this fit */
} Run;

static int
compare_doubles (gconstpointer one, gconstpointer other)
{
  double a = *(const double *) one;
  double b = *(const double *) other;

  return (a > b) - (a < b);
}

/* The value below which @share of the finite ones of @values lie, or NaN where there are none.
 * Counts them in @n_finite. */
static double
quantile (const double *values, guint n, double share, guint *n_finite)
{
  g_autofree double *sorted = g_new (double, MAX (n, 1));
  double place;
  guint count = 0, below;

  for (guint i = 0; i < n; i++)
    if (isfinite (values[i]))
      sorted[count++] = values[i];
  if (n_finite != NULL)
    *n_finite = count;
  if (count == 0)
    return (double) NAN;

  qsort (sorted, count, sizeof *sorted, compare_doubles);
  place = share * (count - 1);
  below = MIN ((guint) place, count - 1);
  return sorted[below] + (place - below) * (sorted[MIN (below + 1, count - 1)] - sorted[below]);
}

static void
tell_progress (const Run *run, double of_this)
{
  if (run->progress != NULL)
    run->progress ((run->n_done + of_this) / run->n_fits, run->progress_data);
}

/* How many steps a fit takes is not known beforehand: what is told of it nears its end ever more
 * slowly, and jumps the rest when it is there. */
static double
loss_and_progress (const double *x, double *gradient, gpointer user_data)
{
  Run *run = user_data;

  run->n_calls++;
  tell_progress (run, run->n_calls / (run->n_calls + HALF_A_FIT));
  return ts_fit_loss (x, gradient, run->problem);
}

/* Fits to all swatches but those of one fold (none where @fold is negative), from @x on. */
static gboolean
fit_without (Run *run, int fold, double *x, GError **error)
{
  TsFitProblem problem = run->setup->problem;
  g_autofree TsFitSwatch *kept = g_new (TsFitSwatch, problem.n_swatches);
  guint n_kept = 0;
  gboolean done;

  for (guint s = 0; s < problem.n_swatches; s++)
    if (fold < 0 || run->setup->folds[s] != fold)
      kept[n_kept++] = problem.swatches[s];
  problem.swatches = kept;
  problem.n_swatches = n_kept;

  run->problem = &problem;
  run->n_calls = 0;
  done = ts_lbfgs_minimise (x, problem.n_paints * TS_FIT_UNKNOWNS, loss_and_progress, run,
                            MAX_ITERATIONS, run->cancellable, NULL, error);
  run->problem = NULL;
  run->n_done++;
  if (done)
    tell_progress (run, 0.0);
  return done;
}

/* Nonsense among the swatches may send a number anywhere; a set holds K and S of possible paints.
 */
static double
possible (double log_value)
{
  return CLAMP (exp (log_value), LEAST_K_S, MOST_K_S);
}

/* The set with the K and S of @x. */
static TsPaintSet *
refined_set (const TsFitSetup *setup, const TsPaintSet *set, const double *x, const double *within)
{
  guint n = setup->problem.n_paints;
  g_autofree TsSpectrum *K = g_new (TsSpectrum, n);
  g_autofree TsSpectrum *S = g_new (TsSpectrum, n);

  for (guint p = 0; p < n; p++)
    for (guint b = 0; b < TS_BANDS; b++)
      {
        K[p].band[b] = possible (x[p * TS_FIT_UNKNOWNS + b]);
        S[p].band[b] = possible (x[p * TS_FIT_UNKNOWNS + TS_BANDS + b]);
      }
  return ts_paint_set_with_refined (set, setup->paints, n, K, S, within);
}

static double
miss (const TsPaintSet *set, const TsSwatch *swatch)
{
  return ts_delta_e_2000 (ts_swatch_predict (set, swatch, NULL), swatch->lab);
}

/* Predicts the mixes of each fold by a fit that has not seen them. */
static gboolean
leave_out (Run *run, const TsPaintSet *set, const TsSwatch *swatches, TsFitResidual *residuals,
           GError **error)
{
  TsFitSetup *setup = run->setup;

  for (int fold = 0; fold < (int) setup->n_folds; fold++)
    {
      g_autofree double *x = ts_fit_setup_dup_start (setup);
      g_autoptr (TsPaintSet) refined = NULL;

      if (!fit_without (run, fold, x, error))
        return FALSE;
      refined = refined_set (setup, set, x, NULL);
      for (guint s = 0; s < setup->n_swatches; s++)
        if (setup->folds[s] == fold)
          residuals[s].left_out = miss (refined, &swatches[s]);
    }
  return TRUE;
}

static gboolean
holds_paint (const TsSwatch *swatch, guint paint)
{
  for (guint i = 0; i < swatch->n_amounts; i++)
    if (swatch->amounts[i].paint == paint)
      return TRUE;
  return FALSE;
}

/* What a paint's mixes may be off by from now on: what was seen on mixes left out, of this paint or
 * at least of all; else by what the paint was painted in. */
static double
error_of (const TsPaintFit *self, const TsPaintSet *set, const TsSwatch *swatches, guint paint)
{
  g_autofree double *left_out = g_new (double, self->n_residuals);
  TsPaintKind kind = ts_paint_get_kind (ts_paint_set_get_paint (set, paint));
  double radius, least = ts_paint_source_error (TS_SOURCE_MASSTONE, kind);
  guint n_alone = 0, n_left_out;

  for (guint s = 0; s < self->n_residuals; s++)
    {
      gboolean holds = holds_paint (&swatches[s], paint);

      left_out[s] = holds ? self->residuals[s].left_out : (double) NAN;
      n_alone += holds && swatches[s].n_amounts == 1;
      if (holds && swatches[s].n_amounts > 1)
        least = MIN (least, ts_paint_source_error (TS_SOURCE_TINTS, kind));
    }
  if (n_alone > 1)
    least = MIN (least, ts_paint_source_error (TS_SOURCE_CALIBRATED, kind));

  radius = quantile (left_out, self->n_residuals, 0.9, &n_left_out);
  if (n_left_out < ENOUGH_LEFT_OUT)
    {
      radius = self->report.left_out_90;
      n_left_out = self->report.n_left_out;
    }
  radius = n_left_out < ENOUGH_LEFT_OUT ? least : CLAMP (TO_95 * radius, LEAST_ERROR, MOST_ERROR);
  return kind == TS_PAINT_METALLIC
           ? MAX (radius, ts_paint_source_error (TS_SOURCE_CALIBRATED, kind))
           : radius;
}

/* exp (mean (log (after / before))), bands of no size left out. */
static double
mean_factor (const TsSpectrum *before, const TsSpectrum *after)
{
  double sum = 0.0;
  guint n = 0;

  for (guint b = 0; b < TS_BANDS; b++)
    if (before->band[b] > 0.0 && after->band[b] > 0.0)
      {
        sum += log (after->band[b] / before->band[b]);
        n++;
      }
  return n == 0 ? 1.0 : exp (sum / n);
}

static void
fill_move (TsPaintFit *self, const TsPaintSet *set, const TsSwatch *swatches, TsFitMove *move)
{
  const TsPaint *before = ts_paint_set_get_paint (set, move->paint);
  const TsPaint *after = ts_paint_set_get_paint (self->set, move->paint);

  for (guint s = 0; s < self->n_residuals; s++)
    move->n_swatches += holds_paint (&swatches[s], move->paint);
  move->moved = ts_delta_e_2000 (ts_paint_get_masstone (before), ts_paint_get_masstone (after));
  move->K_factor = mean_factor (ts_paint_get_K (before), ts_paint_get_K (after));
  move->S_factor = mean_factor (ts_paint_get_S (before), ts_paint_get_S (after));
}

static void
fill_report (TsPaintFit *self, const TsPaintSet *before, const TsPaintSet *after,
             const TsSwatch *swatches)
{
  guint n = self->n_residuals;
  g_autofree double *was = g_new (double, n);
  g_autofree double *is = g_new (double, n);
  g_autofree double *out = g_new (double, n);
  TsFitReport *report = &self->report;

  for (guint s = 0; s < n; s++)
    {
      was[s] = self->residuals[s].before = miss (before, &swatches[s]);
      is[s] = self->residuals[s].after = miss (after, &swatches[s]);
      out[s] = self->residuals[s].left_out;
    }
  report->before_median = quantile (was, n, 0.5, NULL);
  report->before_90 = quantile (was, n, 0.9, NULL);
  report->after_median = quantile (is, n, 0.5, NULL);
  report->after_90 = quantile (is, n, 0.9, NULL);
  report->left_out_median = quantile (out, n, 0.5, &report->n_left_out);
  report->left_out_90 = quantile (out, n, 0.9, NULL);
  for (guint s = 0; s < n; s++)
    self->residuals[s].suspect = is[s] > MAX (SUSPECT_FROM, SUSPECT_TIMES * report->after_median);
}

/* The set with the final K and S, and all that is told of it. */
static void
finish (TsPaintFit *self, const TsFitSetup *setup, const TsPaintSet *set, const TsSwatch *swatches,
        const double *x)
{
  g_autofree double *within = g_new0 (double, setup->problem.n_paints);
  g_autoptr (TsPaintSet) refined = refined_set (setup, set, x, NULL);

  fill_report (self, set, refined, swatches);
  self->n_moves = setup->problem.n_paints;
  self->moves = g_new0 (TsFitMove, self->n_moves);
  for (guint p = 0; p < self->n_moves; p++)
    {
      self->moves[p].paint = setup->paints[p];
      self->moves[p].error = within[p] = error_of (self, set, swatches, setup->paints[p]);
    }
  self->set = refined_set (setup, set, x, within);
  for (guint p = 0; p < self->n_moves; p++)
    fill_move (self, set, swatches, &self->moves[p]);
}

static void
fit_clear (gpointer data)
{
  TsPaintFit *self = data;

  g_clear_pointer (&self->set, ts_paint_set_unref);
  g_free (self->moves);
  g_free (self->residuals);
}

/**
 * ts_paint_fit_new:
 * @set: the paints
 * @swatches: (array length=n_swatches): test swatches painted with them
 * @n_swatches: how many, at least 1
 * @cancellable: (nullable): to stop it
 * @progress: (scope call) (nullable): is told how far it is
 * @progress_data: handed to @progress
 * @error: return location for an error, or %NULL
 *
 * Finds the K and S of every paint in the swatches that explain them best, near what the set says
 * already as far as that is known. Where at least two kinds of mix are among them, each is also
 * predicted by a fit without it. Up to seven fits; for 500 swatches about a third of a second each.
 *
 * Returns: (transfer full) (nullable): the refined set and its report, or %NULL with
 *   %TS_ERROR_TOO_FEW set without swatches, or %G_IO_ERROR_CANCELLED
 */
TsPaintFit *
ts_paint_fit_new (const TsPaintSet *set, const TsSwatch *swatches, guint n_swatches,
                  GCancellable *cancellable, TsProgressFunc progress, gpointer progress_data,
                  GError **error)
{
  g_autoptr (TsPaintFit) self = NULL;
  g_autoptr (TsFitSetup) setup = NULL;
  g_autofree double *x = NULL;
  Run run;

  if (n_swatches == 0)
    {
      g_set_error_literal (error, TS_ERROR, TS_ERROR_TOO_FEW,
                           _ ("There is no swatch to refine the paints by; paint and measure one"));
      return NULL;
    }
  setup = ts_fit_setup_new (set, swatches, n_swatches, MAX_FOLDS);
  run = (Run){ .setup = setup,
               .cancellable = cancellable,
               .progress = progress,
               .progress_data = progress_data,
               .n_fits = setup->n_folds + 1 };
  self = g_atomic_rc_box_new0 (TsPaintFit);
  self->n_residuals = n_swatches;
  self->residuals = g_new0 (TsFitResidual, n_swatches);
  for (guint s = 0; s < n_swatches; s++)
    self->residuals[s].left_out = (double) NAN;

  x = ts_fit_setup_dup_start (setup);
  if (!fit_without (&run, -1, x, error) || !leave_out (&run, set, swatches, self->residuals, error))
    return NULL;
  finish (self, setup, set, swatches, x);
  return g_steal_pointer (&self);
}

/**
 * ts_paint_fit_ref:
 * @self: a fit
 *
 * Returns: (transfer full): @self
 */
TsPaintFit *
ts_paint_fit_ref (TsPaintFit *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_paint_fit_unref:
 * @self: (transfer full): a fit
 */
void
ts_paint_fit_unref (TsPaintFit *self)
{
  g_return_if_fail (self != NULL);

  g_atomic_rc_box_release_full (self, fit_clear);
}

/**
 * ts_paint_fit_get_set:
 * @self: a fit
 *
 * Returns: (transfer none): the refined set
 */
TsPaintSet *
ts_paint_fit_get_set (const TsPaintFit *self)
{
  return self->set;
}

/**
 * ts_paint_fit_get_report:
 * @self: a fit
 *
 * Returns: (transfer none): how near the predictions were, and are
 */
const TsFitReport *
ts_paint_fit_get_report (const TsPaintFit *self)
{
  return &self->report;
}

/**
 * ts_paint_fit_get_moves:
 * @self: a fit
 * @n_moves: (out): how many paints were refined
 *
 * Returns: (transfer none) (array length=n_moves): what became of each, in the order of the set
 */
const TsFitMove *
ts_paint_fit_get_moves (const TsPaintFit *self, guint *n_moves)
{
  *n_moves = self->n_moves;
  return self->moves;
}

/**
 * ts_paint_fit_get_residuals:
 * @self: a fit
 * @n_residuals: (out): how many swatches there were
 *
 * Returns: (transfer none) (array length=n_residuals): how near each is predicted, in the order
 * given
 */
const TsFitResidual *
ts_paint_fit_get_residuals (const TsPaintFit *self, guint *n_residuals)
{
  *n_residuals = self->n_residuals;
  return self->residuals;
}
