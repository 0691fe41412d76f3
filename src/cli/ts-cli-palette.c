/* ts-cli-palette.c: a plan's mixes as a whole: the order of work, fewest paints, what to replace
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "base/ts-json.h"
#include "cli/ts-cli.h"
#include "plan/ts-plan-file.h"

typedef struct
{
  char *replace;
  double smallest;
  gboolean advise;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->replace);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
answer_surfaces (const TsPlan *plan, const GPtrArray *results, JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, i);
      g_autoptr (TsMixingSequence) sequence =
        result != NULL ? ts_surface_result_sequence (result, plan, i) : NULL;
      const TsJointPlan *joint = result != NULL ? ts_surface_result_get_joint (result) : NULL;
      JsonObject *object = json_object_new ();

      json_object_set_string_member (object, "surface", ts_plan_get_surface (plan, i)->name);
      g_string_append_printf (text, "%s\n", ts_plan_get_surface (plan, i)->name);
      if (joint != NULL)
        json_object_set_object_member (object, "together",
                                       ts_cli_build_joint (plan->paints, joint));
      if (sequence != NULL)
        ts_cli_answer_sequence (plan->paints, sequence, plan->medium, object, text);
      json_array_add_object_element (array, object);
    }
  json_object_set_array_member (answer, "surfaces", array);
  return TRUE;
}

static gboolean
answer_smallest (const TsPlan *plan, const GPtrArray *results, double within, JsonObject *answer,
                 GString *text, GError **error)
{
  g_autoptr (TsJointPlan) smallest = ts_pipeline_smallest (plan, results, within, NULL, error);
  g_autoptr (GArray) paints = NULL;
  JsonObject *object;

  if (smallest == NULL)
    return FALSE;
  paints = ts_joint_plan_get_paints (smallest);
  object = ts_cli_build_joint (plan->paints, smallest);
  json_object_remove_member (object, "cost");
  json_object_remove_member (object, "least_cost_proven");
  json_object_set_object_member (answer, "smallest", object);
  g_string_append_printf (text, "%u paints mix all %u colours within dE %g%s:\n", paints->len,
                          smallest->recipes->len, within,
                          ts_joint_plan_is_proven (smallest) ? "" : " (fewer may do)");
  for (guint i = 0; i < paints->len; i++)
    g_string_append_printf (
      text, "  %s\n",
      ts_paint_get_name (ts_paint_set_get_paint (plan->paints, g_array_index (paints, guint, i))));
  return TRUE;
}

static gboolean
answer_replace (const TsPlan *plan, const GPtrArray *results, const char *name, JsonObject *answer,
                GString *text, GError **error)
{
  int paint = ts_paint_set_find (plan->paints, name);
  g_autoptr (GArray) replaced = NULL;
  JsonArray *array = json_array_new ();

  json_object_set_array_member (answer, "replaced", array);
  if (paint < 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                   "--replace %s: there is no such paint in the plan.", name);
      return FALSE;
    }
  replaced = ts_pipeline_replace (plan, results, (guint) paint, NULL, error);
  if (replaced == NULL)
    return FALSE;
  for (guint i = 0; i < replaced->len; i++)
    {
      const TsReplacement *one = &g_array_index (replaced, TsReplacement, i);
      g_autofree char *before = ts_recipe_to_text (plan->paints, &one->before);
      g_autofree char *after = ts_recipe_to_text (plan->paints, &one->after);
      JsonObject *object = json_object_new ();

      json_object_set_object_member (object, "before",
                                     ts_cli_build_recipe (plan->paints, &one->before));
      json_object_set_object_member (object, "after",
                                     ts_cli_build_recipe (plan->paints, &one->after));
      json_array_add_object_element (array, object);
      g_string_append_printf (text, "%s -> %s, dE %.1f\n", before, after, one->after.delta_e);
    }
  if (replaced->len == 0)
    g_string_append_printf (text, "No mix of the plan holds %s.\n", name);
  return TRUE;
}

static gboolean
run_job (const Options *options, const char *path, JsonObject *answer, GString *text,
         GError **error)
{
  g_autoptr (TsPlan) plan = ts_plan_load (path, error);
  g_autoptr (GPtrArray) results = NULL;
  guint n_out;

  if (plan == NULL)
    return FALSE;
  if (plan->paints == NULL)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND, "%s has no paints.", path);
      return FALSE;
    }
  results = ts_pipeline_run (plan, NULL, NULL, NULL, error);
  if (results == NULL || !answer_surfaces (plan, results, answer, text))
    return FALSE;
  if (options->smallest > 0.0 &&
      !answer_smallest (plan, results, options->smallest, answer, text, error))
    return FALSE;
  if (options->replace != NULL &&
      !answer_replace (plan, results, options->replace, answer, text, error))
    return FALSE;
  if (options->advise)
    {
      g_autoptr (GArray) advice = ts_pipeline_advise (plan, results, -1, &n_out, NULL, error);

      if (advice == NULL)
        return FALSE;
      ts_cli_answer_advice (advice, n_out, answer, text);
    }
  return TRUE;
}

gboolean
ts_cli_palette (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
                GError **error)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "smallest", 0, 0, G_OPTION_ARG_DOUBLE, &options.smallest,
      "The fewest paints that mix every colour of the plan within D", "D" },
    { "replace", 0, 0, G_OPTION_ARG_STRING, &options.replace,
      "What takes the place of a paint that has run out", "NAME" },
    { "advise", 0, 0, G_OPTION_ARG_NONE, &options.advise,
      "Which kind of paint would help where colours are out of reach", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!ts_cli_parse_options (entries, "PLAN",
                             "The order of work at the palette for every surface of a plan.", &argc,
                             &argv, error))
    return FALSE;
  if (!(options.smallest >= 0.0 && options.smallest <= 100.0))
    return ts_cli_usage (error, "--smallest is above 0 and at most 100");
  return run_job (&options, argv[1], answer, text, error);
}
