/* ts-brief-result.c: what is mixed for the lines of a brief, and whether it passes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-brief-result.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-cgats.h"
#include "base/ts-csv.h"
#include "base/ts-text.h"
#include "palette/ts-paint-advice.h"
#include "plan/ts-pipeline.h"

#define MOST_OFFERS 3
#define WORTHWHILE 0.5 /* CIEDE2000 that a mix with one more paint must come nearer */
#define DECIMALS 100.0

static gboolean
take_locked (TsBriefResult *self, TsPaintSet *paints)
{
  if (self->line->locked == NULL || paints == NULL ||
      !ts_recipe_parse (paints, self->line->locked, &self->recipe, NULL))
    return FALSE;
  ts_recipe_predict (paints, &self->recipe);
  ts_recipe_compare (paints, &self->recipe, self->line->lab);
  return TRUE;
}

/**
 * ts_brief_result_of:
 * @plan: a plan
 * @index: of a line of its brief
 * @choices: (nullable) (element-type TsRecipe): mixes for the line, nearest first
 *
 * Returns: the mix that the painter chose, or else the nearest, and whether it passes
 */
TsBriefResult
ts_brief_result_of (const TsPlan *plan, guint index, const GArray *choices)
{
  TsBriefResult self = { .index = index, .line = ts_plan_get_brief_line (plan, index) };

  self.locked = self.has_recipe = take_locked (&self, plan->paints);
  if (!self.has_recipe && choices != NULL && choices->len > 0)
    {
      self.recipe = g_array_index (choices, TsRecipe, 0);
      self.has_recipe = TRUE;
    }
  if (self.has_recipe)
    self.verdict = ts_brief_check (self.recipe.delta_e, self.recipe.error, self.line->tolerance);
  return self;
}

static int
compare_results (gconstpointer a, gconstpointer b)
{
  const TsBriefResult *one = a, *other = b;

  if (one->verdict != other->verdict)
    return (int) one->verdict - (int) other->verdict;
  return (int) one->index - (int) other->index;
}

/**
 * ts_brief_results_new:
 * @plan: a plan
 * @choices: (element-type GArray): recipes for each line, elements may be %NULL or missing
 *
 * Returns: (transfer full) (element-type TsBriefResult): in the order of the brief
 */
GArray *
ts_brief_results_new (const TsPlan *plan, const GPtrArray *choices)
{
  GArray *results = g_array_sized_new (FALSE, FALSE, sizeof (TsBriefResult), plan->brief->len);

  for (guint i = 0; i < plan->brief->len; i++)
    {
      TsBriefResult result =
        ts_brief_result_of (plan, i, i < choices->len ? g_ptr_array_index (choices, i) : NULL);

      g_array_append_val (results, result);
    }
  return results;
}

/**
 * ts_brief_results_rank:
 * @results: (element-type TsBriefResult): of all lines
 *
 * Puts those first that need the painter: failing lines, then the doubtful.
 */
void
ts_brief_results_rank (GArray *results)
{
  g_array_sort (results, compare_results);
}

/**
 * ts_brief_result_why:
 * @self: a result
 *
 * Returns: (transfer full): a sentence
 */
char *
ts_brief_result_why (const TsBriefResult *self)
{
  const TsRecipe *recipe = &self->recipe;
  double tolerance = self->line->tolerance;
  TsShortfall shortfall;

  if (!self->has_recipe)
    return g_strdup (_ ("Not mixed yet."));
  shortfall = ts_shortfall_of (self->line->lab, recipe, tolerance);
  switch (self->verdict)
    {
    case TS_BRIEF_FAILS:
      return g_strdup_printf (_ ("The mix is %s, by dE %.1f; %.1f is allowed."),
                              ts_shortfall_to_word (&shortfall), recipe->delta_e, tolerance);
    case TS_BRIEF_MAY_PASS:
      return g_strdup_printf (
        _ ("The mix is near enough, dE %.1f of %.1f, but only known within about %.0f. A test "
           "stroke, dried and measured, tells."),
        recipe->delta_e, tolerance, recipe->error);
    case TS_BRIEF_PASSES:
    default:
      return g_strdup_printf (
        _ ("Even at the edge of what is known of the mix it is within dE %.1f."), tolerance);
    }
}

/**
 * ts_brief_results_to_summary:
 * @results: (element-type TsBriefResult): of all lines
 *
 * Returns: (transfer full): how many pass
 */
