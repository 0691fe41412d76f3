/* ts-cli-calibrate.c: a paint set refined by the painter's own test swatches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <math.h>

#include "base/ts-json.h"
#include "cli/ts-cli.h"
#include "paint/ts-paint-fit.h"
#include "paint/ts-paint-teach.h"
#include "plan/ts-plan-file.h"

#define MOST_NEXT 100

typedef struct
{
  char *swatches, *out, *plan;
  int n_next;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->swatches);
  g_free (self->out);
  g_free (self->plan);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static void
answer_report (const TsFitReport *report, JsonObject *answer, GString *text)
{
  ts_json_set_number (answer, "before_median_delta_e_2000", report->before_median, 3);
  ts_json_set_number (answer, "before_90_delta_e_2000", report->before_90, 3);
  ts_json_set_number (answer, "after_median_delta_e_2000", report->after_median, 3);
  ts_json_set_number (answer, "after_90_delta_e_2000", report->after_90, 3);
  json_object_set_int_member (answer, "left_out_swatches", report->n_left_out);
  ts_json_set_number (answer, "left_out_median_delta_e_2000", report->left_out_median, 3);
  ts_json_set_number (answer, "left_out_90_delta_e_2000", report->left_out_90, 3);
  g_string_append_printf (text,
                          "Swatches are predicted to dE %.1f (9 of 10 below %.1f); before it was "
                          "%.1f (%.1f).\n",
                          report->after_median, report->after_90, report->before_median,
                          report->before_90);
  if (report->n_left_out > 0)
    g_string_append_printf (text, "Mixes left out of the fit: dE %.1f (9 of 10 below %.1f).\n",
                            report->left_out_median, report->left_out_90);
}

static void
answer_moves (const TsPaintFit *fit, JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();
  guint n;
  const TsFitMove *moves = ts_paint_fit_get_moves (fit, &n);

  for (guint i = 0; i < n; i++)
    {
      const char *name =
        ts_paint_get_name (ts_paint_set_get_paint (ts_paint_fit_get_set (fit), moves[i].paint));
      JsonObject *object = json_object_new ();

      json_object_set_string_member (object, "paint", name);
      json_object_set_int_member (object, "swatches", moves[i].n_swatches);
      ts_json_set_number (object, "moved_delta_e_2000", moves[i].moved, 2);
      ts_json_set_number (object, "absorption_factor", moves[i].K_factor, 3);
      ts_json_set_number (object, "scattering_factor", moves[i].S_factor, 3);
      ts_json_set_number (object, "error_delta_e_2000", moves[i].error, 1);
      json_array_add_object_element (array, object);
      g_string_append_printf (text, "%-24s moved by dE %.1f, now within about dE %.0f\n", name,
                              moves[i].moved, moves[i].error);
    }
  json_object_set_array_member (answer, "paints", array);
}

static void
answer_residuals (const TsPaintFit *fit, const GArray *swatches, JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();
  guint n;
  const TsFitResidual *residuals = ts_paint_fit_get_residuals (fit, &n);

  for (guint i = 0; i < n; i++)
    {
      guint line = g_array_index (swatches, TsSwatch, i).line;
      JsonObject *object = json_object_new ();

      json_object_set_int_member (object, "line", line);
      ts_json_set_number (object, "before_delta_e_2000", residuals[i].before, 2);
      ts_json_set_number (object, "after_delta_e_2000", residuals[i].after, 2);
      ts_json_set_number (object, "left_out_delta_e_2000", residuals[i].left_out, 2);
      json_object_set_boolean_member (object, "suspect", residuals[i].suspect);
      json_array_add_object_element (array, object);
      if (residuals[i].suspect)
        g_string_append_printf (text,
                                "The swatch of line %u disagrees with the others by dE %.0f: "
                                "measure it or read its recipe again.\n",
                                line, residuals[i].after);
    }
  json_object_set_array_member (answer, "swatches", array);
}

/* A recipe of the plan as a mix of the set, by the paints' names; FALSE where the set lacks one. */
static gboolean
take_recipe (const TsPaintSet *set, const TsPaintSet *other, const TsRecipe *recipe, TsSwatch *mix)
{
  *mix = (TsSwatch){ .n_amounts = recipe->n_paints, .coats = (double) INFINITY };
  for (guint i = 0; i < recipe->n_paints; i++)
    {
      int paint = ts_paint_set_find (
        set, ts_paint_get_name (ts_paint_set_get_paint (other, recipe->paint[i])));

      if (paint < 0)
        return FALSE;
      mix->amounts[i] = (TsAmount){ (guint) paint, recipe->parts[i] };
    }
  return TRUE;
}

/* All mixes that the plan paints with. */
static GArray *
load_wanted (const TsPaintSet *set, const char *path, GError **error)
{
  g_autoptr (GArray) wanted = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GPtrArray) results = NULL;

  if (path == NULL)
    return g_steal_pointer (&wanted);
  plan = ts_plan_load (path, error);
  results = plan != NULL ? ts_pipeline_run (plan, NULL, NULL, NULL, error) : NULL;
  if (results == NULL)
    return NULL;
  for (guint r = 0; r < results->len; r++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, r);

      for (guint s = 0; result != NULL && s < ts_surface_result_get_n_steps (result); s++)
        {
          const TsRecipe *recipe = ts_surface_result_get_recipe (result, s);
          TsSwatch mix;

          if (recipe != NULL &&
              take_recipe (set, ts_surface_result_get_paints (result), recipe, &mix))
            g_array_append_val (wanted, mix);
        }
    }
  return g_steal_pointer (&wanted);
}

