/* ts-cli-stair.c: the whole job on one surface
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "card/ts-card.h"
#include "cli/ts-cli.h"
#include "plan/ts-plan-file.h"

#define MOST_SPOTS 200 /* of one run; see ts_run_measure() */

typedef struct
{
  char **runs, **accents;
  char *paints, *range, *name, *card, *plan, *outline, *spacing;
  char *together, *medium;
  int n_steps, n_spots, max_paints, max_parts, most_paints;
  double radius, distance, band, area, coats, thin;
  gboolean polished, sequence, bottles, advise;
  TsCliLimits limits;
  TsCliCorrection correction;
} Options;

static void
options_clear (Options *self)
{
  g_strfreev (self->runs);
  g_strfreev (self->accents);
  g_free (self->paints);
  g_free (self->range);
  g_free (self->name);
  g_free (self->card);
  g_free (self->plan);
  g_free (self->together);
  g_free (self->medium);
  ts_cli_limits_clear (&self->limits);
  g_free (self->outline);
  g_free (self->spacing);
  ts_cli_correction_clear (&self->correction);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
check_mixing (const Options *options, GError **error)
{
  TsTogether together;

  if (options->together != NULL && !ts_together_from_id (options->together, &together))
    return ts_cli_usage (error, "--together is apart, truest, between or fewest");
  if (options->most_paints < 0)
    return ts_cli_usage (error, "--most-paints is above 0");
  if (!(options->area >= 0.0 && options->area <= 1e7))
    return ts_cli_usage (error, "--area-mm2 is above 0 and at most 10000000");
  if (!(options->coats >= 0.0 && options->coats <= 100.0))
    return ts_cli_usage (error, "--coats is above 0 and at most 100");
  if (!(options->thin >= 0.0 && options->thin <= 100.0))
    return ts_cli_usage (error, "--thin is 0 to 100");
  return TRUE;
}

static gboolean
check_options (const Options *options, GError **error)
{
  if (options->runs == NULL && options->outline == NULL)
    return ts_cli_usage (error, "give a line from lit to shadow, --run X,Y:X,Y, or an --outline");
  if (options->paints == NULL)
    return ts_cli_usage (error, "give a set of paints: --paints SET.csv");
  if (!check_mixing (options, error))
    return FALSE;
  if (options->n_spots != 0 &&
      !ts_cli_check_range ("--spots", options->n_spots, 2, MOST_SPOTS, error))
    return FALSE;
  if (!(options->radius >= 0.0 && options->radius <= 1000.0))
    return ts_cli_usage (error, "--radius is above 0 and at most 1000");
  if (!(options->distance >= 1.0 && options->distance <= 100000.0))
    return ts_cli_usage (error, "--distance-mm is 1 to 100000");
  if (!(options->band >= 0.01 && options->band <= 1000.0))
    return ts_cli_usage (error, "--band-mm is 0.01 to 1000");
  return ts_cli_check_range ("--steps", options->n_steps, 2, TS_STAIR_MAX_STEPS, error) &&
         ts_cli_check_range ("--max-paints", options->max_paints, 1, TS_SEARCH_MAX_PAINTS, error) &&
         ts_cli_check_range ("--max-parts", options->max_parts, 2, TS_SEARCH_MAX_PARTS, error);
}

static gboolean
check_outputs (const Options *options, const char *image, GError **error)
{
  const char *const inputs[] = { image, options->paints, options->correction.reference,
                                 options->correction.from, options->card };

  return ts_cli_check_output ("--card", options->card, inputs, 4, error) &&
         ts_cli_check_output ("--plan", options->plan, inputs, 5, error);
}

static gboolean
set_range (const Options *options, TsStairSettings *stair, GError **error)
{
  double range[2];

  if (options->range == NULL)
    return TRUE;
  if (!ts_cli_parse_numbers ("--range", options->range, range, 2, 2, NULL, error))
    return FALSE;
  if (!(range[0] >= 0.0 && range[1] >= 0.0 && range[0] <= 100.0 && range[1] <= 100.0) ||
      !(ABS (range[0] - range[1]) > 0.0))
    return ts_cli_usage (error, "--range %s: two unlike L* of 0 to 100", options->range);
  stair->has_range = TRUE;
  stair->range_light = MAX (range[0], range[1]);
  stair->range_dark = MIN (range[0], range[1]);
  return TRUE;
}

static gboolean
add_runs (const Options *options, TsSurface *surface, const TsImage *image,
          const TsCorrection *correction, GError **error)
{
  for (guint i = 0; options->runs != NULL && options->runs[i] != NULL; i++)
    {
      g_autoptr (GArray) points = ts_cli_parse_points ("--run", options->runs[i], error);
      double length;
      TsRun *run;

      if (points == NULL)
        return FALSE;
      length = ts_run_get_length ((const TsPoint *) points->data, points->len);
      run =
        ts_run_new (0, (const TsPoint *) points->data, points->len,
                    options->radius > 0.0 ? options->radius : ts_run_suggest_radius (length, 0.0));
      g_array_set_size (run->spots, (guint) options->n_spots);
      g_ptr_array_add (surface->runs, run);
      if (!ts_pipeline_lay_run (run, image, correction, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
set_spacing (const Options *options, TsStairSettings *stair, GError **error)
{
  static const char *const words[] = { "lightness", "difference", "area" };

  for (guint i = 0; options->spacing != NULL && i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (options->spacing, words[i]))
      {
        stair->spacing = (TsSpacing) i;
        return TRUE;
      }
  return options->spacing == NULL ||
         ts_cli_usage (error, "--spacing %s: lightness, difference or area is wanted",
                       options->spacing);
}

static gboolean
set_mixing (const Options *options, TsPlan *plan, TsSurface *surface, GError **error)
{
  if (options->medium != NULL && ts_paint_set_find (plan->paints, options->medium) < 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                   "--medium %s: there is no such paint in the set.", options->medium);
      return FALSE;
    }
  plan->medium = g_strdup (options->medium);
  plan->mix.thinning = options->thin;
  plan->mix.most_paints = (guint) options->most_paints;
  plan->mix.opaque_only = options->limits.opaque_only;
  surface->area = options->area;
  surface->coats = options->coats;
  if (options->together != NULL)
    ts_together_from_id (options->together, &surface->together);
  return ts_cli_limits_get_rules (&options->limits, plan->paints, &plan->rules, error);
}

static TsPlan *
make_plan (const Options *options, const char *path, const TsImage *image,
           const TsCorrectionSettings *settings, const TsCorrection *correction, GError **error)
{
  g_autoptr (TsPlan) plan = ts_plan_new ();
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  TsPicture *picture = ts_picture_new (absolute, TS_ROLE_REFERENCE);
  TsSurface *surface = ts_surface_new (options->name != NULL ? options->name : "Surface 1");

  g_ptr_array_add (plan->pictures, picture);
  g_ptr_array_add (plan->surfaces, surface);
  picture->sha256 = g_strdup (ts_image_get_sha256 (image));
  picture->size = ts_image_get_file_size (image);
  ts_correction_settings_copy (&picture->correction, settings);
  plan->paints = ts_paint_set_load (options->paints, error);
  if (plan->paints == NULL)
    return NULL;
  plan->paints_name = g_filename_display_basename (options->paints);
  g_free (plan->title);
  plan->title = g_filename_display_basename (path);
  plan->mix.max_paints = (guint) options->max_paints;
  plan->mix.max_parts = (guint) options->max_parts;
  if (!set_mixing (options, plan, surface, error))
    return NULL;
  plan->contrast.distance = options->distance;
  plan->contrast.band = options->band;
  surface->polished = options->polished;
  surface->stair.n_steps = (guint) options->n_steps;
  if (!ts_cli_parse_accents (options->accents, plan->paints, surface, error))
    return NULL;
  if (options->outline != NULL)
    {
      surface->outline = ts_cli_read_outline (options->outline, image, correction, error);
      if (surface->outline == NULL)
        return NULL;
    }
  if (!set_range (options, &surface->stair, error) ||
      !set_spacing (options, &surface->stair, error) ||
      !add_runs (options, surface, image, correction, error))
    return NULL;
  return g_steal_pointer (&plan);
}

static void
answer_spots (const TsSurface *surface, const TsCorrection *correction, JsonObject *answer)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < surface->runs->len; i++)
    {
      const GArray *spots = ts_surface_get_run (surface, i)->spots;

      for (guint j = 0; j < spots->len; j++)
        json_array_add_object_element (
          array, ts_cli_build_spot (&g_array_index (spots, TsSpot, j), correction, TRUE));
    }
  json_object_set_array_member (answer, "spots", array);
}

static void
answer_targets (const TsPlan *plan, const TsSurfaceResult *result, JsonObject *answer)
{
  const TsStair *stair = ts_surface_result_get_stair (result);
  JsonArray *targets = json_array_new ();

  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    {
      const GArray *choices = ts_surface_result_get_choices (result, i);
      JsonObject *target =
        ts_cli_build_target (plan->paints, ts_stair_get_step (stair, i)->wanted,
                             (const TsRecipe *) choices->data, choices->len, plan->mix.reach);

      if (ts_surface_result_get_joint (result) != NULL)
        json_object_set_object_member (
          target, "chosen",
          ts_cli_build_recipe (plan->paints, ts_surface_result_get_recipe (result, i)));
      json_array_add_object_element (targets, target);
    }
  json_object_set_array_member (answer, "targets", targets);
}

/* How much of the surface each step covers. */
static void
answer_outline (const TsPlan *plan, const TsSurfaceResult *result, JsonObject *answer)
{
  const TsOutline *outline = ts_plan_get_surface (plan, 0)->outline;
  JsonArray *areas;

  if (outline == NULL)
    return;
  areas = json_array_new ();
  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    json_array_add_double_element (areas, ts_surface_result_get_area (result, i));
  json_object_set_array_member (answer, "area_shares", areas);
  json_object_set_object_member (answer, "outline", ts_cli_build_outline (outline));
}

static void
print_stair (const TsPlan *plan, const TsSurfaceResult *result, GString *text)
{
  guint n = ts_surface_result_get_n_steps (result);

  for (guint i = 0; i < n; i++)
    {
      const TsRecipe *recipe = ts_surface_result_get_recipe (result, i);
      g_autofree char *words =
        recipe != NULL ? ts_recipe_to_text (plan->paints, recipe) : g_strdup ("no mix");

      g_string_append_printf (text, "%2u  ", i + 1);
      ts_cli_append_lab (text, ts_stair_get_step (ts_surface_result_get_stair (result), i)->wanted);
      g_string_append_printf (text, "  %s", words);
      if (recipe != NULL)
        g_string_append_printf (text, ", dE %.1f", recipe->delta_e);
      if (ts_surface_result_get_area (result, i) >= 0.0)
        g_string_append_printf (text, ", %.0f %% of the surface",
                                100.0 * ts_surface_result_get_area (result, i));
      g_string_append_c (text, '\n');
      if (i + 1 < n)
        {
          TsContrast contrast = ts_surface_result_get_contrast (result, i);

          g_string_append_printf (text, "      %.0f L* apart: %s\n", contrast.delta_L,
                                  ts_verdict_to_id (contrast.verdict));
        }
    }
}

static void
answer_joint (const TsPlan *plan, const TsSurfaceResult *result, JsonObject *answer, GString *text)
{
  const TsJointPlan *joint = ts_surface_result_get_joint (result);
  const char *problem = ts_surface_result_get_joint_problem (result);

  if (problem != NULL)
    {
      json_object_set_string_member (answer, "together_problem", problem);
      g_string_append_printf (text, "%s.\n", problem);
    }
  if (joint == NULL)
    return;
  json_object_set_object_member (answer, "together", ts_cli_build_joint (plan->paints, joint));
  g_string_append_printf (text, "Together: %u paints, %u changes between neighbours%s.\n",
                          joint->n_paints, joint->n_changes,
                          ts_joint_plan_is_proven (joint) ? "" : " (a better choice may exist)");
}

static gboolean
answer_bottles (const TsPlan *plan, const TsSurfaceResult *result, JsonObject *answer,
                GString *text, GError **error)
{
  g_autoptr (GPtrArray) offers = ts_surface_result_offer_paints (result, plan, 0, NULL, error);
  JsonArray *array = json_array_new ();

  json_object_set_array_member (answer, "bottles", array);
  if (offers == NULL)
    return FALSE;
  for (guint i = 0; i < offers->len; i++)
    {
      const TsJointPlan *offer = g_ptr_array_index (offers, i);

      json_array_add_object_element (array, ts_cli_build_joint (plan->paints, offer));
      g_string_append_printf (text, "With %u paints: within about dE %.1f a step.\n",
                              offer->n_paints, offer->delta_e / offer->recipes->len);
    }
  return TRUE;
}

static gboolean
answer_mixing (const Options *options, const TsPlan *plan, const GPtrArray *results,
               JsonObject *answer, GString *text, GError **error)
{
  const TsSurfaceResult *result = g_ptr_array_index (results, 0);
  guint n_out;

  answer_joint (plan, result, answer, text);
  if (options->bottles && !answer_bottles (plan, result, answer, text, error))
    return FALSE;
  if (options->sequence)
    {
      g_autoptr (TsMixingSequence) sequence = ts_surface_result_sequence (result, plan, 0);

      if (sequence != NULL)
        ts_cli_answer_sequence (plan->paints, sequence, plan->medium, answer, text);
    }
  if (options->advise)
    {
      g_autoptr (GArray) advice = ts_pipeline_advise (plan, results, 0, &n_out, NULL, error);

      if (advice == NULL)
        return FALSE;
      ts_cli_answer_advice (advice, n_out, answer, text);
    }
  return TRUE;
}

static gboolean
save_outputs (const Options *options, const TsPlan *plan, const GPtrArray *results,
              const TsImage *image, GError **error)
{
  if (options->card != NULL)
    {
      g_autoptr (TsCard) card =
        ts_card_new (plan, results, image, NULL, TS_PAPER_A4, TS_LENGTH_CENTIMETRES);

      if (!ts_card_save (card, options->card, error))
        return FALSE;
    }
  return options->plan == NULL || ts_plan_save (plan, options->plan, error);
}

static gboolean
run_job (const Options *options, const char *path, const TsCorrectionSettings *settings,
         JsonObject *answer, GString *text, GError **error)
{
  g_autoptr (TsImage) image = ts_image_open (path, NULL, NULL, NULL, error);
  g_autoptr (TsCorrection) correction = NULL;
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GPtrArray) results = NULL;
  const TsSurfaceResult *result;
  TsChartReading reading;

  if (image == NULL)
    return FALSE;
  correction = ts_pipeline_correct (settings, image, &reading, error);
  if (correction == NULL)
    return FALSE;
  plan = make_plan (options, path, image, settings, correction, error);
  results = plan != NULL ? ts_pipeline_run (plan, NULL, NULL, NULL, error) : NULL;
  if (results == NULL)
    return FALSE;
  result = g_ptr_array_index (results, 0);
  ts_cli_set_correction (answer, correction, &reading);
  answer_spots (ts_plan_get_surface (plan, 0), correction, answer);
  ts_cli_set_curve (answer, ts_surface_result_get_curve (result));
  ts_cli_set_steps (answer, ts_surface_result_get_stair (result));
  answer_outline (plan, result, answer);
  answer_targets (plan, result, answer);
  ts_cli_set_checks (answer, result);
  print_stair (plan, result, text);
  ts_cli_answer_accents (ts_plan_get_surface (plan, 0), result, answer, text);
  if (!answer_mixing (options, plan, results, answer, text, error))
    return FALSE;
  return save_outputs (options, plan, results, image, error);
}

gboolean
ts_cli_stair (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
              GError **error)
{
  TsContrastSettings usual;
  g_auto (Options) options = { .n_steps = 7, .max_paints = 3, .max_parts = 8 };
  const GOptionEntry entries[] = {
    { "run", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.runs,
      "A line from lit to shadow; more of them are one surface", "X,Y:X,Y[:X,Y...]" },
    { "steps", 0, 0, G_OPTION_ARG_INT, &options.n_steps, "Steps of the stair (7)", "N" },
    { "paints", 0, 0, G_OPTION_ARG_FILENAME, &options.paints, "The paint set", "SET.csv" },
    { "range", 0, 0, G_OPTION_ARG_STRING, &options.range, "Wanted L* of the ends", "L,L" },
    { "max-paints", 0, 0, G_OPTION_ARG_INT, &options.max_paints, "Paints in a mix (3)", "M" },
    { "max-parts", 0, 0, G_OPTION_ARG_INT, &options.max_parts, "Parts in all (8)", "T" },
    TS_CLI_LIMITS_ENTRIES (options.limits),
    { "together", 0, 0, G_OPTION_ARG_STRING, &options.together,
      "How the mixes are chosen: each apart, or together the truest, the fewest paints, or between "
      "(apart)",
      "apart|truest|between|fewest" },
    { "most-paints", 0, 0, G_OPTION_ARG_INT, &options.most_paints,
      "Unlike paints in the whole stair at most", "N" },
    { "bottles", 0, 0, G_OPTION_ARG_NONE, &options.bottles,
      "What fewer and fewer paints would lead to", NULL },
    { "sequence", 0, 0, G_OPTION_ARG_NONE, &options.sequence, "The order of work at the palette",
      NULL },
    { "area-mm2", 0, 0, G_OPTION_ARG_DOUBLE, &options.area, "Area of the surface (400)", "A" },
    { "coats", 0, 0, G_OPTION_ARG_DOUBLE, &options.coats, "Coats of each step (2)", "N" },
    { "medium", 0, 0, G_OPTION_ARG_STRING, &options.medium, "What paint is thinned with", "NAME" },
    { "thin", 0, 0, G_OPTION_ARG_DOUBLE, &options.thin, "Parts of it to one of paint", "P" },
    { "advise", 0, 0, G_OPTION_ARG_NONE, &options.advise,
      "Which kind of paint would help where steps are out of reach", NULL },
    { "accent", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.accents,
      "A step and something more, by name; may be repeated", "NAME,STEP,PARTS PAINT" },
    { "distance-mm", 0, 0, G_OPTION_ARG_DOUBLE, &options.distance,
      "From the eye to the figure (600)", "D" },
    { "band-mm", 0, 0, G_OPTION_ARG_DOUBLE, &options.band, "Width of a step on the figure (2)",
      "W" },
    { "spots", 0, 0, G_OPTION_ARG_INT, &options.n_spots, "Spots on each run", "N" },
    { "outline", 0, 0, G_OPTION_ARG_STRING, &options.outline,
      "A loose outline of the whole surface: how much of it each step covers, and the curve where "
      "there is no run",
      "X,Y:X,Y:X,Y[:X,Y...]" },
    { "spacing", 0, 0, G_OPTION_ARG_STRING, &options.spacing,
      "Steps of equal lightness, difference or area", "WORD" },
    { "radius", 0, 0, G_OPTION_ARG_DOUBLE, &options.radius, "Radius of the spots", "R" },
    { "polished", 0, 0, G_OPTION_ARG_NONE, &options.polished, "Light-dark-light", NULL },
    { "name", 0, 0, G_OPTION_ARG_STRING, &options.name, "What the surface is called", "NAME" },
    TS_CLI_CORRECTION_ENTRIES (options.correction),
    { "card", 0, 0, G_OPTION_ARG_FILENAME, &options.card, "Save the mixing card", "OUT.pdf" },
    { "plan", 0, 0, G_OPTION_ARG_FILENAME, &options.plan, "Save the plan", "OUT.tonestair" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };

  ts_contrast_settings_init (&usual);
  options.distance = usual.distance;
  options.band = usual.band;
  if (!ts_cli_parse_options (entries, "IMAGE",
                             "Spots, curve, steps, mixes and checks of one surface.", &argc, &argv,
                             error) ||
      !check_options (&options, error) || !check_outputs (&options, argv[1], error) ||
      !ts_cli_correction_parse (&options.correction, &settings, error))
    return FALSE;
  return run_job (&options, argv[1], &settings, answer, text, error);
}
