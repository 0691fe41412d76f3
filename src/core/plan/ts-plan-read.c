/* ts-plan-read.c: a plan from JSON text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-file-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-json.h"
#include "recipes/ts-recipe-search.h"

/* Reads one member of a list into @plan. */
typedef gboolean (*ReadFunc) (TsPlan *plan, JsonObject *object, const char *where, GError **error);

gboolean
ts_plan_read_word (JsonObject *object, const char *member, const char *where,
                   const char *const *words, int *index, GError **error)
{
  const char *word;

  if (!ts_json_get_string_or (object, member, where, words[0], &word, error))
    return FALSE;
  for (int i = 0; words[i] != NULL; i++)
    if (g_str_equal (words[i], word))
      {
        *index = i;
        return TRUE;
      }
  g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
               _ ("%s.%s: “%s” is not known; the plan may be from a newer version"), where, member,
               word);
  return FALSE;
}

gboolean
ts_plan_read_whole_or (JsonObject *object, const char *member, const char *where, double least,
                       double most, guint fallback, guint *whole, GError **error)
{
  double number;

  if (!ts_json_get_number_or (object, member, where, least, most, fallback, &number, error))
    return FALSE;
  *whole = (guint) number;
  return TRUE;
}

gboolean
ts_plan_read_lab (JsonObject *object, const char *member, const char *where, TsLab *lab,
                  GError **error)
{
  double numbers[3];

  if (!ts_json_get_numbers (object, member, where, -200.0, 200.0, numbers, 3, error))
    return FALSE;
  *lab = (TsLab){ numbers[0], numbers[1], numbers[2] };
  return TRUE;
}

static gboolean
read_list (TsPlan *plan, JsonObject *object, const char *member, const char *where, guint most,
           ReadFunc read, GError **error)
{
  JsonArray *array;

  if (!ts_json_get_array_or (object, member, where, &array, error))
    return FALSE;
  if (array == NULL)
    return TRUE;
  if (json_array_get_length (array) > most)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s.%s holds more than %u entries"),
                   where, member, most);
      return FALSE;
    }
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      g_autofree char *place = g_strdup_printf ("%s[%u]", member, i);

      if (!JSON_NODE_HOLDS_OBJECT (node))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an object"), place);
          return FALSE;
        }
      if (!read (plan, json_node_get_object (node), place, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_more_cards (JsonObject *object, const char *where, TsCorrectionSettings *settings,
                 GError **error)
{
  JsonArray *array;

  if (!ts_json_get_array_or (object, "more_cards", where, &array, error))
    return FALSE;
  if (array == NULL)
    return TRUE;
  if (json_array_get_length (array) > G_N_ELEMENTS (settings->more_card))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                   _ ("%s.more_cards holds more than %u cards"), where,
                   (guint) G_N_ELEMENTS (settings->more_card));
      return FALSE;
    }
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      g_autofree char *place = g_strdup_printf ("%s.more_cards[%u]", where, i);
      double card[3], lightness;

      if (!JSON_NODE_HOLDS_OBJECT (node))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not an object"), place);
          return FALSE;
        }
      if (!ts_json_get_numbers (json_node_get_object (node), "card", place, 0.0, TS_PLAN_MAX_PLACE,
                                card, 3, error) ||
          !ts_json_get_number (json_node_get_object (node), "card_lightness", place, 1.0, 100.0,
                               &lightness, error))
        return FALSE;
      settings->more_card[settings->n_more_cards++] =
        (TsCardPlace){ card[0], card[1], card[2], lightness };
    }
  return TRUE;
}

static gboolean
read_source (JsonObject *object, const char *where, TsCorrectionSettings *settings, GError **error)
{
  const char *source;
  double match[6];

  if (!ts_json_get_string_or (object, "source", where, NULL, &source, error))
    return FALSE;
  settings->source = g_strdup (source);
  if (source == NULL || !json_object_has_member (object, "match"))
    return TRUE;
  if (!ts_json_get_numbers (object, "match", where, 0.0, TS_PLAN_MAX_PLACE, match, 6, error))
    return FALSE;
  settings->match_there = (TsCardPlace){ .x = match[0], .y = match[1], .radius = match[2] };
  settings->match_here = (TsCardPlace){ .x = match[3], .y = match[4], .radius = match[5] };
  return TRUE;
}

