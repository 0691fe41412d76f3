/* ts-cli-measure.c: spots of a picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cli/ts-cli.h"

#include <math.h>

#include "base/ts-json.h"
#include "correction/ts-light-guess.h"

#define MOST_SPOTS 200 /* of one run; see ts_run_measure() */

typedef struct
{
  char **spots;
  char **runs;
  char **outlines;
  int n_spots;
  double radius;
  TsCliCorrection correction;
} Options;

static void
options_clear (Options *self)
{
  g_strfreev (self->spots);
  g_strfreev (self->runs);
  g_strfreev (self->outlines);
  ts_cli_correction_clear (&self->correction);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
measure_spot (const char *text, const TsImage *image, const TsCorrection *correction, GArray *spots,
              GError **error)
{
  double n[3];
  TsSpot spot;

  if (!ts_cli_parse_numbers ("--spot", text, n, 3, 3, NULL, error))
    return FALSE;
  if (!(n[2] > 0.0))
    return ts_cli_usage (error, "--spot %s: the radius is above 0", text);
  if (!ts_spot_measure (image, correction, n[0], n[1], n[2], &spot, error))
    return FALSE;
  g_array_append_val (spots, spot);
  return TRUE;
}

static gboolean
measure_run (const char *text, const Options *options, const TsImage *image,
             const TsCorrection *correction, GArray *spots, GError **error)
{
  g_autoptr (GArray) points = ts_cli_parse_points ("--run", text, error);
  g_autoptr (GArray) measured = NULL;
  const TsPoint *line;
  double length;

  if (points == NULL)
    return FALSE;
  line = (const TsPoint *) points->data;
  length = ts_run_get_length (line, points->len);
  measured = ts_run_measure (
    image, correction, line, points->len,
    options->n_spots > 0 ? (guint) options->n_spots : ts_run_suggest_spots (length),
    options->radius > 0.0 ? options->radius : ts_run_suggest_radius (length, 0.0), error);
  if (measured == NULL)
    return FALSE;
  g_array_append_vals (spots, measured->data, measured->len);
  return TRUE;
}

static gboolean
measure_all (const Options *options, const TsImage *image, const TsCorrection *correction,
             GArray *spots, guint *n_single, GError **error)
{
  for (guint i = 0; options->spots != NULL && options->spots[i] != NULL; i++)
    if (!measure_spot (options->spots[i], image, correction, spots, error))
      return FALSE;
  *n_single = spots->len;
  for (guint i = 0; options->runs != NULL && options->runs[i] != NULL; i++)
    if (!measure_run (options->runs[i], options, image, correction, spots, error))
      return FALSE;
  return TRUE;
}

static void
answer_image (const TsImage *image, JsonObject *answer, GString *text)
{
  JsonObject *object = json_object_new ();
  const char *note = ts_image_get_note (image);

  json_object_set_int_member (object, "width", ts_image_get_width (image));
  json_object_set_int_member (object, "height", ts_image_get_height (image));
  json_object_set_string_member (object, "profile",
                                 ts_profile_get_name (ts_image_get_profile (image)));
  if (note != NULL)
    {
      json_object_set_string_member (object, "note", note);
      g_string_append_printf (text, "%s\n", note);
    }
  json_object_set_object_member (answer, "image", object);
}

/* Nothing is said of a picture that shows too little to guess from. */
static void
answer_light (const TsImage *image, JsonObject *answer, GString *text)
{
  static const char *const casts[] = { "neutral", "warm", "greenish", "cool", "pinkish" };
  JsonObject *object;
  TsLightGuess guess;

  if (!ts_light_guess (image, &guess, NULL))
    return;
  object = json_object_new ();
  json_object_set_string_member (object, "looks", casts[guess.cast]);
  ts_json_set_number (object, "delta_e_2000", guess.strength, 0);
  json_object_set_object_member (answer, "light_guess", object);
  g_string_append_printf (text, "%s\n", ts_light_guess_words (&guess));
}

static void
answer_spots (const GArray *spots, guint n_single, const TsCorrection *correction,
              JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < spots->len; i++)
    {
      const TsSpot *spot = &g_array_index (spots, TsSpot, i);

      json_array_add_object_element (array, ts_cli_build_spot (spot, correction, i >= n_single));
      g_string_append_printf (text, "%8.1f %8.1f  ", spot->x, spot->y);
      ts_cli_append_lab (text, spot->lab);
      g_string_append_printf (text, "  within about dE %.0f  spread %.1f%s\n",
                              ceil (ts_spot_get_error (spot, correction)), spot->spread,
                              spot->clipped_share > 0.1 ? "  clipped" : "");
    }
  json_object_set_array_member (answer, "spots", array);
}

