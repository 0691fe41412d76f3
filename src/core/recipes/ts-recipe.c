/* ts-recipe.c: whole parts of paints, and the colour they give
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "recipes/ts-recipe-drop.h"

#include <math.h>
#include <string.h>

#define MOST_PARTS 999 /* of one paint in a typed recipe */

static const char *
name_of (const TsPaintSet *set, guint paint)
{
  return ts_paint_get_name (ts_paint_set_get_paint (set, paint));
}

static guint
common_divisor (guint a, guint b)
{
  while (b != 0)
    {
      guint rest = a % b;

      a = b;
      b = rest;
    }
  return a;
}

static void
reduce (TsRecipe *recipe)
{
  guint divisor = 0;

  for (guint i = 0; i < recipe->n_paints; i++)
    divisor = common_divisor (divisor, recipe->parts[i]);
  for (guint i = 0; i < recipe->n_paints && divisor > 1; i++)
    recipe->parts[i] /= divisor;
}

static gboolean
comes_before (const TsPaintSet *set, guint paint, guint parts, guint other_paint, guint other_parts)
{
  if (parts != other_parts)
    return parts > other_parts;
  return strcmp (name_of (set, paint), name_of (set, other_paint)) < 0;
}

/* Most parts first, then by name. */
static void
sort (const TsPaintSet *set, TsRecipe *recipe)
{
  for (guint i = 1; i < recipe->n_paints; i++)
    {
      guint paint = recipe->paint[i];
      guint parts = recipe->parts[i];
      guint j = i;

      for (; j > 0 && comes_before (set, paint, parts, recipe->paint[j - 1], recipe->parts[j - 1]);
           j--)
        {
          recipe->paint[j] = recipe->paint[j - 1];
          recipe->parts[j] = recipe->parts[j - 1];
        }
      recipe->paint[j] = paint;
      recipe->parts[j] = parts;
    }
}

/* Amounts in the order of the set, so that equal mixes are summed in the same order and give the
 * same bits. */
static void
get_amounts (const TsRecipe *recipe, TsAmount amounts[TS_RECIPE_MAX_PAINTS])
{
  for (guint i = 0; i < recipe->n_paints; i++)
    {
      guint j = i;

      for (; j > 0 && amounts[j - 1].paint > recipe->paint[i]; j--)
        amounts[j] = amounts[j - 1];
      amounts[j] = (TsAmount){ recipe->paint[i], recipe->parts[i] };
    }
}

static double
sum_of (const TsSpectrum *spectrum)
{
  double sum = 0.0;

  for (guint b = 0; b < TS_BANDS; b++)
    sum += spectrum->band[b];
  return sum;
}

/* The paints' errors, each counting by its share in what the mix absorbs and scatters: a drop of
 * black in a pot of white weighs as much as the white. */
static double
combine_errors (const TsPaintSet *set, const TsAmount *amounts, guint n)
{
  double K = 0.0, S = 0.0, square = 0.0;

  for (guint i = 0; i < n; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, amounts[i].paint);

      K += amounts[i].parts * sum_of (ts_paint_get_K (paint));
      S += amounts[i].parts * sum_of (ts_paint_get_S (paint));
    }
  for (guint i = 0; i < n; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, amounts[i].paint);
      double error = ts_paint_get_error (paint);
      double in_K = K > 0.0 ? amounts[i].parts * sum_of (ts_paint_get_K (paint)) / K : 1.0 / n;
      double in_S = S > 0.0 ? amounts[i].parts * sum_of (ts_paint_get_S (paint)) / S : 1.0 / n;

      square += 0.5 * (in_K + in_S) * error * error;
    }
  return sqrt (square);
}

/**
 * ts_recipe_get_spectrum:
 * @set: the set it was made for
 * @recipe: a recipe with its paints and parts
 * @reflectance: (out): measured reflectance of a layer that hides all
 *
 * The same mix gives the same bits, in whatever order its paints stand.
 */
void
ts_recipe_get_spectrum (const TsPaintSet *set, const TsRecipe *recipe, TsSpectrum *reflectance)
{
  TsAmount amounts[TS_RECIPE_MAX_PAINTS];
  TsSpectrum K, S;

  g_return_if_fail (recipe->n_paints > 0 && recipe->n_paints <= TS_RECIPE_MAX_PAINTS);

  get_amounts (recipe, amounts);
  ts_mix_get_K_S (set, amounts, recipe->n_paints, &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), reflectance);
}

/**
 * ts_recipe_predict:
 * @set: the set it is made for
 * @recipe: (inout): a recipe with its unlike paints and their parts, each at least 1
 *
 * Divides the parts by their common divisor, puts the paint with most parts first (then by name),
 * and fills in the colour and its error. The three differences become 0.
 */
