/* ts-plan-read-surface.c: a surface from JSON: its runs, its outline and its stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-file-private.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "base/ts-json.h"

/* Against absurd files; no painter comes near. */
#define MAX_RUNS 1000
#define MAX_DONE 1000

static gboolean
read_runs (const TsPlan *plan, JsonObject *object, const char *where, GPtrArray *runs,
           GError **error)
{
  JsonArray *array;

  if (!ts_json_get_array_or (object, "runs", where, &array, error))
    return FALSE;
  if (array != NULL && json_array_get_length (array) > MAX_RUNS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s.runs holds more than %d entries"),
                   where, MAX_RUNS);
      return FALSE;
    }
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      g_autofree char *place = g_strdup_printf ("%s.runs[%u]", where, i);
      TsRun *run;

      if (!JSON_NODE_HOLDS_OBJECT (node))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an object"), place);
          return FALSE;
        }
      run = ts_plan_read_run (plan, json_node_get_object (node), place, error);
      if (run == NULL)
        return FALSE;
      g_ptr_array_add (runs, run);
    }
  return TRUE;
}

static gboolean
read_end_colour (JsonObject *object, const char *where, const char *end, gboolean *has, TsLab *lab,
                 double *amount, GError **error)
{
  g_autofree char *colour = g_strconcat (end, "_lab", NULL);
  g_autofree char *share = g_strconcat (end, "_amount", NULL);

  *has = json_object_has_member (object, colour);
  return !*has || (ts_plan_read_lab (object, colour, where, lab, error) &&
                   ts_json_get_number_or (object, share, where, 0.0, 1.0, 0.3, amount, error));
}

gboolean
ts_plan_read_stair (JsonObject *object, const char *where, TsStairSettings *stair, GError **error)
{
  double range[2];
  int spacing;

  if (!ts_plan_read_whole_or (object, "steps", where, 2.0, TS_STAIR_MAX_STEPS, stair->n_steps,
                              &stair->n_steps, error) ||
      !ts_plan_read_whole_or (object, "base_step", where, 0.0, stair->n_steps, 0, &stair->base,
                              error) ||
      !ts_plan_read_word (object, "spacing", where, ts_plan_spacing_words, &spacing, error))
    return FALSE;
  stair->spacing = (TsSpacing) spacing;
  if (stair->spacing == TS_SPACING_BY_HAND &&
      (!ts_json_get_numbers (object, "positions", where, 0.0, 1.0, stair->position, stair->n_steps,
                             error) ||
       !ts_json_get_numbers (object, "lightness_shifts", where, -100.0, 100.0, stair->shift,
                             stair->n_steps, error)))
    return FALSE;
  stair->has_range = json_object_has_member (object, "lightness_range");
  if (stair->has_range)
    {
      if (!ts_json_get_numbers (object, "lightness_range", where, 0.0, 100.0, range, 2, error))
        return FALSE;
      stair->range_light = range[0];
      stair->range_dark = range[1];
    }
  return read_end_colour (object, where, "light", &stair->has_light, &stair->light,
                          &stair->light_amount, error) &&
         read_end_colour (object, where, "shadow", &stair->has_shadow, &stair->shadow,
                          &stair->shadow_amount, error);
}

static gboolean
read_locked (JsonObject *object, const char *where, TsSurface *surface, GError **error)
{
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    {
      g_autofree char *member = g_strdup_printf ("%u", i + 1);
      const char *recipe;

      if (!ts_json_get_string_or (object, member, where, NULL, &recipe, error))
        return FALSE;
      surface->locked[i] = g_strdup (recipe);
    }
  return TRUE;
}

static gboolean
read_outline (const TsPlan *plan, JsonObject *object, const char *member, const char *where,
              TsOutline **outline, GError **error)
{
  g_autofree char *place = g_strconcat (where, ".", member, NULL);
  JsonObject *inner;

  if (!ts_json_get_object_or (object, member, where, &inner, error))
    return FALSE;
  if (inner != NULL)
    *outline = ts_plan_read_outline (plan, inner, place, error);
  return inner == NULL || *outline != NULL;
}

static gboolean
read_surface_parts (const TsPlan *plan, JsonObject *object, const char *where, TsSurface *surface,
                    GError **error)
{
  g_autofree char *stair_place = g_strconcat (where, ".stair", NULL);
  g_autofree char *locked_place = g_strconcat (where, ".locked", NULL);
  JsonObject *stair, *locked;

  if (!ts_json_get_object_or (object, "stair", where, &stair, error) ||
      !ts_json_get_object_or (object, "locked", where, &locked, error))
    return FALSE;
  if (stair != NULL && !ts_plan_read_stair (stair, stair_place, &surface->stair, error))
    return FALSE;
  if (locked != NULL && !read_locked (locked, locked_place, surface, error))
    return FALSE;
  return read_outline (plan, object, "outline", where, &surface->outline, error) &&
         read_outline (plan, object, "finish_outline", where, &surface->finish_outline, error) &&
         read_runs (plan, object, where, surface->runs, error);
}