char *
ts_brief_results_to_summary (const GArray *results)
{
  guint counts[TS_BRIEF_PASSES + 1] = { 0 };

  for (guint i = 0; i < results->len; i++)
    counts[g_array_index (results, TsBriefResult, i).verdict]++;
  return g_strdup_printf (_ ("%u pass, %u may pass, %u fail"), counts[TS_BRIEF_PASSES],
                          counts[TS_BRIEF_MAY_PASS], counts[TS_BRIEF_FAILS]);
}

static double
rounded (double number)
{
  return round (number * DECIMALS) / DECIMALS;
}

static void
append_csv_lab (GString *text, TsLab lab)
{
  ts_csv_append_number (text, rounded (lab.L), 6, FALSE);
  ts_csv_append_number (text, rounded (lab.a), 6, FALSE);
  ts_csv_append_number (text, rounded (lab.b), 6, FALSE);
}

/**
 * ts_brief_results_to_csv:
 * @results: (element-type TsBriefResult): of all lines
 * @paints: (nullable): of their recipes
 *
 * Returns: (transfer full): a table, RFC 4180; colours are CIELAB, D50; differences are CIEDE2000
 */
char *
ts_brief_results_to_csv (const GArray *results, const TsPaintSet *paints)
{
  GString *text = g_string_new ("name,asked_L,asked_a,asked_b,tolerance,mixed_L,mixed_a,mixed_b,"
                                "delta_e_2000,within,verdict,recipe\n");

  for (guint i = 0; i < results->len; i++)
    {
      const TsBriefResult *result = &g_array_index (results, TsBriefResult, i);
      g_autofree char *recipe = result->has_recipe && paints != NULL
                                  ? ts_recipe_to_text (paints, &result->recipe)
                                  : g_strdup ("");

      ts_csv_append_cell (text, result->line->name, TRUE);
      append_csv_lab (text, result->line->lab);
      ts_csv_append_number (text, result->line->tolerance, 6, FALSE);
      if (result->has_recipe)
        {
          append_csv_lab (text, result->recipe.lab);
          ts_csv_append_number (text, rounded (result->recipe.delta_e), 6, FALSE);
          ts_csv_append_number (text, rounded (result->recipe.error), 6, FALSE);
        }
      else
        g_string_append (text, ",,,,,");
      ts_csv_append_cell (text, result->has_recipe ? ts_brief_verdict_to_id (result->verdict) : "",
                          FALSE);
      ts_csv_append_cell (text, recipe, FALSE);
      g_string_append_c (text, '\n');
    }
  return g_string_free (text, FALSE);
}

static void
append_cgats_number (GString *text, double number)
{
  g_string_append_c (text, '\t');
  ts_text_append_number (text, rounded (number), 6);
}

static void
append_set (GString *text, const TsBriefResult *result, const TsPaintSet *paints, guint id)
{
  g_autofree char *recipe = ts_recipe_to_text (paints, &result->recipe);

  g_string_append_printf (text, "%u", id);
  ts_cgats_append_cell (text, result->line->name, FALSE);
  append_cgats_number (text, result->recipe.lab.L);
  append_cgats_number (text, result->recipe.lab.a);
  append_cgats_number (text, result->recipe.lab.b);
  append_cgats_number (text, result->line->lab.L);
  append_cgats_number (text, result->line->lab.a);
  append_cgats_number (text, result->line->lab.b);
  append_cgats_number (text, result->recipe.delta_e);
  append_cgats_number (text, result->line->tolerance);
  ts_cgats_append_cell (text, ts_brief_verdict_to_id (result->verdict), FALSE);
  ts_cgats_append_cell (text, recipe, FALSE);
  g_string_append_c (text, '\n');
}

/**
 * ts_brief_results_to_cgats:
 * @results: (element-type TsBriefResult): of all lines
 * @paints: of their recipes
 *
 * LAB_L LAB_A LAB_B are what is mixed, D50, for any program; what was asked, the verdict and the
 * recipe are fields of our own. Lines without a mix are left out.
 *
 * Returns: (transfer full): CGATS text, ISO 28178
 */