static gboolean
read_correction (JsonObject *object, const char *where, TsCorrectionSettings *settings,
                 GError **error)
{
  double card[3];
  const char *chart;
  int kind;

  if (!ts_plan_read_word (object, "kind", where, ts_plan_correction_words, &kind, error))
    return FALSE;
  settings->kind = (TsCorrectionKind) kind;
  if (json_object_has_member (object, "card") || kind == TS_CORRECTION_CARD)
    {
      if (!ts_json_get_numbers (object, "card", where, 0.0, TS_PLAN_MAX_PLACE, card, 3, error) ||
          !ts_json_get_number_or (object, "card_lightness", where, 1.0, 100.0, 49.5,
                                  &settings->card_lightness, error))
        return FALSE;
      settings->card_x = card[0];
      settings->card_y = card[1];
      settings->card_radius = card[2];
    }
  if (!read_more_cards (object, where, settings, error) ||
      !read_source (object, where, settings, error) ||
      !ts_json_get_string_or (object, "chart", where, NULL, &chart, error))
    return FALSE;
  if (chart == NULL && kind == TS_CORRECTION_CHART)
    chart = "later";
  settings->chart = g_strdup (chart);
  return chart == NULL ||
         ts_json_get_numbers (object, "corners", where, -TS_PLAN_MAX_PLACE, TS_PLAN_MAX_PLACE,
                              &settings->corner[0][0], 8, error);
}

static gboolean
read_light (JsonObject *object, const char *where, TsPicture *picture, GError **error)
{
  double arrow[4];

  picture->has_light = json_object_has_member (object, "light_arrow");
  if (!picture->has_light)
    return TRUE;
  if (!ts_json_get_numbers (object, "light_arrow", where, -TS_PLAN_MAX_PLACE, TS_PLAN_MAX_PLACE,
                            arrow, 4, error))
    return FALSE;
  picture->light_from = (TsPoint){ arrow[0], arrow[1] };
  picture->light_to = (TsPoint){ arrow[2], arrow[3] };
  return TRUE;
}

static gboolean
read_picture (TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  static const char *const known[] = { "path",       "role",        "size_bytes", "sha256",
                                       "correction", "light_arrow", NULL };
  static const char *const in_correction[] = { "kind",       "card",    "card_lightness",
                                               "more_cards", "corners", "chart",
                                               "source",     "match",   NULL };
  static const TsPlanInner inner_known[] = { { "correction", in_correction }, { NULL, NULL } };
  g_autofree char *inner = g_strconcat (where, ".correction", NULL);
  g_autoptr (TsPicture) picture = NULL;
  JsonObject *correction;
  const char *path, *sha256;
  double size;
  int role;

  if (!ts_json_get_string_or (object, "path", where, NULL, &path, error))
    return FALSE;
  if (path == NULL || *path == '\0')
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s has no path"), where);
      return FALSE;
    }
  picture = ts_picture_new (path, TS_ROLE_REFERENCE);
  if (!ts_plan_read_word (object, "role", where, ts_plan_role_words, &role, error) ||
      !ts_json_get_number_or (object, "size_bytes", where, 0.0, 1e15, 0.0, &size, error) ||
      !ts_json_get_string_or (object, "sha256", where, NULL, &sha256, error) ||
      !ts_json_get_object_or (object, "correction", where, &correction, error))
    return FALSE;
  picture->role = (TsPictureRole) role;
  picture->size = (guint64) size;
  picture->sha256 = g_strdup (sha256);
  if (correction != NULL && !read_correction (correction, inner, &picture->correction, error))
    return FALSE;
  if (!read_light (object, where, picture, error))
    return FALSE;
  picture->extra = ts_plan_take_extra (object, known, inner_known);
  g_ptr_array_add (plan->pictures, g_steal_pointer (&picture));
  return TRUE;
}

