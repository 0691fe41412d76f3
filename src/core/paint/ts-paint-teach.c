/* ts-paint-teach.c: which test mixes would teach most about a set's paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-teach.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#include "base/ts-error.h"
#include "paint/ts-paint-doubt.h"

#define MOST_PAINTS 100 /* in doubt at once: time grows with the cube */

/* Parts of the two paints: shares a painter measures out with ease (common practice, no source). */
static const double parts[][2] = { { 1.0, 1.0 }, { 3.0, 1.0 }, { 1.0, 3.0 } };

static void
add_once (GArray *paints, guint paint)
{
  for (guint i = 0; i < paints->len; i++)
    if (g_array_index (paints, guint, i) == paint)
      return;
  g_array_append_val (paints, paint);
}

static int
compare_numbers (gconstpointer one, gconstpointer other)
{
  guint a = *(const guint *) one, b = *(const guint *) other;

  return (a > b) - (a < b);
}

/* Those of the wanted mixes, or all that mixes are made of. */
static GArray *
find_paints (const TsPaintSet *set, const TsSwatch *wanted, guint n_wanted)
{
  GArray *paints = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint w = 0; w < n_wanted; w++)
    for (guint i = 0; i < wanted[w].n_amounts; i++)
      if (ts_paint_is_for_mixing (ts_paint_set_get_paint (set, wanted[w].amounts[i].paint)))
        add_once (paints, wanted[w].amounts[i].paint);
  for (guint p = 0; n_wanted == 0 && p < ts_paint_set_get_n_paints (set); p++)
    if (ts_paint_is_for_mixing (ts_paint_set_get_paint (set, p)))
      g_array_append_val (paints, p);
  g_array_sort (paints, compare_numbers);
  return paints;
}

static TsSwatch
pair_of (guint one, guint other, const double of[2])
{
  return (TsSwatch){ .n_amounts = 2,
                     .amounts = { { one, of[0] }, { other, of[1] } },
                     .coats = (double) INFINITY };
}

/* All pairs, in the first @n_ratios of the ratios. */
static GArray *
make_pairs (const GArray *paints, guint n_ratios)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (TsSwatch));

  for (guint i = 0; i < paints->len; i++)
    for (guint j = i + 1; j < paints->len; j++)
      for (guint r = 0; r < n_ratios; r++)
        {
          TsSwatch pair =
            pair_of (g_array_index (paints, guint, i), g_array_index (paints, guint, j), parts[r]);

          g_array_append_val (pairs, pair);
        }
  return pairs;
}

static const TsSwatch *
swatches_of (const GArray *array)
{
  return (const TsSwatch *) (const void *) array->data;
}

static gboolean
check_paints (const GArray *paints, GError **error)
{
  if (paints->len < 2)
    g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                 _ ("A mix takes two paints that are in stock, and there are fewer"));
  else if (paints->len > MOST_PAINTS)
    g_set_error (
      error, TS_ERROR, TS_ERROR_TOO_LARGE,
      _ ("%u paints are too many to compare all their mixes; choose for the mixes of a plan, "
         "of at most %d paints"),
      paints->len, MOST_PAINTS);
  else
    return TRUE;
  return FALSE;
}

static GArray *
make_answer (const GArray *candidates, const guint *chosen, guint n_chosen, const double *spread)
{
  GArray *mixes = g_array_new (FALSE, FALSE, sizeof (TsTeachMix));

  for (guint i = 0; i < n_chosen; i++)
    {
      const TsSwatch *pair = &g_array_index (candidates, TsSwatch, chosen[i]);
      TsTeachMix mix = { 2, { pair->amounts[0], pair->amounts[1] }, spread[i], spread[i + 1] };

      g_array_append_val (mixes, mix);
    }
  return mixes;
}

/**
 * ts_paint_teach:
 * @set: the paints as they are known now
 * @known: (array length=n_known): swatches painted and measured so far
 * @n_known: how many, may be 0
 * @wanted: (array length=n_wanted): mixes that are to be predicted well
 * @n_wanted: how many; 0 for all pairs of the set
 * @n_mixes: how many test mixes to choose at most
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Tries pairs of paints at 1:1, 3:1 and 1:3, hiding all, and chooses one by one that with the
 * largest expected fall of the wanted mixes' error. Some tenths of a second for 20 paints, seconds
 * for 60.
 *
 * Returns: (transfer full) (nullable) (element-type TsTeachMix): the mixes, the best first, or
 * %NULL with %TS_ERROR_TOO_FEW, %TS_ERROR_TOO_LARGE or %G_IO_ERROR_CANCELLED set
 */
GArray *
ts_paint_teach (const TsPaintSet *set, const TsSwatch *known, guint n_known, const TsSwatch *wanted,
                guint n_wanted, guint n_mixes, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) paints = find_paints (set, wanted, n_wanted);
  g_autoptr (GArray) candidates = NULL;
  g_autoptr (GArray) pairs = NULL;
  g_autoptr (TsPaintDoubt) doubt = NULL;
  g_autofree guint *chosen = g_new (guint, MAX (n_mixes, 1));
  g_autofree double *spread = g_new (double, (gsize) n_mixes + 1);
  guint n_chosen;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_paints (paints, error))
    return NULL;
  doubt = ts_paint_doubt_new (set, (const guint *) (const void *) paints->data, paints->len);
  for (guint s = 0; s < n_known && !g_cancellable_is_cancelled (cancellable); s++)
    ts_paint_doubt_learn (doubt, &known[s]);
  candidates = make_pairs (paints, G_N_ELEMENTS (parts));
  pairs = n_wanted == 0 ? make_pairs (paints, 1) : NULL;
  n_chosen = ts_paint_doubt_choose (
    doubt, swatches_of (candidates), candidates->len, pairs != NULL ? swatches_of (pairs) : wanted,
    pairs != NULL ? pairs->len : n_wanted, n_mixes, cancellable, chosen, spread);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  return make_answer (candidates, chosen, n_chosen, spread);
}
