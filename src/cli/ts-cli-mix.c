/* ts-cli-mix.c: the nearest mixes of a paint set to colours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cli/ts-cli.h"

typedef struct
{
  char *paints;
  char **targets;
  TsCliLimits limits;
  int max_paints, max_parts, best;
  double reach;
  gboolean advise;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->paints);
  g_strfreev (self->targets);
  ts_cli_limits_clear (&self->limits);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
check_options (const Options *options, GError **error)
{
  if (options->paints == NULL)
    return ts_cli_usage (error, "give a set of paints: --paints SET.csv");
  if (options->targets == NULL)
    return ts_cli_usage (error, "give a colour: --target L,a,b");
  if (!(options->reach > 0.0 && options->reach <= 100.0))
    return ts_cli_usage (error, "--reach is above 0 and at most 100");
  return ts_cli_check_range ("--max-paints", options->max_paints, 1, TS_SEARCH_MAX_PAINTS, error) &&
         ts_cli_check_range ("--max-parts", options->max_parts, 2, TS_SEARCH_MAX_PARTS, error) &&
         ts_cli_check_range ("--best", options->best, 1, 64, error);
}

static gboolean
get_limits (const Options *options, const TsPaintSet *set, TsRuledLimits *ruled, GError **error)
{
  g_autoptr (TsPaintRules) rules = NULL;
  TsSearchLimits limits;

  if (!ts_cli_limits_get_rules (&options->limits, set, &rules, error))
    return FALSE;
  ts_search_limits_init (&limits);
  limits.max_paints = (guint) options->max_paints;
  limits.max_parts = (guint) options->max_parts;
  limits.n_best = (guint) options->best;
  limits.reach = options->reach;
  limits.opaque_only = options->limits.opaque_only;
  return ts_ruled_limits_init (ruled, &limits, rules, set, error);
}

static void
print_recipes (const TsPaintSet *set, TsLab target, const GArray *recipes, double reach,
               GString *text)
{
  ts_cli_append_lab (text, target);
  g_string_append (text, ":\n");
  if (recipes->len > 0 && g_array_index (recipes, TsRecipe, 0).delta_e > reach)
    {
      TsShortfall shortfall =
        ts_shortfall_of (target, &g_array_index (recipes, TsRecipe, 0), reach);
      g_autofree char *words = ts_shortfall_to_text (&shortfall);

      g_string_append_printf (text, "  %s\n", words);
    }
  for (guint i = 0; i < recipes->len; i++)
    {
      const TsRecipe *recipe = &g_array_index (recipes, TsRecipe, i);
      g_autofree char *words = ts_recipe_to_text (set, recipe);

      g_string_append_printf (text, "  dE %4.1f  %s, within about dE %.0f\n", recipe->delta_e,
                              words, recipe->error);
    }
}

/* Colours that are out of reach, and how near they come. */
typedef struct
{
  GArray *targets; /* TsLab */
  GArray *nearest; /* double */
} OutOfReach;

static void
note_out_of_reach (OutOfReach *out, TsLab target, const GArray *recipes, double reach)
{
  double nearest = recipes->len > 0 ? g_array_index (recipes, TsRecipe, 0).delta_e : 0.0;

  if (!(nearest > reach))
    return;
  g_array_append_val (out->targets, target);
  g_array_append_val (out->nearest, nearest);
}

static gboolean
mix_targets (const Options *options, TsPaintSet *set, const TsSearchLimits *limits,
             JsonArray *array, OutOfReach *out, GString *text, GError **error)
{
  g_autoptr (TsRecipeSearch) search = ts_recipe_search_new (set, limits, NULL, error);

  if (search == NULL)
    return FALSE;
  for (guint i = 0; options->targets[i] != NULL; i++)
    {
      g_autoptr (GArray) recipes = NULL;
      TsLab target;

      if (!ts_cli_parse_lab ("--target", options->targets[i], &target, error))
        return FALSE;
      recipes = ts_recipe_search_run (search, target, NULL, NULL, NULL, error);
      if (recipes == NULL)
        return FALSE;
      json_array_add_object_element (array, ts_cli_build_target (set, target,
                                                                 (const TsRecipe *) recipes->data,
                                                                 recipes->len, options->reach));
      print_recipes (set, target, recipes, options->reach, text);
      note_out_of_reach (out, target, recipes, options->reach);
    }
  return TRUE;
}

static gboolean
run_job (const Options *options, TsPaintSet *set, JsonObject *answer, GString *text, GError **error)
{
  g_auto (TsRuledLimits) ruled = { 0 };
  g_autoptr (GArray) targets = g_array_new (FALSE, FALSE, sizeof (TsLab));
  g_autoptr (GArray) nearest = g_array_new (FALSE, FALSE, sizeof (double));
  OutOfReach out = { targets, nearest };
  g_autoptr (GArray) advice = NULL;
  JsonArray *array = json_array_new ();

  json_object_set_array_member (answer, "targets", array);
  if (!get_limits (options, set, &ruled, error) ||
      !mix_targets (options, set, &ruled.limits, array, &out, text, error))
    return FALSE;
  if (!options->advise)
    return TRUE;
  advice = ts_paint_advice_find (set, &ruled.limits, (const TsLab *) targets->data,
                                 (const double *) nearest->data, targets->len, NULL, error);
  if (advice == NULL)
    return FALSE;
  ts_cli_answer_advice (advice, targets->len, answer, text);
  return TRUE;
}

gboolean
ts_cli_mix (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
            GError **error)
{
  g_auto (Options) options = { .max_paints = 3, .max_parts = 8, .best = 5, .reach = 2.0 };
  const GOptionEntry entries[] = {
    { "paints", 0, 0, G_OPTION_ARG_FILENAME, &options.paints, "The paint set", "SET.csv" },
    { "target", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.targets,
      "A wanted colour, CIELAB D50; may be repeated", "L,a,b" },
    { "max-paints", 0, 0, G_OPTION_ARG_INT, &options.max_paints, "Paints in a mix (3)", "M" },
    { "max-parts", 0, 0, G_OPTION_ARG_INT, &options.max_parts, "Parts in all (8)", "T" },
    { "best", 0, 0, G_OPTION_ARG_INT, &options.best, "Mixes a colour, of unlike paints (5)", "K" },
    { "reach", 0, 0, G_OPTION_ARG_DOUBLE, &options.reach,
      "dE within which a colour counts as reachable (2)", "D" },
    TS_CLI_LIMITS_ENTRIES (options.limits),
    { "advise", 0, 0, G_OPTION_ARG_NONE, &options.advise,
      "Which kind of paint would help where colours are out of reach", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPaintSet) set = NULL;

  if (!ts_cli_parse_options (entries, NULL, "Finds the exact nearest mixes in whole parts.", &argc,
                             &argv, error) ||
      !check_options (&options, error))
    return FALSE;
  set = ts_paint_set_load (options.paints, error);
  if (set == NULL)
    return FALSE;
  return run_job (&options, set, answer, text, error);
}
