/* ts-cli-check.c: a plan, its pictures and its stairs, and the finished figure against it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-json.h"
#include "checks/ts-check-finished.h"
#include "cli/ts-cli.h"
#include "plan/ts-plan-file.h"

static const char *const finish_words[] = { "as_planned", "too_dark", "too_light" };

typedef struct
{
  char **finished;
  TsCliCorrection correction;
} Options;

static void
options_clear (Options *self)
{
  g_strfreev (self->finished);
  ts_cli_correction_clear (&self->correction);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* "unchanged", "changed", or why it cannot be read. */
static void
answer_picture (const TsPicture *picture, JsonArray *pictures, GString *text)
{
  g_autoptr (GError) fault = NULL;
  g_autoptr (TsImage) image = ts_image_open (picture->path, NULL, NULL, NULL, &fault);
  g_autofree char *name = g_filename_display_basename (picture->path);
  JsonObject *object = json_object_new ();
  const char *state;

  if (image == NULL)
    state = g_file_test (picture->path, G_FILE_TEST_EXISTS) ? "unreadable" : "missing";
  else if (picture->sha256 != NULL && g_strcmp0 (picture->sha256, ts_image_get_sha256 (image)) != 0)
    state = "changed";
  else
    state = "unchanged";
  json_object_set_string_member (object, "name", name);
  json_object_set_string_member (object, "state", state);
  if (fault != NULL)
    json_object_set_string_member (object, "problem", fault->message);
  json_array_add_object_element (pictures, object);
  g_string_append_printf (text, "%s: %s%s\n", name, state,
                          image == NULL ? "; the measured spots are kept" : "");
}

static void
answer_surface (const TsSurface *surface, const TsSurfaceResult *result, JsonArray *surfaces,
                GString *text)
{
  JsonObject *object = json_object_new ();

  json_object_set_string_member (object, "name", surface->name);
  if (result != NULL)
    {
      ts_cli_set_steps (object, ts_surface_result_get_stair (result));
      ts_cli_set_checks (object, result);
    }
  for (guint i = 0; result != NULL && i + 1 < ts_surface_result_get_n_steps (result); i++)
    {
      TsContrast contrast = ts_surface_result_get_contrast (result, i);

      g_string_append_printf (text, "%s, %u to %u: %.0f L* apart, %s\n", surface->name, i + 1,
                              i + 2, contrast.delta_L, ts_verdict_to_id (contrast.verdict));
    }
  json_array_add_object_element (surfaces, object);
}

static JsonObject *
build_finished (const char *name, const TsFinished *finished, guint n_steps, GString *text)
{
  JsonObject *object = json_object_new ();
  JsonArray *steps = json_array_new ();

  json_object_set_string_member (object, "name", name);
  ts_json_set_number (object, "range_planned_L", finished->range_planned, 2);
  ts_json_set_number (object, "range_achieved_L", finished->range_achieved, 2);
  for (guint i = 0; i < n_steps; i++)
    {
      const TsFinishedStep *step = &finished->step[i];
      JsonObject *entry = json_object_new ();

      ts_cli_set_lab (entry, "planned_lab_d50", step->planned);
      ts_cli_set_lab (entry, "achieved_lab_d50", step->achieved);
      ts_json_set_number (entry, "delta_L", step->delta_L, 2);
      ts_json_set_number (entry, "delta_e_2000", step->delta_e, 2);
      json_object_set_string_member (entry, "verdict", finish_words[step->verdict]);
      json_object_set_boolean_member (entry, "merged_with_next",
                                      i + 1 < n_steps && finished->merged[i]);
      json_array_add_object_element (steps, entry);
      g_string_append_printf (text, "%s, step %u: %s by %.0f L*\n", name, i + 1,
                              finish_words[step->verdict], ABS (step->delta_L));
    }
  json_object_set_array_member (object, "steps", steps);
  return object;
}

/* The surface's runs laid on the finished photograph: as the plan has them for it, else where they
 * lie on the reference, scaled with the pictures. */
static TsSurface *
lay_on_finished (const TsSurface *surface, const TsImage *reference, const TsImage *finished,
                 const TsCorrection *correction, GError **error)
{
  g_autoptr (TsSurface) laid = ts_surface_copy (surface);
  double sx = (double) ts_image_get_width (finished) / ts_image_get_width (reference);
  double sy = (double) ts_image_get_height (finished) / ts_image_get_height (reference);

  for (guint i = 0; i < laid->runs->len; i++)
    {
      TsRun *run = ts_surface_get_run (laid, i);

      for (guint j = 0; j < run->points->len; j++)
        {
          TsPoint *point = &g_array_index (run->points, TsPoint, j);

          *point = (TsPoint){ point->x * sx, point->y * sy };
        }
      if (!ts_pipeline_lay_run (run, finished, correction, error))
        return NULL;
    }
  return g_steal_pointer (&laid);
}