void
ts_recipe_predict (const TsPaintSet *set, TsRecipe *recipe)
{
  TsAmount amounts[TS_RECIPE_MAX_PAINTS];
  TsSpectrum reflectance;

  g_return_if_fail (recipe->n_paints > 0 && recipe->n_paints <= TS_RECIPE_MAX_PAINTS);

  reduce (recipe);
  sort (set, recipe);
  get_amounts (recipe, amounts);
  ts_recipe_get_spectrum (set, recipe, &reflectance);
  recipe->lab = ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
  recipe->error = combine_errors (set, amounts, recipe->n_paints);
  recipe->delta_e = recipe->delta_e_drop_error = 0.0;
  recipe->delta_e_illuminant_a = recipe->delta_e_led_b1 = 0.0;
  recipe->metamerism_a = recipe->metamerism_led_b1 = 0.0;
}

static double
difference_under (const TsSpectrum *mixed, const TsSpectrum *wanted, TsLight light)
{
  return ts_delta_e_2000 (ts_spectrum_to_lab (mixed, light), ts_spectrum_to_lab (wanted, light));
}

/* CIE 15: special metamerism index for a change of illuminant; what differs under D50 already is
 * taken off by the ratio of X, Y and Z there. */
static double
metamerism_under (const TsSpectrum *mixed, const TsSpectrum *wanted, TsLight light)
{
  TsXyz mine = ts_spectrum_to_xyz (mixed, TS_LIGHT_D50);
  TsXyz theirs = ts_spectrum_to_xyz (wanted, TS_LIGHT_D50);
  TsXyz under = ts_spectrum_to_xyz (mixed, light);

  if (!(mine.X > 0.0 && mine.Y > 0.0 && mine.Z > 0.0))
    return 0.0;
  under.X *= theirs.X / mine.X;
  under.Y *= theirs.Y / mine.Y;
  under.Z *= theirs.Z / mine.Z;
  return ts_delta_e_2000 (ts_lab_from_xyz (under), ts_spectrum_to_lab (wanted, light));
}

/**
 * ts_recipe_compare:
 * @set: the set it was made for
 * @recipe: (inout): a predicted recipe
 * @target: the wanted colour, D50
 *
 * Fills in the differences to @target. Under other lights the target is taken to have the smooth
 * reflectance of ts_spectrum_from_lab(); where no surface can have that colour, the differences
 * under them are given as the one under D50.
 */
void
ts_recipe_compare (const TsPaintSet *set, TsRecipe *recipe, TsLab target)
{
  TsSpectrum mixed, wanted;

  recipe->delta_e = ts_delta_e_2000 (recipe->lab, target);
  recipe->delta_e_drop_error = ts_recipe_get_drop_error (set, recipe, target);
  recipe->delta_e_illuminant_a = recipe->delta_e_led_b1 = recipe->delta_e;
  recipe->metamerism_a = recipe->metamerism_led_b1 = 0.0;
  if (!ts_spectrum_from_lab (target, &wanted, NULL))
    return;

  ts_recipe_get_spectrum (set, recipe, &mixed);
  recipe->delta_e_illuminant_a = difference_under (&mixed, &wanted, TS_LIGHT_A);
  recipe->delta_e_led_b1 = difference_under (&mixed, &wanted, TS_LIGHT_LED_B1);
  recipe->metamerism_a = metamerism_under (&mixed, &wanted, TS_LIGHT_A);
  recipe->metamerism_led_b1 = metamerism_under (&mixed, &wanted, TS_LIGHT_LED_B1);
}

static guint
total_parts (const TsRecipe *recipe)
{
  guint total = 0;

  for (guint i = 0; i < recipe->n_paints; i++)
    total += recipe->parts[i];
  return total;
}

/**
 * ts_recipe_rank:
 * @set: the set both were made for
 * @one: a predicted and compared recipe
 * @other: another
 *
 * Nearest first. Differences equal to 9 decimals are ties, so that the last bits of a machine's
 * mathematics do not decide: then fewer paints, fewer parts, and names and parts in order.
 *
 * Returns: below 0 where @one comes first, above 0 where @other does, 0 for the same mix
 */
int
ts_recipe_rank (const TsPaintSet *set, const TsRecipe *one, const TsRecipe *other)
{
  double first = round (one->delta_e * 1e9);
  double second = round (other->delta_e * 1e9);

  if (first != second)
    return first < second ? -1 : 1;
  if (one->n_paints != other->n_paints)
    return one->n_paints < other->n_paints ? -1 : 1;
  if (total_parts (one) != total_parts (other))
    return total_parts (one) < total_parts (other) ? -1 : 1;
  for (guint i = 0; i < one->n_paints; i++)
    {
      int order = strcmp (name_of (set, one->paint[i]), name_of (set, other->paint[i]));

      if (order != 0)
        return order;
      if (one->parts[i] != other->parts[i])
        return one->parts[i] > other->parts[i] ? -1 : 1;
    }
  return 0;
}

/**
 * ts_recipe_is_same:
 * @one: a recipe
 * @other: another of the same set
 *
 * Returns: whether both are the same parts of the same paints, in the order of ts_recipe_predict()
 */
