/* ts-plan-read-run.c: runs and their spots from JSON
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-file-private.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "base/ts-json.h"

#define MAX_SPOTS 20000 /* against absurd files */

static JsonObject *
unknown_members (JsonObject *object, const char *const *known)
{
  JsonObject *extra = json_object_new ();
  JsonObjectIter iter;
  const char *name;
  JsonNode *node;

  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &node))
    if (!g_strv_contains (known, name))
      json_object_set_member (extra, name, json_node_copy (node));
  return extra;
}

/* What is left of @object, and of the objects within it that @inner (nullable) lists, without the
 * members we know; %NULL where nothing is. */
gpointer
ts_plan_take_extra (JsonObject *object, const char *const *known, const TsPlanInner *inner)
{
  g_autoptr (JsonObject) extra = unknown_members (object, known);

  for (; inner != NULL && inner->member != NULL; inner++)
    {
      JsonNode *node = json_object_get_member (object, inner->member);
      g_autoptr (JsonObject) within = NULL;

      if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node))
        continue;
      within = unknown_members (json_node_get_object (node), inner->known);
      if (json_object_get_size (within) > 0)
        json_object_set_object_member (extra, inner->member, g_steal_pointer (&within));
    }
  return json_object_get_size (extra) > 0 ? g_steal_pointer (&extra) : NULL;
}

/* Whether a chart's colours come from a file, and are not one of the built-in sets. */
gboolean
ts_plan_chart_is_file (const char *chart)
{
  return !g_str_equal (chart, "earlier") && !g_str_equal (chart, "later");
}

gboolean
ts_plan_read_index (JsonObject *object, const char *member, const char *where, guint n,
                    guint *index, GError **error)
{
  double number;

  if (!ts_json_get_number (object, member, where, 0.0, (double) n - 1.0, &number, error))
    return FALSE;
  *index = (guint) number;
  return TRUE;
}

static gboolean
node_is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && (json_node_get_value_type (node) == G_TYPE_DOUBLE ||
                                          json_node_get_value_type (node) == G_TYPE_INT64);
}

static gboolean
read_number_list (JsonArray *array, const char *where, double least, double most, double *numbers,
                  guint n, GError **error)
{
  for (guint i = 0; i < n; i++)
    {
      JsonNode *node = json_array_get_element (array, i);

      numbers[i] = node_is_number (node) ? json_node_get_double (node) : most + 1.0;
      if (!(numbers[i] >= least && numbers[i] <= most))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                       _ ("%s[%u] is not a number from %g to %g"), where, i, least, most);
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
spot_is_sane (const TsSpot *spot)
{
  return spot->radius > 0.0 && spot->position >= 0.0 && spot->position <= 1.0 &&
         spot->lab.L >= -1.0 && spot->lab.L <= 200.0 && spot->standard_error >= 0.0 &&
         spot->clipped_share >= 0.0 && spot->clipped_share <= 1.0;
}

static gboolean
read_spot (JsonNode *node, const char *where, TsSpot *spot, GError **error)
{
  double n[TS_N_SPOT_COLUMNS];

  if (!JSON_NODE_HOLDS_ARRAY (node) ||
      json_array_get_length (json_node_get_array (node)) < TS_N_SPOT_COLUMNS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an array of %d numbers"), where,
                   TS_N_SPOT_COLUMNS);
      return FALSE;
    }
  if (!read_number_list (json_node_get_array (node), where, -TS_PLAN_MAX_PLACE, 1e9, n,
                         TS_N_SPOT_COLUMNS, error))
    return FALSE;
  *spot = (TsSpot){
    .x = n[TS_SPOT_COLUMN_X],
    .y = n[TS_SPOT_COLUMN_Y],
    .radius = n[TS_SPOT_COLUMN_RADIUS],
    .position = n[TS_SPOT_COLUMN_POSITION],
    .lab = { n[TS_SPOT_COLUMN_L], n[TS_SPOT_COLUMN_A], n[TS_SPOT_COLUMN_B] },
    .spread = n[TS_SPOT_COLUMN_SPREAD],
    .pixels = (guint) CLAMP (n[TS_SPOT_COLUMN_PIXELS], 0.0, 1e9),
    .clipped_share = n[TS_SPOT_COLUMN_CLIPPED],
    .standard_error = n[TS_SPOT_COLUMN_STANDARD_ERROR],
  };
  if (!spot_is_sane (spot))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE, _ ("%s holds a number outside its range"),
                   where);
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_spots (JsonArray *array, const char *where, GArray *spots, GError **error)
{
  if (json_array_get_length (array) > MAX_SPOTS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s.spots holds more than %d entries"),
                   where, MAX_SPOTS);
      return FALSE;
    }
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      g_autofree char *place = g_strdup_printf ("%s.spots[%u]", where, i);
      TsSpot spot;

      if (!read_spot (json_array_get_element (array, i), place, &spot, error))
        return FALSE;
      g_array_append_val (spots, spot);
    }
  return TRUE;
}