char *
ts_brief_results_to_cgats (const GArray *results, const TsPaintSet *paints)
{
  static const char *const own[] = { "ASKED_L",   "ASKED_A", "ASKED_B", "DE_2000",
                                     "TOLERANCE", "VERDICT", "RECIPE" };
  GString *text = g_string_new ("CGATS.17\nORIGINATOR\t\"Tonestair\"\nDESCRIPTOR\t\"Brief\"\n");
  g_autoptr (GString) sets = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; i < results->len; i++)
    if (g_array_index (results, TsBriefResult, i).has_recipe)
      append_set (sets, &g_array_index (results, TsBriefResult, i), paints, ++n);
  for (gsize i = 0; i < G_N_ELEMENTS (own); i++)
    g_string_append_printf (text, "KEYWORD\t\"%s\"\n", own[i]);
  g_string_append_printf (text, "NUMBER_OF_FIELDS\t%u\nBEGIN_DATA_FORMAT\n",
                          (guint) (5 + G_N_ELEMENTS (own)));
  g_string_append (text, "SAMPLE_ID\tSAMPLE_NAME\tLAB_L\tLAB_A\tLAB_B");
  for (gsize i = 0; i < G_N_ELEMENTS (own); i++)
    g_string_append_printf (text, "\t%s", own[i]);
  g_string_append_printf (text, "\nEND_DATA_FORMAT\nNUMBER_OF_SETS\t%u\nBEGIN_DATA\n%sEND_DATA\n",
                          n, sets->str);
  return g_string_free (text, FALSE);
}

static TsBriefOffer
offer_of (const TsBriefResult *self, const TsRecipe *recipe, gboolean one_more)
{
  return (TsBriefOffer){
    .recipe = *recipe,
    .verdict = ts_brief_check (recipe->delta_e, recipe->error, self->line->tolerance),
    .one_more = one_more,
  };
}

/* Of a line that fails only what is nearer helps; else others may be simpler, or at hand. */
static gboolean
is_worth_a_look (const TsBriefResult *self, const TsBriefOffer *offer)
{
  if (ts_recipe_is_same (&offer->recipe, &self->recipe) || offer->verdict < self->verdict)
    return FALSE;
  return offer->verdict > TS_BRIEF_FAILS || offer->recipe.delta_e < self->recipe.delta_e;
}

/* The nearest mix with a paint more, or %FALSE where none is worth it. */
static gboolean
find_one_more (const TsBriefResult *self, const TsPlan *plan, TsRecipe *found,
               GCancellable *cancellable, GError **error)
{
  g_auto (TsRuledLimits) ruled = { 0 };
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GArray) recipes = NULL;

  if (plan->mix.max_paints >= TS_SEARCH_MAX_PAINTS || !ts_pipeline_limits (plan, &ruled, error))
    return FALSE;
  ruled.limits.max_paints++;
  ruled.limits.n_best = 1;
  search = ts_recipe_search_new (plan->paints, &ruled.limits, cancellable, error);
  if (search != NULL)
    recipes = ts_recipe_search_run (search, self->line->lab, cancellable, NULL, NULL, error);
  if (recipes == NULL || recipes->len == 0)
    return FALSE;
  *found = g_array_index (recipes, TsRecipe, 0);
  return found->n_paints > plan->mix.max_paints &&
         found->delta_e < self->recipe.delta_e - WORTHWHILE;
}

/**
 * ts_brief_result_offers:
 * @self: the result of a line
 * @plan: its plan, with paints
 * @choices: (nullable) (element-type TsRecipe): mixes for the line, nearest first
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsBriefOffer): other mixes that the painter may
 *   rather have; or %NULL with a #TsError or G_IO_ERROR_CANCELLED
 */
GArray *
ts_brief_result_offers (const TsBriefResult *self, const TsPlan *plan, const GArray *choices,
                        GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) offers = g_array_new (FALSE, FALSE, sizeof (TsBriefOffer));
  g_autoptr (GError) fault = NULL;
  TsRecipe recipe;

  if (self->has_recipe && find_one_more (self, plan, &recipe, cancellable, &fault))
    {
      TsBriefOffer offer = offer_of (self, &recipe, TRUE);

      g_array_append_val (offers, offer);
    }
  if (fault != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&fault));
      return NULL;
    }
  for (guint i = 0; choices != NULL && i < choices->len && offers->len < MOST_OFFERS; i++)
    {
      TsBriefOffer offer = offer_of (self, &g_array_index (choices, TsRecipe, i), FALSE);

      if (is_worth_a_look (self, &offer))
        g_array_append_val (offers, offer);
    }
  return g_steal_pointer (&offers);
}
