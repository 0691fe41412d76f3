/* ts-cli-paints.c: a paint set, read, checked and described
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <math.h>

#include "base/ts-json.h"
#include "card/ts-sheet-template.h"
#include "cli/ts-cli.h"

static JsonObject *
build_paint (const TsPaintSet *set, const TsPaint *paint)
{
  JsonObject *object = json_object_new ();
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  const TsSpectrum *K = ts_paint_get_K (paint), *S = ts_paint_get_S (paint);
  const char *caution = ts_paint_get_caution (paint);

  json_object_set_string_member (object, "paint", ts_paint_get_name (paint));
  json_object_set_string_member (object, "kind", ts_paint_kind_to_word (ts_paint_get_kind (paint)));
  json_object_set_string_member (object, "opacity",
                                 ts_opacity_to_word (ts_paint_get_opacity (paint)));
  json_object_set_string_member (object, "stock", ts_stock_to_word (ts_paint_get_stock (paint)));
  json_object_set_string_member (object, "measured_from",
                                 ts_paint_source_to_words (ts_paint_get_source (paint)));
  ts_cli_set_lab (object, "lab_d50", ts_paint_get_masstone (paint));
  ts_json_set_number (object, "contrast_ratio", ts_mix_get_contrast_ratio (K, S, surface, 1.0), 4);
  ts_json_set_number (object, "coats_to_hide", ts_mix_get_coats_to_hide (K, S, surface), 2);
  ts_json_set_number (object, "error_delta_e_2000", ts_paint_get_error (paint), 1);
  if (caution != NULL)
    json_object_set_string_member (object, "caution", caution);
  return object;
}

static void
print_paint (const TsPaint *paint, GString *text)
{
  g_string_append_printf (text, "%-24s %-9s ", ts_paint_get_name (paint),
                          ts_paint_kind_to_word (ts_paint_get_kind (paint)));
  ts_cli_append_lab (text, ts_paint_get_masstone (paint));
  g_string_append_printf (
    text, "  %s, within about dE %.0f%s\n", ts_paint_source_to_words (ts_paint_get_source (paint)),
    ts_paint_get_error (paint), ts_paint_get_stock (paint) == TS_STOCK_OUT ? "  out" : "");
  if (ts_paint_get_caution (paint) != NULL)
    g_string_append_printf (text, "    caution: %s\n", ts_paint_get_caution (paint));
}

static void
answer_set (const TsPaintSet *set, JsonObject *answer, GString *text)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  const char *const *notes = ts_paint_set_get_notes (set);
  JsonArray *paints = json_array_new (), *note_array = json_array_new ();

  ts_json_set_number (answer, "surface_k1", surface.k1, 6);
  ts_json_set_number (answer, "surface_k2", surface.k2, 6);
  for (guint i = 0; notes != NULL && notes[i] != NULL; i++)
    {
      json_array_add_string_element (note_array, notes[i]);
      g_string_append_printf (text, "%s\n", notes[i]);
    }
  json_object_set_array_member (answer, "notes", note_array);
  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);

      json_array_add_object_element (paints, build_paint (set, paint));
      print_paint (paint, text);
    }
  json_object_set_array_member (answer, "paints", paints);
}

typedef struct
{
  char **imports;
  char *out, *template;
} Options;

static void
options_clear (Options *self)
{
  g_strfreev (self->imports);
  g_free (self->out);
  g_free (self->template);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* The set with the paints of the other files at its end. */
static TsPaintSet *
load_all (const char *path, char **imports, GError **error)
{
  g_autoptr (TsPaintSet) set = ts_paint_set_load (path, error);

  for (guint i = 0; set != NULL && imports != NULL && imports[i] != NULL; i++)
    {
      TsPaintSet *more = ts_paint_set_with_file (set, imports[i], error);

      ts_paint_set_unref (set);
      set = more;
    }
  return g_steal_pointer (&set);
}

static gboolean
save_template (const TsPaintSet *set, const char *path, GError **error)
{
  g_auto (GStrv) names = ts_sheet_template_dup_names (set);
  g_autoptr (TsSheetTemplate) sheet =
    ts_sheet_template_new ((const char *const *) names, NULL, TS_PAPER_A4);

  return ts_sheet_template_save (sheet, path, error);
}

gboolean
ts_cli_paints (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
               GError **error)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "import", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.imports,
      "More paints, CSV or CGATS text (ISO 28178); may be repeated", "FILE" },
    { "out", 0, 0, G_OPTION_ARG_FILENAME, &options.out,
      "Save the set: CSV, or CGATS text where the name ends in .txt or .cgats", "FILE" },
    { "template", 0, 0, G_OPTION_ARG_FILENAME, &options.template,
      "A sheet to print and paint the set's swatches on: .pdf, .svg or .png", "FILE" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPaintSet) set = NULL;

  if (!ts_cli_parse_options (entries, "SET.csv", "Reads, checks and describes a paint set.", &argc,
                             &argv, error))
    return FALSE;
  if (!ts_cli_check_output ("--template", options.template,
                            (const char *[]){ argv[1], options.out }, 2, error))
    return FALSE;
  set = load_all (argv[1], options.imports, error);
  if (set == NULL)
    return FALSE;
  answer_set (set, answer, text);
  return (options.out == NULL || ts_paint_set_save (set, options.out, error)) &&
         (options.template == NULL || save_template (set, options.template, error));
}