static gboolean
answer_outlines (const Options *options, const TsImage *image, const TsCorrection *correction,
                 JsonObject *answer, GString *text, GError **error)
{
  JsonArray *array;

  if (options->outlines == NULL)
    return TRUE;
  array = json_array_new ();
  json_object_set_array_member (answer, "outlines", array);
  for (guint i = 0; options->outlines[i] != NULL; i++)
    {
      TsOutline *read = ts_cli_read_outline (options->outlines[i], image, correction, error);
      g_autoptr (TsOutline) outline = read;
      const GArray *tones;

      if (outline == NULL)
        return FALSE;
      tones = outline->tones;
      json_array_add_object_element (array, ts_cli_build_outline (outline));
      g_string_append_printf (text, "outline of %u pixels, %.0f %% left out: L* %.0f to %.0f\n",
                              outline->pixels, 100.0 * outline->left_out,
                              g_array_index (tones, TsTone, 0).lab.L,
                              g_array_index (tones, TsTone, tones->len - 1).lab.L);
    }
  return TRUE;
}

static gboolean
check_options (const Options *options, GError **error)
{
  if (options->spots == NULL && options->runs == NULL && options->outlines == NULL)
    return ts_cli_usage (error, "give a --spot X,Y,R or a --run X,Y:X,Y or an --outline");
  if (options->n_spots != 0 &&
      !ts_cli_check_range ("--spots", options->n_spots, 2, MOST_SPOTS, error))
    return FALSE;
  if (!(options->radius >= 0.0 && options->radius <= 1000.0))
    return ts_cli_usage (error, "--radius is above 0 and at most 1000");
  return TRUE;
}

gboolean
ts_cli_measure (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
                GError **error)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "spot", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.spots, "A disc; may be repeated", "X,Y,R" },
    { "run", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.runs,
      "A line from lit to shadow; may be repeated", "X,Y:X,Y[:X,Y...]" },
    { "outline", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.outlines,
      "A loose outline of a whole surface; may be repeated", "X,Y:X,Y:X,Y[:X,Y...]" },
    { "spots", 0, 0, G_OPTION_ARG_INT, &options.n_spots, "Spots on each run", "N" },
    { "radius", 0, 0, G_OPTION_ARG_DOUBLE, &options.radius, "Radius of a run's spots", "R" },
    TS_CLI_CORRECTION_ENTRIES (options.correction),
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GArray) spots = g_array_new (FALSE, FALSE, sizeof (TsSpot));
  g_autoptr (TsImage) image = NULL;
  g_autoptr (TsCorrection) correction = NULL;
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };
  TsChartReading reading;
  guint n_single;

  if (!ts_cli_parse_options (entries, "IMAGE", "Measures discs of a picture, in linear light.",
                             &argc, &argv, error) ||
      !check_options (&options, error) ||
      !ts_cli_correction_parse (&options.correction, &settings, error))
    return FALSE;
  image = ts_image_open (argv[1], NULL, NULL, NULL, error);
  if (image == NULL)
    return FALSE;
  correction = ts_pipeline_correct (&settings, image, &reading, error);
  if (correction == NULL || !measure_all (&options, image, correction, spots, &n_single, error))
    return FALSE;
  answer_image (image, answer, text);
  answer_light (image, answer, text);
  ts_cli_set_correction (answer, correction, &reading);
  answer_spots (spots, n_single, correction, answer, text);
  return answer_outlines (&options, image, correction, answer, text, error);
}