static void
answer_mix (const TsPaintSet *set, const TsTeachMix *mix, JsonArray *array, GString *text)
{
  g_autofree char *recipe = g_strdup_printf (
    "%.0f %s + %.0f %s", mix->amounts[0].parts,
    ts_paint_get_name (ts_paint_set_get_paint (set, mix->amounts[0].paint)), mix->amounts[1].parts,
    ts_paint_get_name (ts_paint_set_get_paint (set, mix->amounts[1].paint)));
  JsonObject *object = json_object_new ();

  json_object_set_string_member (object, "recipe", recipe);
  ts_json_set_number (object, "before_spread_delta_e_2000", mix->before, 2);
  ts_json_set_number (object, "after_spread_delta_e_2000", mix->after, 2);
  json_array_add_object_element (array, object);
  g_string_append_printf (text, "  %s\n", recipe);
}

static gboolean
answer_next (const Options *options, const TsPaintSet *set, const GArray *swatches,
             JsonObject *answer, GString *text, GError **error)
{
  g_autoptr (GArray) wanted = NULL;
  g_autoptr (GArray) mixes = NULL;
  JsonArray *array;

  if (options->n_next == 0)
    return TRUE;
  wanted = load_wanted (set, options->plan, error);
  if (wanted == NULL)
    return FALSE;
  mixes = ts_paint_teach (
    set, swatches != NULL ? (const TsSwatch *) (const void *) swatches->data : NULL,
    swatches != NULL ? swatches->len : 0, (const TsSwatch *) (const void *) wanted->data,
    wanted->len, (guint) options->n_next, NULL, error);
  if (mixes == NULL)
    return FALSE;
  array = json_array_new ();
  g_string_append (text,
                   "These mixes would teach most, painted next so that nothing shows through:\n");
  for (guint i = 0; i < mixes->len; i++)
    answer_mix (set, &g_array_index (mixes, TsTeachMix, i), array, text);
  json_object_set_array_member (answer, "next", array);
  return TRUE;
}

static gboolean
check_options (const Options *options, const char *set, GError **error)
{
  gboolean refines = options->swatches != NULL && options->out != NULL;

  if (!refines && (options->n_next == 0 || options->swatches != NULL || options->out != NULL))
    return ts_cli_usage (error,
                         "give --swatches SWATCHES.csv and --out NEW.csv, or --next N alone");
  if (options->plan != NULL && options->n_next == 0)
    return ts_cli_usage (error, "--plan needs --next N");
  return ts_cli_check_range ("--next", options->n_next, 0, MOST_NEXT, error) &&
         ts_cli_check_output ("--out", options->out,
                              (const char *[]){ set, options->swatches, options->plan }, 3, error);
}

/* The refined set, saved and told of. */
static TsPaintSet *
refine (const Options *options, const TsPaintSet *set, const GArray *swatches, JsonObject *answer,
        GString *text, GError **error)
{
  g_autoptr (TsPaintFit) fit = ts_paint_fit_new (
    set, (const TsSwatch *) (const void *) swatches->data, swatches->len, NULL, NULL, NULL, error);

  if (fit == NULL || !ts_paint_set_save (ts_paint_fit_get_set (fit), options->out, error))
    return NULL;
  json_object_set_string_member (answer, "file", options->out);
  answer_report (ts_paint_fit_get_report (fit), answer, text);
  answer_moves (fit, answer, text);
  answer_residuals (fit, swatches, answer, text);
  return ts_paint_set_ref (ts_paint_fit_get_set (fit));
}

gboolean
ts_cli_calibrate (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
                  GError **error)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "swatches", 0, 0, G_OPTION_ARG_FILENAME, &options.swatches,
      "Columns recipe[,coats][,over][,se] and L,a,b or R400..R700", "SWATCHES.csv" },
    { "out", 0, 0, G_OPTION_ARG_FILENAME, &options.out, "Where the refined set is saved",
      "NEW.csv" },
    { "next", 0, 0, G_OPTION_ARG_INT, &options.n_next,
      "Say which test mixes would teach most, painted next", "N" },
    { "plan", 0, 0, G_OPTION_ARG_FILENAME, &options.plan,
      "Teach most for the mixes of this plan (all pairs of the set)", "PLAN" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (TsPaintSet) refined = NULL;
  g_autoptr (GArray) swatches = NULL;

  if (!ts_cli_parse_options (entries, "SET.csv",
                             "Refines a paint set by test swatches, single paints or mixes.", &argc,
                             &argv, error) ||
      !check_options (&options, argv[1], error))
    return FALSE;
  set = ts_paint_set_load (argv[1], error);
  if (set == NULL)
    return FALSE;
  if (options.swatches != NULL)
    {
      swatches = ts_swatches_load (set, options.swatches, error);
      refined = swatches != NULL ? refine (&options, set, swatches, answer, text, error) : NULL;
      if (refined == NULL)
        return FALSE;
    }
  return answer_next (&options, refined != NULL ? refined : set, swatches, answer, text, error);
}