static gboolean
check_surface (const TsPlan *plan, guint index, const GPtrArray *results, TsImage *reference,
               TsImage *image, const TsCorrection *correction, JsonArray *surfaces, GString *text,
               GError **error)
{
  const TsSurfaceResult *planned = g_ptr_array_index (results, index);
  g_autoptr (TsPlan) copy = NULL;
  g_autoptr (TsSurfaceResult) achieved = NULL;
  TsSurface *laid;
  TsFinished finished;
  TsLab grey = { 50.0, 0.0, 0.0 };

  if (planned == NULL)
    return TRUE;
  laid = lay_on_finished (ts_plan_get_surface (plan, index), reference, image, correction, error);
  if (laid == NULL)
    return FALSE;
  copy = ts_plan_copy (plan);
  ts_surface_free (g_ptr_array_index (copy->surfaces, index));
  g_ptr_array_index (copy->surfaces, index) = laid;
  achieved = ts_surface_result_new (copy, index, NULL, error);
  if (achieved == NULL)
    return FALSE;
  ts_finished_check (ts_surface_result_get_stair (planned), ts_surface_result_get_curve (achieved),
                     ts_correction_get_lightness_error (correction, grey), &plan->contrast,
                     &finished);
  json_array_add_object_element (
    surfaces,
    build_finished (laid->name, &finished, ts_surface_result_get_n_steps (planned), text));
  return TRUE;
}

static gboolean
check_finished (const TsPlan *plan, const GPtrArray *results, const char *path,
                const TsCorrectionSettings *settings, JsonArray *answers, GString *text,
                GError **error)
{
  int index = ts_plan_find_picture (plan, TS_ROLE_REFERENCE);
  g_autoptr (TsImage) image = ts_image_open (path, NULL, NULL, NULL, error);
  g_autoptr (TsImage) reference = NULL;
  g_autoptr (TsCorrection) correction = NULL;
  JsonObject *object;
  JsonArray *surfaces;

  if (image == NULL)
    return FALSE;
  correction = ts_pipeline_correct (settings, image, NULL, error);
  if (correction == NULL)
    return FALSE;
  reference = index >= 0 ? ts_image_open (ts_plan_get_picture (plan, (guint) index)->path, NULL,
                                          NULL, NULL, NULL)
                         : NULL;
  object = json_object_new ();
  surfaces = json_array_new ();
  json_object_set_string_member (object, "image", path);
  ts_cli_set_correction (object, correction, NULL);
  json_object_set_array_member (object, "surfaces", surfaces);
  json_array_add_object_element (answers, object);
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (!check_surface (plan, i, results, reference != NULL ? reference : image, image, correction,
                        surfaces, text, error))
      return FALSE;
  return TRUE;
}

static void
answer_plan (const TsPlan *plan, const GPtrArray *results, JsonObject *answer, GString *text)
{
  JsonArray *pictures = json_array_new (), *surfaces = json_array_new ();

  for (guint i = 0; i < plan->pictures->len; i++)
    answer_picture (ts_plan_get_picture (plan, i), pictures, text);
  for (guint i = 0; i < plan->surfaces->len; i++)
    answer_surface (ts_plan_get_surface (plan, i), g_ptr_array_index (results, i), surfaces, text);
  json_object_set_array_member (answer, "pictures", pictures);
  json_object_set_array_member (answer, "surfaces", surfaces);
}

gboolean
ts_cli_check (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
              GError **error)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "finished", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.finished,
      "A photograph of the finished figure, framed as the reference; may be repeated", "IMAGE" },
    { "grey", 0, 0, G_OPTION_ARG_STRING, &options.correction.grey,
      "Correct the finished photographs by a grey card", "X,Y,R[,L]" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GPtrArray) results = NULL;
  TsCorrectionSettings settings;
  JsonArray *finished;

  if (!ts_cli_parse_options (entries, "PLAN", "Checks a plan's stairs and pictures.", &argc, &argv,
                             error) ||
      !ts_cli_correction_parse (&options.correction, &settings, error))
    return FALSE;
  plan = ts_plan_load (argv[1], error);
  results = plan != NULL ? ts_pipeline_run (plan, NULL, NULL, NULL, error) : NULL;
  if (results == NULL)
    return FALSE;
  answer_plan (plan, results, answer, text);
  finished = json_array_new ();
  json_object_set_array_member (answer, "finished", finished);
  for (guint i = 0; options.finished != NULL && options.finished[i] != NULL; i++)
    if (!check_finished (plan, results, options.finished[i], &settings, finished, text, error))
      return FALSE;
  return TRUE;
}