/* Where the colour was measured off a picture. */
static gboolean
read_brief_spot (TsPlan *plan, JsonObject *object, const char *where, TsBriefLine *line,
                 GError **error)
{
  double spot[3];

  if (!json_object_has_member (object, "spot"))
    return TRUE;
  if (!ts_plan_read_index (object, "picture", where, plan->pictures->len, &line->picture, error) ||
      !ts_json_get_numbers (object, "spot", where, -TS_PLAN_MAX_PLACE, TS_PLAN_MAX_PLACE, spot, 3,
                            error))
    return FALSE;
  line->x = spot[0];
  line->y = spot[1];
  line->radius = fmax (spot[2], 0.0);
  return TRUE;
}

static gboolean
read_brief_line (TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  static const char *const known[] = { "name", "lab", "tolerance_delta_e_2000", "locked", "picture",
                                       "spot", NULL };
  g_autoptr (TsBriefLine) line = NULL;
  const char *name, *locked;
  double tolerance;
  TsLab lab;

  if (!ts_json_get_string_or (object, "name", where, "", &name, error) ||
      !ts_plan_read_lab (object, "lab", where, &lab, error) ||
      !ts_json_get_number_or (object, "tolerance_delta_e_2000", where, 0.0, 100.0, 3.0, &tolerance,
                              error) ||
      !ts_json_get_string_or (object, "locked", where, NULL, &locked, error))
    return FALSE;
  line = ts_brief_line_new (name, lab, tolerance);
  line->locked = g_strdup (locked);
  if (!read_brief_spot (plan, object, where, line, error))
    return FALSE;
  line->extra = ts_plan_take_extra (object, known, NULL);
  g_ptr_array_add (plan->brief, g_steal_pointer (&line));
  return TRUE;
}

static gboolean
read_finish_run (TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  guint surface;
  TsRun *run;

  if (!ts_plan_read_index (object, "surface", where, plan->surfaces->len, &surface, error))
    return FALSE;
  run = ts_plan_read_run (plan, object, where, error);
  if (run == NULL)
    return FALSE;
  g_ptr_array_add (plan->finish, ts_finish_run_new (surface, run));
  return TRUE;
}

static gboolean
read_touch (TsPlan *plan, JsonObject *object, const char *where, GError **error)
{
  guint one, other, n = plan->surfaces->len;
  gboolean touch;

  if (!ts_plan_read_index (object, "one", where, n, &one, error) ||
      !ts_plan_read_index (object, "other", where, n, &other, error) ||
      !ts_json_get_flag_or (object, "touch", where, TRUE, &touch, error))
    return FALSE;
  if (one == other)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE, _ ("%s: a surface cannot touch itself"),
                   where);
      return FALSE;
    }
  ts_plan_set_touch (plan, one, other, touch);
  return TRUE;
}

/* A stair that is not there is the surface's own. */
static void
check_stairs (TsPlan *plan)
{
  for (guint i = 0; i < plan->surfaces->len; i++)
    {
      TsSurface *surface = ts_plan_get_surface (plan, i);

      if (surface->stair_of >= (int) plan->surfaces->len || surface->stair_of == (int) i)
        surface->stair_of = -1;
    }
}

static gboolean
read_contrast (JsonObject *object, TsContrastSettings *c, GError **error)
{
  const char *where = "contrast";

  return object == NULL || (ts_json_get_number_or (object, "least_step_L", where, 0.0, 100.0,
                                                   c->least_step, &c->least_step, error) &&
                            ts_json_get_number_or (object, "most_step_L", where, 0.0, 100.0,
                                                   c->most_step, &c->most_step, error) &&
                            ts_json_get_number_or (object, "least_range_L", where, 0.0, 100.0,
                                                   c->least_range, &c->least_range, error) &&
                            ts_json_get_number_or (object, "distance_mm", where, 1.0, 1e5,
                                                   c->distance, &c->distance, error) &&
                            ts_json_get_number_or (object, "band_mm", where, 0.01, 1000.0, c->band,
                                                   &c->band, error) &&
                            ts_json_get_number_or (object, "luminance_cd_m2", where, 0.01, 1e5,
                                                   c->luminance, &c->luminance, error));
}

