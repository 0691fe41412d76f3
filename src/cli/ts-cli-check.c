/* ts-cli-check.c: a plan, its pictures and its stairs, and the finished figure against it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-json.h"
#include "cli/ts-cli.h"
#include "plan/ts-finish-words.h"
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
  if (result != NULL)
    ts_cli_answer_accents (surface, result, object, text);
  json_array_add_object_element (surfaces, object);
}

static JsonObject *
build_finished (const char *name, const TsFinished *finished)
{
  JsonObject *object = json_object_new ();
  JsonArray *steps = json_array_new ();

  json_object_set_string_member (object, "name", name);
  ts_json_set_number (object, "range_planned_L", finished->range_planned, 2);
  ts_json_set_number (object, "range_achieved_L", finished->range_achieved, 2);
  for (guint i = 0; i < finished->n_steps; i++)
    {
      const TsFinishedStep *step = &finished->step[i];
      JsonObject *entry = json_object_new ();

      ts_cli_set_lab (entry, "planned_lab_d50", step->planned);
      ts_cli_set_lab (entry, "achieved_lab_d50", step->achieved);
      ts_json_set_number (entry, "delta_L", step->delta_L, 2);
      ts_json_set_number (entry, "delta_e_2000", step->delta_e, 2);
      json_object_set_string_member (entry, "verdict", finish_words[step->verdict]);
      json_object_set_boolean_member (entry, "merged_with_next",
                                      i + 1 < finished->n_steps && finished->merged[i]);
      json_array_add_object_element (steps, entry);
    }
  json_object_set_array_member (object, "steps", steps);
  return object;
}

/* Where the plan has runs or an outline on this photograph, they lie there; else all that the
 * surface has lies where it does on the reference. */
static TsSurface *
lay_on_finished (const TsPlan *plan, guint index, const char *path, const TsImage *reference,
                 const TsImage *image, const TsCorrection *correction, GError **error)
{
  int placed_on = ts_finish_find_picture (plan, index);
  const TsSurface *surface = ts_plan_get_surface (plan, index);
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autoptr (TsSurface) placed = NULL;

  if (placed_on < 0 || !g_str_equal (ts_plan_get_picture (plan, (guint) placed_on)->path, absolute))
    return ts_finish_lay_surface (surface, reference, image, correction, error);
  placed = ts_finish_get_surface (plan, index);
  return ts_finish_lay_surface (placed, image, image, correction, error);
}

/* One finished photograph, opened. */
typedef struct
{
  const char *path;
  TsImage *image, *reference; /* owned; reference is nullable */
  TsCorrection *correction;   /* owned */
} Photo;

static void
photo_clear (Photo *self)
{
  g_clear_pointer (&self->image, ts_image_unref);
  g_clear_pointer (&self->reference, ts_image_unref);
  g_clear_pointer (&self->correction, ts_correction_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Photo, photo_clear)

/* Adds what became of the surface, or %NULL without a stair, to @all. */
static gboolean
check_surface (const TsPlan *plan, guint index, const TsSurfaceResult *planned, const Photo *photo,
               GPtrArray *all, JsonArray *surfaces, GError **error)
{
  g_autoptr (TsSurface) laid = NULL;
  g_autofree TsFinished *finished = NULL;

  /* One that is not measured has the stair of another, and nothing of its own to look at. */
  if (planned != NULL && ts_surface_is_measured (ts_plan_get_surface (plan, index)))
    {
      finished = g_new0 (TsFinished, 1);
      laid = lay_on_finished (plan, index, photo->path, photo->reference, photo->image,
                              photo->correction, error);
      if (laid == NULL ||
          !ts_finish_check_surface (plan, index, planned, laid, photo->correction, finished, error))
        return FALSE;
      json_array_add_object_element (
        surfaces, build_finished (ts_plan_get_surface (plan, index)->name, finished));
    }
  g_ptr_array_add (all, g_steal_pointer (&finished));
  return TRUE;
}

/* What was asked for, else what the plan has for this very photograph. */
static const TsCorrectionSettings *
choose_correction (const TsPlan *plan, const char *path, const TsCorrectionSettings *asked)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);

  for (guint i = 0; asked->kind == TS_CORRECTION_NONE && i < plan->pictures->len; i++)
    if (g_str_equal (ts_plan_get_picture (plan, i)->path, absolute))
      return &ts_plan_get_picture (plan, i)->correction;
  return asked;
}

static gboolean
check_finished (const TsPlan *plan, const GPtrArray *results, const char *path,
                const TsCorrectionSettings *settings, JsonArray *answers, GString *text,
                GError **error)
{
  int index = ts_plan_find_picture (plan, TS_ROLE_REFERENCE);
  g_auto (Photo) photo = { .path = path };
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *report = NULL;
  JsonObject *object;
  JsonArray *surfaces;

  photo.image = ts_image_open (path, NULL, NULL, NULL, error);
  if (photo.image == NULL)
    return FALSE;
  photo.correction =
    ts_pipeline_correct (choose_correction (plan, path, settings), photo.image, NULL, error);
  if (photo.correction == NULL)
    return FALSE;
  if (index >= 0)
    photo.reference =
      ts_image_open (ts_plan_get_picture (plan, (guint) index)->path, NULL, NULL, NULL, NULL);
  object = json_object_new ();
  surfaces = json_array_new ();
  json_object_set_string_member (object, "image", path);
  ts_cli_set_correction (object, photo.correction, NULL);
  json_object_set_array_member (object, "surfaces", surfaces);
  json_array_add_object_element (answers, object);
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (!check_surface (plan, i, g_ptr_array_index (results, i), &photo, all, surfaces, error))
      return FALSE;
  report = ts_finish_report (plan, results, all, ts_correction_get_kind (photo.correction));
  g_string_append_printf (text, "\n%s\n%s", path, report);
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
    TS_CLI_CORRECTION_ENTRIES (options.correction),
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GPtrArray) results = NULL;
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };
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
