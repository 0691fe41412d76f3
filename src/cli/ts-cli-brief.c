/* ts-cli-brief.c: mixes for a client's colours, and whether they pass
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-file.h"
#include "base/ts-json.h"
#include "card/ts-brief-card.h"
#include "checks/ts-check-brief.h"
#include "cli/ts-cli.h"

typedef struct
{
  char *paints, *card, *results;
  int max_paints, max_parts;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->paints);
  g_free (self->card);
  g_free (self->results);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static void
answer_line (const TsBriefEntry *line, const TsPaintSet *set, const GArray *recipes, double reach,
             JsonArray *lines, GString *text)
{
  const TsRecipe *best = (const TsRecipe *) recipes->data;
  JsonObject *object = ts_cli_build_target (set, line->lab, best, recipes->len, reach);
  TsBriefVerdict verdict = recipes->len > 0
                             ? ts_brief_check (best->delta_e, best->error, line->tolerance)
                             : TS_BRIEF_FAILS;

  json_object_set_string_member (object, "name", line->name);
  ts_json_set_number (object, "tolerance_delta_e_2000", line->tolerance, 3);
  json_object_set_string_member (object, "verdict", ts_brief_verdict_to_id (verdict));
  json_array_add_object_element (lines, object);
  g_string_append_printf (text, "%-24s %-9s ", line->name, ts_brief_verdict_to_id (verdict));
  if (recipes->len > 0)
    {
      g_autofree char *words = ts_recipe_to_text (set, best);

      g_string_append_printf (text, "off by dE %.1f of %.1f: %s", best->delta_e, line->tolerance,
                              words);
    }
  g_string_append_c (text, '\n');
}

/* Recipes of all lines, one array each. */
static GPtrArray *
find_recipes (const GPtrArray *brief, const TsRecipeSearch *search, GError **error)
{
  g_autoptr (GPtrArray) choices = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

  for (guint i = 0; i < brief->len; i++)
    {
      const TsBriefEntry *line = g_ptr_array_index (brief, i);
      GArray *recipes = ts_recipe_search_run (search, line->lab, NULL, NULL, NULL, error);

      if (recipes == NULL)
        return NULL;
      g_ptr_array_add (choices, recipes);
    }
  return g_steal_pointer (&choices);
}

static void
answer_brief (const GPtrArray *brief, const TsPaintSet *set, const GPtrArray *choices, double reach,
              JsonArray *lines, GString *text)
{
  for (guint i = 0; i < brief->len; i++)
    answer_line (g_ptr_array_index (brief, i), set, g_ptr_array_index (choices, i), reach, lines,
                 text);
}

static TsPlan *
plan_of (const GPtrArray *brief, TsPaintSet *set)
{
  TsPlan *plan = ts_plan_new ();

  plan->paints = ts_paint_set_ref (set);
  for (guint i = 0; i < brief->len; i++)
    {
      const TsBriefEntry *line = g_ptr_array_index (brief, i);

      g_ptr_array_add (plan->brief, ts_brief_line_new (line->name, line->lab, line->tolerance));
    }
  return plan;
}

/* CGATS text where the name ends so, else CSV. */
static gboolean
save_results (const char *path, const GArray *results, const TsPaintSet *set, GError **error)
{
  gboolean cgats = g_str_has_suffix (path, ".txt") || g_str_has_suffix (path, ".cgats");
  g_autofree char *text =
    cgats ? ts_brief_results_to_cgats (results, set) : ts_brief_results_to_csv (results, set);

  return ts_file_save (path, text, strlen (text), TS_FILE_SAVE_PLAIN, error);
}

static gboolean
save_outputs (const Options *options, const GPtrArray *brief, TsPaintSet *set,
              const GPtrArray *choices, GError **error)
{
  g_autoptr (TsPlan) plan = plan_of (brief, set);
  g_autoptr (GArray) results = ts_brief_results_new (plan, choices);

  if (options->results != NULL && !save_results (options->results, results, set, error))
    return FALSE;
  if (options->card != NULL)
    {
      g_autoptr (TsBriefCard) card = ts_brief_card_new (results, "", NULL, TS_PAPER_A4);

      return ts_brief_card_save (card, options->card, error);
    }
  return TRUE;
}

static gboolean
check_outputs (const Options *options, const char *brief, GError **error)
{
  const char *const others[] = { brief, options->paints, options->card };

  return ts_cli_check_output ("--card", options->card, others, 2, error) &&
         ts_cli_check_output ("--results", options->results, others, 3, error);
}

gboolean
ts_cli_brief (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
              GError **error)
{
  g_auto (Options) options = { .max_paints = 3, .max_parts = 8 };
  const GOptionEntry entries[] = {
    { "paints", 0, 0, G_OPTION_ARG_FILENAME, &options.paints, "The paint set", "SET.csv" },
    { "max-paints", 0, 0, G_OPTION_ARG_INT, &options.max_paints, "Paints in a mix (3)", "M" },
    { "max-parts", 0, 0, G_OPTION_ARG_INT, &options.max_parts, "Parts in all (8)", "T" },
    { "card", 0, 0, G_OPTION_ARG_FILENAME, &options.card, "Save a card for the client", "OUT.pdf" },
    { "results", 0, 0, G_OPTION_ARG_FILENAME, &options.results,
      "Save a table: .csv, or .txt for CGATS text", "OUT.csv" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) brief = NULL;
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (TsRecipeSearch) search = NULL;
  g_autoptr (GPtrArray) choices = NULL;
  JsonArray *lines;
  TsSearchLimits limits;

  if (!ts_cli_parse_options (entries, "BRIEF.csv",
                             "Finds mixes for the lines name,L,a,b[,tolerance] of a brief.", &argc,
                             &argv, error) ||
      !ts_cli_check_range ("--max-paints", options.max_paints, 1, TS_SEARCH_MAX_PAINTS, error) ||
      !ts_cli_check_range ("--max-parts", options.max_parts, 2, TS_SEARCH_MAX_PARTS, error))
    return FALSE;
  if (options.paints == NULL)
    return ts_cli_usage (error, "give a set of paints: --paints SET.csv");
  if (!check_outputs (&options, argv[1], error))
    return FALSE;
  brief = ts_brief_load (argv[1], error);
  set = brief != NULL ? ts_paint_set_load (options.paints, error) : NULL;
  if (set == NULL)
    return FALSE;
  ts_search_limits_init (&limits);
  limits.max_paints = (guint) options.max_paints;
  limits.max_parts = (guint) options.max_parts;
  limits.n_best = 3;
  search = ts_recipe_search_new (set, &limits, NULL, error);
  choices = search != NULL ? find_recipes (brief, search, error) : NULL;
  if (choices == NULL || !save_outputs (&options, brief, set, choices, error))
    return FALSE;
  lines = json_array_new ();
  json_object_set_array_member (answer, "lines", lines);
  answer_brief (brief, set, choices, limits.reach, lines, text);
  return TRUE;
}