static gboolean
read_paints (JsonObject *object, TsPlan *plan, GError **error)
{
  g_autoptr (GString) table = g_string_new (NULL);
  const char *name;
  JsonArray *lines;

  if (object == NULL)
    return TRUE;
  if (!ts_json_get_string_or (object, "name", "paints", NULL, &name, error) ||
      !ts_json_get_array_or (object, "table", "paints", &lines, error))
    return FALSE;
  for (guint i = 0; lines != NULL && i < json_array_get_length (lines); i++)
    {
      JsonNode *node = json_array_get_element (lines, i);
      const char *line = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;

      g_string_append_printf (table, "%s\n", line != NULL ? line : "");
    }
  plan->paints_name = g_strdup (name);
  plan->paints =
    ts_paint_set_parse (table->str, (gssize) table->len, _ ("the plan's paints"), error);
  return plan->paints != NULL;
}

static gboolean
check_format (JsonObject *object, const char *what, GError **error)
{
  const char *format;
  double version;

  if (!ts_json_get_string_or (object, "format", what, "", &format, error) ||
      !ts_json_get_number_or (object, "version", what, 0.0, 1e6, 1.0, &version, error))
    return FALSE;
  if (!g_str_equal (format, TS_PLAN_FORMAT))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not a Tonestair plan"), what);
      return FALSE;
    }
  return TRUE;
}

