/* ts-cli-brief.c: mixes for a client's colours, and whether they pass
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-json.h"
#include "checks/ts-check-brief.h"
#include "cli/ts-cli.h"

typedef struct
{
  char *paints;
  int max_paints, max_parts;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->paints);
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

static gboolean
answer_brief (const GPtrArray *brief, const TsPaintSet *set, const TsRecipeSearch *search,
              double reach, JsonArray *lines, GString *text, GError **error)
{
  for (guint i = 0; i < brief->len; i++)
    {
      const TsBriefEntry *line = g_ptr_array_index (brief, i);
      g_autoptr (GArray) recipes = NULL;

      recipes = ts_recipe_search_run (search, line->lab, NULL, NULL, NULL, error);
      if (recipes == NULL)
        return FALSE;
      answer_line (line, set, recipes, reach, lines, text);
    }
  return TRUE;
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
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) brief = NULL;
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (TsRecipeSearch) search = NULL;
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
  brief = ts_brief_load (argv[1], error);
  set = brief != NULL ? ts_paint_set_load (options.paints, error) : NULL;
  if (set == NULL)
    return FALSE;
  ts_search_limits_init (&limits);
  limits.max_paints = (guint) options.max_paints;
  limits.max_parts = (guint) options.max_parts;
  limits.n_best = 3;
  search = ts_recipe_search_new (set, &limits, NULL, error);
  if (search == NULL)
    return FALSE;
  lines = json_array_new ();
  json_object_set_array_member (answer, "lines", lines);
  return answer_brief (brief, set, search, limits.reach, lines, text, error);
}
