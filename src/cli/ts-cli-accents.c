/* ts-cli-accents.c: accents of a surface, asked for and answered
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "cli/ts-cli.h"
#include "plan/ts-surface-accent.h"

#include <string.h>

/* "NAME,STEP,PARTS PAINT". */
static TsAccent *
parse_accent (const char *text, const TsPaintSet *paints, guint n_steps, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, ",", 3);
  char *end = NULL;
  guint64 step, parts;
  int paint;

  if (g_strv_length (words) != 3 || *words[0] == '\0')
    {
      ts_cli_usage (error, "--accent %s: NAME,STEP,PARTS PAINT is wanted", text);
      return NULL;
    }
  step = g_ascii_strtoull (words[1], &end, 10);
  if (end == words[1] || *end != '\0' || step < 1 || step > n_steps)
    {
      ts_cli_usage (error, "--accent %s: the step is 1 to %u", text, n_steps);
      return NULL;
    }
  parts = g_ascii_strtoull (words[2], &end, 10);
  if (end == words[2] || *end != ' ' || parts < 1 || parts > TS_ACCENT_MOST_PARTS)
    {
      ts_cli_usage (error, "--accent %s: the parts are 1 to %d, and a space follows", text,
                    TS_ACCENT_MOST_PARTS);
      return NULL;
    }
  paint = ts_paint_set_find (paints, g_strstrip (end));
  if (paint < 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                   "--accent %s: there is no such paint in the set.", text);
      return NULL;
    }
  return ts_accent_new (words[0], (guint) step - 1,
                        ts_paint_get_name (ts_paint_set_get_paint (paints, (guint) paint)),
                        (guint) parts);
}

/**
 * ts_cli_parse_accents:
 * @texts: (nullable): as they were written
 * @paints: the set
 * @surface: they are added to it
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with @error set where one cannot be
 */
gboolean
ts_cli_parse_accents (char **texts, const TsPaintSet *paints, TsSurface *surface, GError **error)
{
  if (texts != NULL && g_strv_length (texts) > TS_ACCENTS_MOST)
    return ts_cli_usage (error, "--accent may be given %d times", TS_ACCENTS_MOST);
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      TsAccent *accent = parse_accent (texts[i], paints, surface->stair.n_steps, error);

      if (accent == NULL)
        return FALSE;
      g_ptr_array_add (surface->accents, accent);
    }
  return TRUE;
}

/**
 * ts_cli_answer_accents:
 * @surface: a surface
 * @result: what follows from it
 * @object: gets "accents", where there are some
 * @text: gets a line for each
 */
void
ts_cli_answer_accents (const TsSurface *surface, const TsSurfaceResult *result, JsonObject *object,
                       GString *text)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < surface->accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (surface->accents, i);
      g_autofree char *words = ts_surface_result_describe_accent (result, accent);
      JsonObject *entry = json_object_new ();
      TsRecipe recipe;

      json_object_set_string_member (entry, "name", accent->name);
      json_object_set_int_member (entry, "step", accent->step + 1);
      json_object_set_string_member (entry, "paint", accent->paint);
      json_object_set_int_member (entry, "parts", accent->parts);
      if (ts_surface_result_mix_accent (result, accent, &recipe))
        json_object_set_object_member (
          entry, "recipe", ts_cli_build_recipe (ts_surface_result_get_paints (result), &recipe));
      json_array_add_object_element (array, entry);
      g_string_append_printf (text, "%s, step %u and %u %s: %s\n", accent->name, accent->step + 1,
                              accent->parts, accent->paint, words != NULL ? words : "no mix");
    }
  if (json_array_get_length (array) > 0)
    json_object_set_array_member (object, "accents", array);
  else
    json_array_unref (array);
}