gboolean
ts_recipe_is_same (const TsRecipe *one, const TsRecipe *other)
{
  if (one->n_paints != other->n_paints)
    return FALSE;
  for (guint i = 0; i < one->n_paints; i++)
    if (one->paint[i] != other->paint[i] || one->parts[i] != other->parts[i])
      return FALSE;
  return TRUE;
}

/**
 * ts_recipe_to_text:
 * @set: the set it was made for
 * @recipe: a recipe
 *
 * Returns: (transfer full): "2 Lamp Black + 1 Deep Blue"
 */
char *
ts_recipe_to_text (const TsPaintSet *set, const TsRecipe *recipe)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < recipe->n_paints; i++)
    g_string_append_printf (text, "%s%u %s", i > 0 ? " + " : "", recipe->parts[i],
                            name_of (set, recipe->paint[i]));
  return g_string_free (text, FALSE);
}

/* "2 Lamp Black" or "Lamp Black". A name may itself begin with digits. */
static gboolean
parse_term (const TsPaintSet *set, const char *term, guint *paint, guint *parts)
{
  char *rest = NULL;
  guint64 number = g_ascii_isdigit (*term) ? g_ascii_strtoull (term, &rest, 10) : 0;
  int found = -1;

  if (number >= 1 && number <= MOST_PARTS && g_ascii_isspace (*rest))
    {
      g_autofree char *name = g_strstrip (g_strdup (rest));

      found = ts_paint_set_find (set, name);
      *parts = (guint) number;
    }
  if (found < 0)
    {
      found = ts_paint_set_find (set, term);
      *parts = 1;
    }
  *paint = (guint) found;
  return found >= 0;
}

static gboolean
add_term (TsRecipe *recipe, guint paint, guint parts, GError **error)
{
  for (guint i = 0; i < recipe->n_paints; i++)
    if (recipe->paint[i] == paint)
      {
        recipe->parts[i] += parts;
        return TRUE;
      }
  if (recipe->n_paints == TS_RECIPE_MAX_PAINTS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                   _ ("A recipe holds at most %d paints; leave some out"), TS_RECIPE_MAX_PAINTS);
      return FALSE;
    }
  recipe->paint[recipe->n_paints] = paint;
  recipe->parts[recipe->n_paints++] = parts;
  return TRUE;
}

/* A name may hold a plus sign ("Red+Gold"): the longest run of pieces that is a term wins. Returns
 * how many. */
static guint
take_term (const TsPaintSet *set, char **pieces, guint n, guint *paint, guint *parts)
{
  for (guint count = n; count > 0; count--)
    {
      g_autoptr (GString) term = g_string_new (pieces[0]);

      for (guint i = 1; i < count; i++)
        g_string_append_printf (term, "+%s", pieces[i]);
      if (parse_term (set, g_strstrip (term->str), paint, parts))
        return count;
    }
  return 0;
}

/**
 * ts_recipe_parse:
 * @set: the set to find the paints in
 * @text: "2 Lamp Black + 1 Deep Blue"; a paint without a number is one part
 * @recipe: (out): the recipe, predicted
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %TS_ERROR_NOT_FOUND for a paint that the set does not have,
 *   %TS_ERROR_TOO_LARGE for too many paints, %TS_ERROR_FORMAT for an empty text
 */
gboolean
ts_recipe_parse (const TsPaintSet *set, const char *text, TsRecipe *recipe, GError **error)
{
  g_auto (GStrv) pieces = NULL;
  TsRecipe result = { 0 };
  guint n, used;

  g_return_val_if_fail (text != NULL, FALSE);

  if (!g_utf8_validate (text, -1, NULL))
    {
      g_set_error_literal (error, TS_ERROR, TS_ERROR_FORMAT, _ ("The recipe is not UTF-8 text"));
      return FALSE;
    }
  pieces = g_strsplit (text, "+", 64);
  n = g_strv_length (pieces);
  for (guint i = 0; i < n; i += used)
    {
      guint paint, parts;

      used = take_term (set, pieces + i, n - i, &paint, &parts);
      if (used == 0)
        {
          const char *term = g_strstrip (pieces[i]);

          if (*term == '\0')
            g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                         _ ("The recipe \"%s\" has an empty part; write it as "
                            "\"2 First Paint + 1 Second Paint\""),
                         text);
          else
            g_set_error (
              error, TS_ERROR, TS_ERROR_NOT_FOUND,
              _ ("\"%s\" in the recipe is no whole number of parts (1 to %d) and a paint "
                 "of the set; look at its spelling"),
              term, MOST_PARTS);
          return FALSE;
        }
      if (!add_term (&result, paint, parts, error))
        return FALSE;
    }
  if (result.n_paints == 0)
    {
      g_set_error_literal (
        error, TS_ERROR, TS_ERROR_FORMAT,
        _ ("The recipe is empty; write it as \"2 First Paint + 1 Second Paint\""));
      return FALSE;
    }
  ts_recipe_predict (set, &result);
  *recipe = result;
  return TRUE;
}
