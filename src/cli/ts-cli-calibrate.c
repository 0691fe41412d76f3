/* ts-cli-calibrate.c: a paint set refined by the painter's own test swatches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-file.h"
#include "base/ts-json.h"
#include "cli/ts-cli.h"
#include "paint/ts-paint-fit.h"

typedef struct
{
  char *swatches, *out;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->swatches);
  g_free (self->out);
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

static gboolean
save_set (const TsPaintSet *set, const char *path, GError **error)
{
  g_autofree char *csv = ts_paint_set_to_csv (set);

  return ts_file_save (path, csv, strlen (csv), TS_FILE_SAVE_PLAIN, error);
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
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPaintSet) set = NULL;
  g_autoptr (GArray) swatches = NULL;
  g_autoptr (TsPaintFit) fit = NULL;

  if (!ts_cli_parse_options (entries, "SET.csv",
                             "Refines a paint set by test swatches, single paints or mixes.", &argc,
                             &argv, error))
    return FALSE;
  if (options.swatches == NULL || options.out == NULL)
    return ts_cli_usage (error, "give --swatches SWATCHES.csv and --out NEW.csv");
  if (!ts_cli_check_output ("--out", options.out, (const char *[]){ argv[1], options.swatches }, 2,
                            error))
    return FALSE;
  set = ts_paint_set_load (argv[1], error);
  swatches = set != NULL ? ts_swatches_load (set, options.swatches, error) : NULL;
  if (swatches == NULL)
    return FALSE;
  fit = ts_paint_fit_new (set, (const TsSwatch *) swatches->data, swatches->len, NULL, NULL, NULL,
                          error);
  if (fit == NULL || !save_set (ts_paint_fit_get_set (fit), options.out, error))
    return FALSE;
  json_object_set_string_member (answer, "file", options.out);
  answer_report (ts_paint_fit_get_report (fit), answer, text);
  answer_moves (fit, answer, text);
  answer_residuals (fit, swatches, answer, text);
  return TRUE;
}