static GArray *
read_points (JsonObject *object, const char *where, guint least, GError **error)
{
  g_autofree char *place = g_strconcat (where, ".points", NULL);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (TsPoint));
  JsonArray *array;
  guint n;

  if (!ts_json_get_array_or (object, "points", where, &array, error))
    return NULL;
  n = array != NULL ? json_array_get_length (array) : 0;
  if (n < 2 * least || n % 2 != 0 || n > 2000)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s needs x, y of %u points or more"),
                   place, least);
      return NULL;
    }
  g_array_set_size (points, n / 2);
  if (!read_number_list (array, place, -TS_PLAN_MAX_PLACE, TS_PLAN_MAX_PLACE,
                         (double *) points->data, n, error))
    return NULL;
  return g_steal_pointer (&points);
}

TsRun *
ts_plan_read_run (const TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  static const char *const known[] = { "picture", "points", "radius", "spots", "surface", NULL };
  g_autoptr (GArray) points = read_points (object, where, 2, error);
  g_autoptr (TsRun) run = NULL;
  JsonArray *spots;
  double radius;
  guint picture;

  if (points == NULL ||
      !ts_plan_read_index (object, "picture", where, plan->pictures->len, &picture, error) ||
      !ts_json_get_number (object, "radius", where, 0.25, 2000.0, &radius, error) ||
      !ts_json_get_array_or (object, "spots", where, &spots, error))
    return NULL;
  run = ts_run_new (picture, (const TsPoint *) points->data, points->len, radius);
  if (spots != NULL && !read_spots (spots, where, run->spots, error))
    return NULL;
  run->extra = ts_plan_take_extra (object, known, NULL);
  return g_steal_pointer (&run);
}

static gboolean
read_tone (JsonNode *node, const char *where, GArray *tones, GError **error)
{
  double n[4];
  TsTone tone;

  if (!JSON_NODE_HOLDS_ARRAY (node) || json_array_get_length (json_node_get_array (node)) != 4)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an array of 4 numbers"), where);
      return FALSE;
    }
  if (!read_number_list (json_node_get_array (node), where, -200.0, 200.0, n, 4, error))
    return FALSE;
  tone = (TsTone){ { n[0], n[1], n[2] }, MAX (n[3], 0.0) };
  g_array_append_val (tones, tone);
  return TRUE;
}

static gboolean
read_tones (JsonArray *array, const char *where, GArray *tones, GError **error)
{
  if (json_array_get_length (array) > TS_OUTLINE_TONES)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s.tones holds more than %d entries"),
                   where, TS_OUTLINE_TONES);
      return FALSE;
    }
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      g_autofree char *place = g_strdup_printf ("%s.tones[%u]", where, i);

      if (!read_tone (json_array_get_element (array, i), place, tones, error))
        return FALSE;
    }
  return TRUE;
}

TsOutline *
ts_plan_read_outline (const TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  static const char *const known[] = { "picture",        "points", "pixels",
                                       "left_out_share", "tones",  NULL };
  g_autoptr (GArray) points = read_points (object, where, 3, error);
  g_autoptr (TsOutline) outline = NULL;
  JsonArray *tones;
  double pixels;
  guint picture;

  if (points == NULL ||
      !ts_plan_read_index (object, "picture", where, plan->pictures->len, &picture, error))
    return NULL;
  outline = ts_outline_new (picture, (const TsPoint *) points->data, points->len);
  if (!ts_json_get_number_or (object, "pixels", where, 0.0, 1e9, 0.0, &pixels, error) ||
      !ts_json_get_number_or (object, "left_out_share", where, 0.0, 1.0, 0.0, &outline->left_out,
                              error) ||
      !ts_json_get_array_or (object, "tones", where, &tones, error) ||
      (tones != NULL && !read_tones (tones, where, outline->tones, error)))
    return NULL;
  outline->pixels = (guint) pixels;
  outline->extra = ts_plan_take_extra (object, known, NULL);
  return g_steal_pointer (&outline);
}