static gboolean
read_together (JsonObject *object, const char *where, TsSurface *surface, GError **error)
{
  const char *word;

  if (!ts_json_get_string_or (object, "together", where, "apart", &word, error) ||
      !ts_plan_read_whole_or (object, "paints_a_stair", where, 0.0, 1000.0, 0,
                              &surface->most_paints, error) ||
      !ts_json_get_number_or (object, "area_mm2", where, 0.0, 1e7, 0.0, &surface->area, error) ||
      !ts_json_get_number_or (object, "coats", where, 0.0, 100.0, 0.0, &surface->coats, error))
    return FALSE;
  if (ts_together_from_id (word, &surface->together))
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("%s.together: “%s” is not known; the plan may be from a newer version"), where,
               word);
  return FALSE;
}

/* What has been ticked off. */
static gboolean
read_done (JsonObject *object, const char *where, TsSurface *surface, GError **error)
{
  g_autoptr (GStrvBuilder) done = g_strv_builder_new ();
  JsonArray *array;

  if (!ts_json_get_array_or (object, "done", where, &array, error))
    return FALSE;
  if (array == NULL)
    return TRUE;
  if (json_array_get_length (array) > MAX_DONE)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s.done holds more than %d entries"),
                   where, MAX_DONE);
      return FALSE;
    }
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      const char *key = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;

      if (key == NULL)
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s.done[%u] is not a text"), where, i);
          return FALSE;
        }
      g_strv_builder_add (done, key);
    }
  surface->done = g_strv_builder_end (done);
  return TRUE;
}

static gboolean
read_accent (JsonObject *object, const char *where, GPtrArray *accents, GError **error)
{
  static const char *const known[] = { "name", "step", "paint", "parts", NULL };
  const char *name, *paint;
  TsAccent *accent;
  guint step, parts;

  if (!ts_json_get_string_or (object, "name", where, "", &name, error) ||
      !ts_json_get_string_or (object, "paint", where, "", &paint, error) ||
      !ts_plan_read_whole_or (object, "step", where, 1.0, TS_STAIR_MAX_STEPS, 1, &step, error) ||
      !ts_plan_read_whole_or (object, "parts", where, 1.0, TS_ACCENT_MOST_PARTS, 1, &parts, error))
    return FALSE;
  accent = ts_accent_new (name, step - 1, paint, parts);
  accent->extra = ts_plan_take_extra (object, known, NULL);
  g_ptr_array_add (accents, accent);
  return TRUE;
}

static gboolean
read_accents (JsonObject *object, const char *where, GPtrArray *accents, GError **error)
{
  JsonArray *array;

  if (!ts_json_get_array_or (object, "accents", where, &array, error))
    return FALSE;
  if (array != NULL && json_array_get_length (array) > TS_ACCENTS_MOST)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s.accents holds more than %d entries"),
                   where, TS_ACCENTS_MOST);
      return FALSE;
    }
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      g_autofree char *place = g_strdup_printf ("%s.accents[%u]", where, i);

      if (!JSON_NODE_HOLDS_OBJECT (node))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an object"), place);
          return FALSE;
        }
      if (!read_accent (json_node_get_object (node), place, accents, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
ts_plan_read_surface (TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  static const char *const known[] = { "name",           "polished", "hidden",   "band_mm",
                                       "distance_mm",    "stair",    "locked",   "runs",
                                       "outline",        "stair_of", "together", "paints_a_stair",
                                       "area_mm2",       "coats",    "done",     "accents",
                                       "finish_outline", NULL };
  static const char *const in_stair[] = { "steps",
                                          "spacing",
                                          "base_step",
                                          "positions",
                                          "lightness_shifts",
                                          "lightness_range",
                                          "light_lab",
                                          "light_amount",
                                          "shadow_lab",
                                          "shadow_amount",
                                          NULL };
  static const TsPlanInner inner_known[] = { { "stair", in_stair }, { NULL, NULL } };
  g_autoptr (TsSurface) surface = NULL;
  const char *name;
  double stair_of;

  if (!ts_json_get_string_or (object, "name", where, "", &name, error))
    return FALSE;
  surface = ts_surface_new (name);
  if (!ts_json_get_flag_or (object, "polished", where, FALSE, &surface->polished, error) ||
      !ts_json_get_flag_or (object, "hidden", where, FALSE, &surface->hidden, error) ||
      !ts_json_get_number_or (object, "band_mm", where, 0.0, 1000.0, 0.0, &surface->band, error) ||
      !ts_json_get_number_or (object, "distance_mm", where, 0.0, 1e5, 0.0, &surface->distance,
                              error) ||
      !ts_json_get_number_or (object, "stair_of", where, -1.0, 999.0, -1.0, &stair_of, error) ||
      !read_together (object, where, surface, error) ||
      !read_done (object, where, surface, error) ||
      !read_accents (object, where, surface->accents, error) ||
      !read_surface_parts (plan, object, where, surface, error))
    return FALSE;
  surface->stair_of = (int) stair_of;
  surface->extra = ts_plan_take_extra (object, known, inner_known);
  g_ptr_array_add (plan->surfaces, g_steal_pointer (&surface));
  return TRUE;
}