/* Spots are read by place, so the places must be ours; more may follow. */
static gboolean
check_spot_columns (JsonObject *object, GError **error)
{
  JsonArray *columns;

  if (!ts_json_get_array_or (object, "spot_columns", "plan", &columns, error))
    return FALSE;
  for (guint i = 0; columns != NULL && i < TS_N_SPOT_COLUMNS; i++)
    {
      JsonNode *node =
        i < json_array_get_length (columns) ? json_array_get_element (columns, i) : NULL;

      if (node != NULL && JSON_NODE_HOLDS_VALUE (node) &&
          g_strcmp0 (json_node_get_string (node), ts_plan_spot_columns[i]) == 0)
        continue;
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("plan.spot_columns[%u] is not “%s”; the plan may be from another version"), i,
                   ts_plan_spot_columns[i]);
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_plan (JsonObject *object, TsPlan *plan, GError **error)
{
  static const char *const known[] = {
    "format",        "version", "title",  "notes", "figure_height_mm", "pictures", "spot_columns",
    "surfaces",      "brief",   "finish", "mix",   "contrast",         "paints",   "touching",
    "card_has_work", NULL
  };
  static const char *const in_mix[] = { "paints_a_mix",    "parts_a_mix", "reach_delta_e_2000",
                                        "paints_a_stair",  "opaque_only", "only",
                                        "left_out",        "must_hold",   "medium",
                                        "parts_of_medium", "drop_mm3",    NULL };
  static const char *const in_contrast[] = {
    "least_step_L",    "most_step_L", "least_range_L", "distance_mm", "band_mm",
    "luminance_cd_m2", NULL
  };
  static const char *const in_paints[] = { "name", "table", NULL };
  static const TsPlanInner inner_known[] = {
    { "mix", in_mix }, { "contrast", in_contrast }, { "paints", in_paints }, { NULL, NULL }
  };
  const char *title, *notes;
  JsonObject *mix, *contrast, *paints;

  if (!ts_json_get_string_or (object, "title", "plan", "", &title, error) ||
      !ts_json_get_string_or (object, "notes", "plan", "", &notes, error) ||
      !ts_json_get_number_or (object, "figure_height_mm", "plan", 1.0, 10000.0, plan->figure_height,
                              &plan->figure_height, error) ||
      !ts_json_get_flag_or (object, "card_has_work", "plan", FALSE, &plan->card_work, error) ||
      !ts_json_get_object_or (object, "mix", "plan", &mix, error) ||
      !ts_json_get_object_or (object, "contrast", "plan", &contrast, error) ||
      !ts_json_get_object_or (object, "paints", "plan", &paints, error))
    return FALSE;
  g_free (plan->title);
  g_free (plan->notes);
  plan->title = g_strdup (title);
  plan->notes = g_strdup (notes);
  plan->extra = ts_plan_take_extra (object, known, inner_known);
  if (!check_spot_columns (object, error) ||
      !read_list (plan, object, "pictures", "plan", 1000, read_picture, error) ||
      !read_list (plan, object, "surfaces", "plan", 1000, ts_plan_read_surface, error))
    return FALSE;
  check_stairs (plan);
  return read_list (plan, object, "touching", "plan", 100000, read_touch, error) &&
         read_list (plan, object, "brief", "plan", 10000, read_brief_line, error) &&
         read_list (plan, object, "finish", "plan", 1000, read_finish_run, error) &&
         ts_plan_read_mix (mix, plan, error) && read_contrast (contrast, &plan->contrast, error) &&
         read_paints (paints, plan, error);
}

static char *
dup_absolute (const char *text, const char *folder)
{
  g_autoptr (GBytes) bytes = NULL;
  g_autofree char *path = NULL;

  if (g_str_has_prefix (text, TS_PLAN_ESCAPED))
    bytes = g_uri_unescape_bytes (text + strlen (TS_PLAN_ESCAPED), -1, NULL, NULL);
  if (bytes == NULL || g_bytes_get_size (bytes) == 0)
    return g_canonicalize_filename (text, folder);
  path = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  return g_canonicalize_filename (path, folder);
}

static void
make_paths_absolute (TsPlan *plan, const char *folder)
{
  for (guint i = 0; i < plan->pictures->len; i++)
    {
      TsPicture *picture = ts_plan_get_picture (plan, i);
      char *absolute = dup_absolute (picture->path, folder);

      g_free (picture->path);
      picture->path = absolute;
      if (picture->correction.source != NULL)
        {
          char *source = dup_absolute (picture->correction.source, folder);

          g_free (picture->correction.source);
          picture->correction.source = source;
        }
      if (picture->correction.chart != NULL && ts_plan_chart_is_file (picture->correction.chart))
        {
          char *chart = dup_absolute (picture->correction.chart, folder);

          g_free (picture->correction.chart);
          picture->correction.chart = chart;
        }
    }
}

/**
 * ts_plan_from_text:
 * @text: JSON, UTF-8
 * @length: bytes of it, or -1 where it ends with a nul
 * @folder: where it was saved, absolute; pictures are found from there
 * @what: names the text in errors
 * @error: return location for an error, or %NULL
 *
 * Members of a newer version are kept and written back.
 *
 * Returns: (transfer full) (nullable): the plan, or %NULL with a #TsError that names the member
 */
TsPlan *
ts_plan_from_text (const char *text, gssize length, const char *folder, const char *what,
                   GError **error)
{
  g_autoptr (JsonNode) root = ts_json_parse (text, length, what, error);
  g_autoptr (TsPlan) plan = NULL;

  if (root == NULL)
    return NULL;
  if (!JSON_NODE_HOLDS_OBJECT (root))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s is not a Tonestair plan"), what);
      return NULL;
    }
  plan = ts_plan_new ();
  if (!check_format (json_node_get_object (root), what, error))
    return NULL;
  if (!read_plan (json_node_get_object (root), plan, error))
    {
      g_prefix_error (error, "%s: ", what);
      return NULL;
    }
  make_paths_absolute (plan, folder);
  return g_steal_pointer (&plan);
}
