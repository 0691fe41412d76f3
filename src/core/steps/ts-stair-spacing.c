/* ts-stair-spacing.c: where on the run the steps of a stair lie
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "steps/ts-stair-spacing.h"

#include "colour/ts-difference.h"

#include <math.h>

/* Cells of the fall that are searched for the next step. */
#define CELLS 64
#define ROUNDS 100
/* Equal to this, CIEDE2000. */
#define EXACT 1e-9

typedef double (*Function) (double x, gpointer data);

typedef struct
{
  const TsStairLift *lift;
  guint n_steps;
  double *share; /* of the fall, of each step */
  TsLab from;
  double wanted; /* CIEDE2000 from there */
} March;

/* Where @f, that changes its sign between @a and @b, is 0: false position, with the Illinois rule
 * that halves the value of an end that stays (Dowell and Jarratt 1971). */
static double
find_zero (Function f, gpointer data, double a, double fa, double b, double fb)
{
  double c = b;

  for (guint i = 0; i < ROUNDS && fb != fa; i++)
    {
      double fc;

      c = b - fb * (b - a) / (fb - fa);
      fc = f (c, data);
      if (fabs (fc) < EXACT)
        break;
      if ((fc > 0.0) != (fb > 0.0))
        {
          a = b;
          fa = fb;
        }
      else
        fa *= 0.5;
      b = c;
      fb = fc;
    }
  return c;
}

/* The way from light to dark: along the run, but on a polished surface, which goes up and down on
 * that way, along lightness. */
static double
place_at (const TsStairLift *lift, double share)
{
  if (ts_curve_get_shape (lift->curve) == TS_CURVE_FREE && !lift->even)
    return ts_curve_find_lightness (lift->curve,
                                    lift->photo_top - share * (lift->photo_top - lift->photo_core));
  return lift->top + share * (lift->core - lift->top);
}

static TsLab
colour_at (const TsStairLift *lift, double share)
{
  return ts_stair_lift_at (lift, place_at (lift, share));
}

static double
excess_at (double share, gpointer data)
{
  const March *march = data;

  return ts_delta_e_2000 (march->from, colour_at (march->lift, share)) - march->wanted;
}

/* The first place after @share that differs enough from it; FALSE, and the excess at the end of the
 * fall, where none does. */
static gboolean
find_next (March *march, double *share, double *excess)
{
  double last = *share, last_excess = -march->wanted;

  *excess = -march->wanted;
  march->from = colour_at (march->lift, *share);
  for (guint i = (guint) (*share * CELLS) + 1; i <= CELLS; i++)
    {
      double place = (double) i / CELLS;

      *excess = excess_at (place, march);
      if (*excess >= 0.0)
        {
          *share = find_zero (excess_at, march, last, last_excess, place, *excess);
          return TRUE;
        }
      last = place;
      last_excess = *excess;
    }
  return FALSE;
}

/* By how much the last step is wider than all others, when each of those is @wanted wide. */
static double
march_down (double wanted, gpointer data)
{
  March *march = data;
  double share = 0.0, excess;

  march->wanted = wanted;
  march->share[0] = 0.0;
  for (guint i = 1; i + 1 < march->n_steps; i++)
    {
      if (!find_next (march, &share, &excess))
        return excess - (march->n_steps - 1 - i) * wanted;
      march->share[i] = share;
    }
  march->from = colour_at (march->lift, share);
  return excess_at (1.0, march);
}

static double
length_of_fall (const TsStairLift *lift)
{
  double length = 0.0;

  for (guint i = 0; i < CELLS; i++)
    length +=
      ts_delta_e_2000 (colour_at (lift, (double) i / CELLS), colour_at (lift, (i + 1.0) / CELLS));
  return length;
}

static void
space_by_difference (const TsStairLift *lift, double *positions, guint n_steps)
{
  double share[TS_STAIR_MAX_STEPS];
  March march = { .lift = lift, .n_steps = n_steps, .share = share };
  /* A little more than the widest that can be, so that the last step then is surely too small. */
  double most = 1.01 * length_of_fall (lift) / (n_steps - 1);
  double whole = ts_delta_e_2000 (colour_at (lift, 0.0), colour_at (lift, 1.0));

  for (guint i = 0; i < n_steps; i++)
    share[i] = i / (n_steps - 1.0);
  if (whole > EXACT && n_steps > 2)
    march_down (find_zero (march_down, &march, 0.0, whole, most, march_down (most, &march)),
                &march);
  share[n_steps - 1] = 1.0;
  for (guint i = 0; i < n_steps; i++)
    positions[i] = place_at (lift, share[i]);
}

static void
space_by_lightness (const TsStairLift *lift, double *positions, guint n_steps)
{
  double fall = lift->photo_top - lift->photo_core;

  for (guint i = 0; i < n_steps; i++)
    {
      double share = i / (n_steps - 1.0);

      if (lift->even || i == 0 || i + 1 == n_steps)
        positions[i] = lift->top + share * (lift->core - lift->top);
      else
        positions[i] = ts_curve_find_lightness (lift->curve, lift->photo_top - share * fall);
    }
}

/* Without an outline the way along the run stands for the area. */
static void
space_by_way (double *share, guint n_steps)
{
  for (guint i = 0; i < n_steps; i++)
    share[i] = (i + 0.5) / n_steps;
}

void
ts_stair_space (const TsStairLift *lift, double positions[TS_STAIR_MAX_STEPS])
{
  guint n_steps = lift->settings->n_steps;

  if (lift->settings->spacing == TS_SPACING_BY_HAND)
    {
      for (guint i = 0; i < n_steps; i++)
        positions[i] = lift->settings->position[i];
      return;
    }
  if (lift->settings->spacing == TS_SPACING_DIFFERENCE)
    space_by_difference (lift, positions, n_steps);
  else if (lift->settings->spacing == TS_SPACING_AREA)
    space_by_way (positions, n_steps);
  else
    space_by_lightness (lift, positions, n_steps);
}
