/* ts-recipe-choice.c: a few offers from the best recipes, each with its reason
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-choice.h"

#include "colour/ts-difference.h"

#include <string.h>

/* A reason is given only where it is worth giving up some nearness: by how much better it must be,
 * in CIEDE2000. About what an eye sees side by side; common practice, no source. */
#define WORTH 0.3
/* Colours that no prediction tells apart, but that lie farther from what is wanted than this beyond
 * the nearest, are not put before it: paints known by a colour and a word err by more than a
 * painter would give up for one paint less. */
#define NO_FARTHER 1.0

/**
 * ts_recipe_is_equal_within_error:
 * @one: a predicted recipe
 * @other: another
 *
 * Returns: whether their colours lie nearer to each other than the smaller of their errors, so that
 *   no prediction tells which is the better
 */
gboolean
ts_recipe_is_equal_within_error (const TsRecipe *one, const TsRecipe *other)
{
  return ts_delta_e_2000 (one->lab, other->lab) < MIN (one->error, other->error);
}

/* The measure that a reason goes by: less is better. */
static double
measure (const TsRecipe *recipe, TsChoiceReason reason)
{
  switch (reason)
    {
    case TS_CHOICE_SIMPLEST:
      return recipe->n_paints;
    case TS_CHOICE_FORGIVING:
      return recipe->delta_e_drop_error;
    case TS_CHOICE_WARM_LAMP:
      return recipe->delta_e_illuminant_a;
    case TS_CHOICE_WHITE_LED:
      return recipe->delta_e_led_b1;
    case TS_CHOICE_NEAREST:
    case TS_CHOICE_OTHER:
    default:
      return recipe->delta_e;
    }
}

static gboolean
is_offered (const GArray *choices, const TsRecipe *recipe)
{
  for (guint i = 0; i < choices->len; i++)
    {
      const TsRecipe *other = &g_array_index (choices, TsChoice, i).recipe;

      if (other->n_paints == recipe->n_paints &&
          memcmp (other->paint, recipe->paint, recipe->n_paints * sizeof (guint)) == 0 &&
          memcmp (other->parts, recipe->parts, recipe->n_paints * sizeof (guint)) == 0)
        return TRUE;
    }
  return FALSE;
}

/* The nearer of two equals wins, since the list is in order of nearness. */
static const TsRecipe *
find_best (const GArray *recipes, TsChoiceReason reason)
{
  const TsRecipe *best = &g_array_index (recipes, TsRecipe, 0);

  for (guint i = 1; i < recipes->len; i++)
    {
      const TsRecipe *recipe = &g_array_index (recipes, TsRecipe, i);

      if (measure (recipe, reason) < measure (best, reason))
        best = recipe;
    }
  return best;
}

static void
append (GArray *choices, const TsRecipe *recipe, TsChoiceReason reason, const TsRecipe *nearest)
{
  TsChoice choice = { reason, *recipe, ts_recipe_is_equal_within_error (recipe, nearest) };

  g_array_append_val (choices, choice);
}

/* Of fewer paints than the nearest, the fewest, and so near to it that none can be called the
 * better; %NULL where there is none. */
static const TsRecipe *
find_simpler_equal (const GArray *recipes)
{
  const TsRecipe *nearest = &g_array_index (recipes, TsRecipe, 0);
  const TsRecipe *simplest = nearest;

  for (guint i = 1; i < recipes->len; i++)
    {
      const TsRecipe *recipe = &g_array_index (recipes, TsRecipe, i);

      if (recipe->n_paints < simplest->n_paints &&
          recipe->delta_e <= nearest->delta_e + NO_FARTHER &&
          ts_recipe_is_equal_within_error (recipe, nearest))
        simplest = recipe;
    }
  return simplest != nearest ? simplest : NULL;
}

/**
 * ts_recipe_choose:
 * @recipes: (element-type TsRecipe): compared recipes, nearest first
 * @most: how many offers at most
 *
 * The nearest comes first, or before it a simpler one that no prediction tells from it; then the
 * simplest, the most forgiving and those that hold best under a warm lamp and a white LED, each
 * where it is another recipe and better in that by as much as can be seen; then others in order of
 * nearness. No recipe is offered twice.
 *
 * Returns: (transfer full) (element-type TsChoice): the offers
 */
GArray *
ts_recipe_choose (const GArray *recipes, guint most)
{
  GArray *choices = g_array_new (FALSE, FALSE, sizeof (TsChoice));
  const TsRecipe *nearest, *simpler;

  if (recipes->len == 0 || most == 0)
    return choices;

  nearest = &g_array_index (recipes, TsRecipe, 0);
  simpler = find_simpler_equal (recipes);
  if (simpler != NULL)
    append (choices, simpler, TS_CHOICE_SIMPLEST, nearest);
  if (choices->len < most)
    append (choices, nearest, TS_CHOICE_NEAREST, nearest);
  for (TsChoiceReason reason = TS_CHOICE_SIMPLEST; reason < TS_CHOICE_OTHER; reason++)
    {
      const TsRecipe *best = find_best (recipes, reason);

      if (choices->len < most && !is_offered (choices, best) &&
          measure (best, reason) <= measure (nearest, reason) - WORTH)
        append (choices, best, reason, nearest);
    }
  for (guint i = 1; i < recipes->len && choices->len < most; i++)
    {
      const TsRecipe *recipe = &g_array_index (recipes, TsRecipe, i);

      if (!is_offered (choices, recipe))
        append (choices, recipe, TS_CHOICE_OTHER, nearest);
    }
  return choices;
}

/**
 * ts_choice_to_words:
 * @choice: an offer
 *
 * Returns: (transfer full): its reason as a painter would say it; "another way" for the rest.
 *   Untranslated.
 */
char *
ts_choice_to_words (const TsChoice *choice)
{
  static const char *const numbers[] = { "no", "one", "two", "three", "four" };
  const char *why = choice->equal ? "simplest, and as near as can be told" : "simplest";
  guint n = choice->recipe.n_paints;

  switch (choice->reason)
    {
    case TS_CHOICE_NEAREST:
      return g_strdup ("nearest");
    case TS_CHOICE_SIMPLEST:
      return n < G_N_ELEMENTS (numbers)
               ? g_strdup_printf ("%s: %s paint%s", why, numbers[n], n == 1 ? "" : "s")
               : g_strdup_printf ("%s: %u paints", why, n);
    case TS_CHOICE_FORGIVING:
      return g_strdup ("forgives a drop too many");
    case TS_CHOICE_WARM_LAMP:
      return g_strdup ("holds under a warm lamp");
    case TS_CHOICE_WHITE_LED:
      return g_strdup ("holds under a white LED");
    case TS_CHOICE_OTHER:
    default:
      return g_strdup ("another way");
    }
}
