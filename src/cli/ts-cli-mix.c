/* ts-cli-mix.c: the nearest mixes of a paint set to colours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "cli/ts-cli.h"

typedef struct
{
  char *paints;
  char **targets;
  char **use;
  int max_paints, max_parts, best;
  double reach;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->paints);
  g_strfreev (self->targets);
  g_strfreev (self->use);
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

static GArray *
named_paints (const TsPaintSet *set, char **names, GError **error)
{
  g_autoptr (GArray) allowed = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; names[i] != NULL; i++)
    {
      int index = ts_paint_set_find (set, names[i]);
      guint paint = (guint) index;

      if (index < 0)
        {
          g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                       "--use %s: there is no such paint in the set.", names[i]);
          return NULL;
        }
      g_array_append_val (allowed, paint);
    }
  return g_steal_pointer (&allowed);
}

static TsRecipeSearch *
make_search (const Options *options, TsPaintSet *set, GError **error)
{
  g_autoptr (GArray) allowed = NULL;
  TsSearchLimits limits;

  ts_search_limits_init (&limits);
  limits.max_paints = (guint) options->max_paints;
  limits.max_parts = (guint) options->max_parts;
  limits.n_best = (guint) options->best;
  limits.reach = options->reach;
  if (options->use != NULL)
    {
      allowed = named_paints (set, options->use, error);
      if (allowed == NULL)
        return NULL;
      limits.allowed = (const guint *) allowed->data;
      limits.n_allowed = allowed->len;
    }
  return ts_recipe_search_new (set, &limits, NULL, error);
}

static void
print_recipes (const TsPaintSet *set, TsLab target, const GArray *recipes, GString *text)
{
  ts_cli_append_lab (text, target);
  g_string_append (text, ":\n");
  for (guint i = 0; i < recipes->len; i++)
    {
      const TsRecipe *recipe = &g_array_index (recipes, TsRecipe, i);
      g_autofree char *words = ts_recipe_to_text (set, recipe);

      g_string_append_printf (text, "  dE %4.1f  %s, within about dE %.0f\n", recipe->delta_e,
                              words, recipe->error);
    }
}

static gboolean
mix_targets (const Options *options, TsPaintSet *set, JsonArray *array, GString *text,
             GError **error)
{
  g_autoptr (TsRecipeSearch) search = make_search (options, set, error);

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
      print_recipes (set, target, recipes, text);
    }
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
    { "use", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.use,
      "Use only the paints named so, whatever their kind and stock", "NAME" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPaintSet) set = NULL;
  JsonArray *array;

  if (!ts_cli_parse_options (entries, NULL, "Finds the exact nearest mixes in whole parts.", &argc,
                             &argv, error) ||
      !check_options (&options, error))
    return FALSE;
  set = ts_paint_set_load (options.paints, error);
  if (set == NULL)
    return FALSE;
  array = json_array_new ();
  json_object_set_array_member (answer, "targets", array);
  return mix_targets (&options, set, array, text, error);
}
