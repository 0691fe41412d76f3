/* ts-plan-write.c: a plan as JSON text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-file-private.h"

#include <gio/gio.h>

#include "base/ts-json.h"
#include "palette/ts-mixing-sequence.h"

/* Decimals kept: finer than any measurement of the kind. */
#define PLACE_DECIMALS 2  /* pixels */
#define COLOUR_DECIMALS 3 /* CIELAB */
#define SHARE_DECIMALS 5  /* 0..1 */

const char *const ts_plan_spot_columns[TS_N_SPOT_COLUMNS + 1] = {
  "x",      "y",      "radius",        "position",       "L", "a", "b",
  "spread", "pixels", "clipped_share", "standard_error", NULL
};
const char *const ts_plan_role_words[] = { "reference", "finished", NULL };
const char *const ts_plan_correction_words[] = { "none", "card", "chart", "guess", NULL };
const char *const ts_plan_spacing_words[] = { "lightness", "difference", "area", "by_hand", NULL };

/* Members of a newer version go back to where they stood, also within objects that we know. */
static void
add_extra (JsonObject *object, gpointer extra)
{
  JsonObjectIter iter;
  const char *name;
  JsonNode *node;

  if (extra == NULL)
    return;
  json_object_iter_init_ordered (&iter, extra);
  while (json_object_iter_next_ordered (&iter, &name, &node))
    if (json_object_has_member (object, name) && JSON_NODE_HOLDS_OBJECT (node))
      add_extra (json_object_get_object_member (object, name), json_node_get_object (node));
    else
      json_object_set_member (object, name, json_node_copy (node));
}

static void
set_lab (JsonObject *object, const char *member, TsLab lab)
{
  ts_json_set_numbers (object, member, (double[]){ lab.L, lab.a, lab.b }, 3, COLOUR_DECIMALS);
}

static void
set_string (JsonObject *object, const char *member, const char *string)
{
  if (string != NULL)
    json_object_set_string_member (object, member, string);
}

/* Adds @child as a member, unless it is empty. */
static void
set_child (JsonObject *object, const char *member, JsonObject *child)
{
  if (json_object_get_size (child) > 0)
    json_object_set_object_member (object, member, child);
  else
    json_object_unref (child);
}

static double
rounded (double number, int decimals)
{
  g_autoptr (JsonObject) object = json_object_new ();

  ts_json_set_number (object, "n", number, decimals);
  return json_object_get_double_member (object, "n");
}

static JsonArray *
build_strings (const char *const *strings)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; strings[i] != NULL; i++)
    json_array_add_string_element (array, strings[i]);
  return array;
}

/* Relative to @folder where the file lies in it or beside it, so that both can be moved together.
 */
static char *
relative_path (const char *path, const char *folder)
{
  g_autofree char *parent = g_path_get_dirname (folder);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFile) here = g_file_new_for_path (folder);
  g_autoptr (GFile) above = g_file_new_for_path (parent);
  char *relative = g_file_get_relative_path (here, file);

  if (relative == NULL && !g_str_equal (parent, "/"))
    {
      g_autofree char *beside = g_file_get_relative_path (above, file);

      if (beside != NULL)
        relative = g_build_filename ("..", beside, NULL);
    }
  return relative != NULL ? relative : g_strdup (path);
}

/* As it stands in a plan. Where its bytes are no UTF-8 they are escaped as in a URI (RFC 3986). */
static char *
path_to_text (const char *path, const char *folder)
{
  g_autofree char *relative = relative_path (path, folder);
  g_autofree char *escaped = NULL;

  if (g_utf8_validate (relative, -1, NULL) && !g_str_has_prefix (relative, TS_PLAN_ESCAPED))
    return g_steal_pointer (&relative);
  escaped = g_uri_escape_bytes ((const guint8 *) relative, strlen (relative), "/");
  return g_strconcat (TS_PLAN_ESCAPED, escaped, NULL);
}

static void
set_more_cards (JsonObject *object, const TsCorrectionSettings *settings)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < settings->n_more_cards; i++)
    {
      const TsCardPlace *place = &settings->more_card[i];
      const double card[] = { place->x, place->y, place->radius };
      JsonObject *entry = json_object_new ();

      ts_json_set_numbers (entry, "card", card, 3, PLACE_DECIMALS);
      ts_json_set_number (entry, "card_lightness", place->lightness, COLOUR_DECIMALS);
      json_array_add_object_element (array, entry);
    }
  json_object_set_array_member (object, "more_cards", array);
}

static void
set_source (JsonObject *object, const TsCorrectionSettings *settings, const char *folder)
{
  const TsCardPlace *there = &settings->match_there, *here = &settings->match_here;
  const double match[] = { there->x, there->y, there->radius, here->x, here->y, here->radius };
  g_autofree char *source = path_to_text (settings->source, folder);

  json_object_set_string_member (object, "source", source);
  if (there->radius > 0.0 && here->radius > 0.0)
    ts_json_set_numbers (object, "match", match, 6, PLACE_DECIMALS);
}

static JsonObject *
build_correction (const TsCorrectionSettings *settings, const char *folder)
{
  JsonObject *object = json_object_new ();
  const double card[] = { settings->card_x, settings->card_y, settings->card_radius };
  g_autofree char *chart = NULL;

  json_object_set_string_member (object, "kind", ts_plan_correction_words[settings->kind]);
  if (settings->card_radius > 0.0)
    {
      ts_json_set_numbers (object, "card", card, 3, PLACE_DECIMALS);
      ts_json_set_number (object, "card_lightness", settings->card_lightness, COLOUR_DECIMALS);
    }
  if (settings->n_more_cards > 0)
    set_more_cards (object, settings);
  if (settings->chart != NULL)
    {
      chart = ts_plan_chart_is_file (settings->chart) ? path_to_text (settings->chart, folder)
                                                      : g_strdup (settings->chart);
      ts_json_set_numbers (object, "corners", &settings->corner[0][0], 8, PLACE_DECIMALS);
      json_object_set_string_member (object, "chart", chart);
    }
  if (settings->source != NULL)
    set_source (object, settings, folder);
  return object;
}

static JsonObject *
build_picture (const TsPicture *picture, const char *folder)
{
  JsonObject *object = json_object_new ();
  g_autofree char *path = path_to_text (picture->path, folder);

  json_object_set_string_member (object, "path", path);
  json_object_set_string_member (object, "role", ts_plan_role_words[picture->role]);
  json_object_set_int_member (object, "size_bytes", (gint64) picture->size);
  set_string (object, "sha256", picture->sha256);
  json_object_set_object_member (object, "correction",
                                 build_correction (&picture->correction, folder));
  if (picture->has_light)
    ts_json_set_numbers (object, "light_arrow",
                         (double[]){ picture->light_from.x, picture->light_from.y,
                                     picture->light_to.x, picture->light_to.y },
                         4, PLACE_DECIMALS);
  add_extra (object, picture->extra);
  return object;
}

static JsonArray *
build_spot (const TsSpot *spot)
{
  JsonArray *array = json_array_new ();

  json_array_add_double_element (array, rounded (spot->x, PLACE_DECIMALS));
  json_array_add_double_element (array, rounded (spot->y, PLACE_DECIMALS));
  json_array_add_double_element (array, rounded (spot->radius, PLACE_DECIMALS));
  json_array_add_double_element (array, rounded (spot->position, SHARE_DECIMALS));
  json_array_add_double_element (array, rounded (spot->lab.L, COLOUR_DECIMALS));
  json_array_add_double_element (array, rounded (spot->lab.a, COLOUR_DECIMALS));
  json_array_add_double_element (array, rounded (spot->lab.b, COLOUR_DECIMALS));
  json_array_add_double_element (array, rounded (spot->spread, COLOUR_DECIMALS));
  json_array_add_int_element (array, spot->pixels);
  json_array_add_double_element (array, rounded (spot->clipped_share, SHARE_DECIMALS));
  json_array_add_double_element (array, rounded (spot->standard_error, COLOUR_DECIMALS));
  return array;
}

static JsonObject *
build_run (const TsRun *run)
{
  JsonObject *object = json_object_new ();
  JsonArray *spots = json_array_new ();

  G_STATIC_ASSERT (sizeof (TsPoint) == 2 * sizeof (double));
  json_object_set_int_member (object, "picture", run->picture);
  ts_json_set_numbers (object, "points", (const double *) run->points->data, 2 * run->points->len,
                       PLACE_DECIMALS);
  ts_json_set_number (object, "radius", run->radius, PLACE_DECIMALS);
  for (guint i = 0; i < run->spots->len; i++)
    json_array_add_array_element (spots, build_spot (&g_array_index (run->spots, TsSpot, i)));
  json_object_set_array_member (object, "spots", spots);
  add_extra (object, run->extra);
  return object;
}

static JsonArray *
build_tone (const TsTone *tone)
{
  JsonArray *array = json_array_new ();

  json_array_add_double_element (array, rounded (tone->lab.L, COLOUR_DECIMALS));
  json_array_add_double_element (array, rounded (tone->lab.a, COLOUR_DECIMALS));
  json_array_add_double_element (array, rounded (tone->lab.b, COLOUR_DECIMALS));
  json_array_add_double_element (array, rounded (tone->standard_error, COLOUR_DECIMALS));
  return array;
}

/* Tones are L*, a*, b* and the standard error of L*, of equal shares of the area. */
static JsonObject *
build_outline (const TsOutline *outline)
{
  JsonObject *object = json_object_new ();
  JsonArray *tones = json_array_new ();

  json_object_set_int_member (object, "picture", outline->picture);
  ts_json_set_numbers (object, "points", (const double *) outline->points->data,
                       2 * outline->points->len, PLACE_DECIMALS);
  json_object_set_int_member (object, "pixels", outline->pixels);
  ts_json_set_number (object, "left_out_share", outline->left_out, SHARE_DECIMALS);
  for (guint i = 0; i < outline->tones->len; i++)
    json_array_add_array_element (tones, build_tone (&g_array_index (outline->tones, TsTone, i)));
  json_object_set_array_member (object, "tones", tones);
  add_extra (object, outline->extra);
  return object;
}

JsonObject *
ts_plan_build_stair (const TsStairSettings *stair)
{
  JsonObject *object = json_object_new ();
  const double range[] = { stair->range_light, stair->range_dark };

  json_object_set_int_member (object, "steps", stair->n_steps);
  json_object_set_string_member (object, "spacing", ts_plan_spacing_words[stair->spacing]);
  if (stair->base > 0)
    json_object_set_int_member (object, "base_step", stair->base);
  if (stair->spacing == TS_SPACING_BY_HAND)
    {
      ts_json_set_numbers (object, "positions", stair->position, stair->n_steps, SHARE_DECIMALS);
      ts_json_set_numbers (object, "lightness_shifts", stair->shift, stair->n_steps,
                           COLOUR_DECIMALS);
    }
  if (stair->has_range)
    ts_json_set_numbers (object, "lightness_range", range, 2, COLOUR_DECIMALS);
  if (stair->has_light)
    {
      set_lab (object, "light_lab", stair->light);
      ts_json_set_number (object, "light_amount", stair->light_amount, SHARE_DECIMALS);
    }
  if (stair->has_shadow)
    {
      set_lab (object, "shadow_lab", stair->shadow);
      ts_json_set_number (object, "shadow_amount", stair->shadow_amount, SHARE_DECIMALS);
    }
  return object;
}

/* Step numbers from 1, as the painter counts. */
static JsonObject *
build_locked (const TsSurface *surface)
{
  JsonObject *object = json_object_new ();

  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    if (surface->locked[i] != NULL)
      {
        g_autofree char *member = g_strdup_printf ("%u", i + 1);

        json_object_set_string_member (object, member, surface->locked[i]);
      }
  return object;
}

/* Steps from 1, as the painter counts. */
static JsonArray *
build_accents (const GPtrArray *accents)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (accents, i);
      JsonObject *object = json_object_new ();

      json_object_set_string_member (object, "name", accent->name);
      json_object_set_int_member (object, "step", accent->step + 1);
      json_object_set_string_member (object, "paint", accent->paint);
      json_object_set_int_member (object, "parts", accent->parts);
      add_extra (object, accent->extra);
      json_array_add_object_element (array, object);
    }
  return array;
}

static JsonObject *
build_surface (const TsSurface *surface)
{
  JsonObject *object = json_object_new ();
  JsonArray *runs = json_array_new ();

  json_object_set_string_member (object, "name", surface->name);
  if (surface->polished)
    json_object_set_boolean_member (object, "polished", TRUE);
  if (surface->hidden)
    json_object_set_boolean_member (object, "hidden", TRUE);
  if (surface->band > 0.0)
    ts_json_set_number (object, "band_mm", surface->band, COLOUR_DECIMALS);
  if (surface->distance > 0.0)
    ts_json_set_number (object, "distance_mm", surface->distance, COLOUR_DECIMALS);
  if (surface->stair_of >= 0)
    json_object_set_int_member (object, "stair_of", surface->stair_of);
  if (surface->together != TS_TOGETHER_APART)
    json_object_set_string_member (object, "together", ts_together_to_id (surface->together));
  if (surface->most_paints > 0)
    json_object_set_int_member (object, "paints_a_stair", surface->most_paints);
  if (surface->area > 0.0)
    ts_json_set_number (object, "area_mm2", surface->area, PLACE_DECIMALS);
  if (surface->coats > 0.0)
    ts_json_set_number (object, "coats", surface->coats, PLACE_DECIMALS);
  if (surface->done != NULL && surface->done[0] != NULL)
    json_object_set_array_member (object, "done",
                                  build_strings ((const char *const *) surface->done));
  json_object_set_object_member (object, "stair", ts_plan_build_stair (&surface->stair));
  set_child (object, "locked", build_locked (surface));
  if (surface->accents->len > 0)
    json_object_set_array_member (object, "accents", build_accents (surface->accents));
  for (guint i = 0; i < surface->runs->len; i++)
    json_array_add_object_element (runs, build_run (ts_surface_get_run (surface, i)));
  json_object_set_array_member (object, "runs", runs);
  if (surface->outline != NULL)
    json_object_set_object_member (object, "outline", build_outline (surface->outline));
  if (surface->finish_outline != NULL)
    json_object_set_object_member (object, "finish_outline",
                                   build_outline (surface->finish_outline));
  add_extra (object, surface->extra);
  return object;
}

static JsonObject *
build_brief_line (const TsBriefLine *line)
{
  JsonObject *object = json_object_new ();

  json_object_set_string_member (object, "name", line->name);
  set_lab (object, "lab", line->lab);
  ts_json_set_number (object, "tolerance_delta_e_2000", line->tolerance, COLOUR_DECIMALS);
  set_string (object, "locked", line->locked);
  if (line->radius > 0.0)
    {
      json_object_set_int_member (object, "picture", line->picture);
      ts_json_set_numbers (object, "spot", (double[]){ line->x, line->y, line->radius }, 3,
                           PLACE_DECIMALS);
    }
  add_extra (object, line->extra);
  return object;
}

static JsonObject *
build_finish_run (const TsFinishRun *finish)
{
  JsonObject *object = build_run (finish->run);

  json_object_set_int_member (object, "surface", finish->surface);
  add_extra (object, finish->extra);
  return object;
}

static void
set_rule (JsonObject *object, const char *member, const TsPaintRules *rules, TsPaintRule rule)
{
  g_autoptr (GPtrArray) names = ts_paint_rules_get_names (rules, rule);

  if (names->len == 0)
    return;
  g_ptr_array_add (names, NULL);
  json_object_set_array_member (object, member, build_strings ((const char *const *) names->pdata));
}

/* Limits that nobody set are not written, so that older plans stay as they are. */
static JsonObject *
build_limits (const TsPlan *plan)
{
  JsonObject *object = json_object_new ();

  json_object_set_int_member (object, "paints_a_mix", plan->mix.max_paints);
  json_object_set_int_member (object, "parts_a_mix", plan->mix.max_parts);
  ts_json_set_number (object, "reach_delta_e_2000", plan->mix.reach, COLOUR_DECIMALS);
  if (plan->mix.most_paints > 0)
    json_object_set_int_member (object, "paints_a_stair", plan->mix.most_paints);
  if (plan->mix.opaque_only)
    json_object_set_boolean_member (object, "opaque_only", TRUE);
  set_rule (object, "only", plan->rules, TS_RULE_ONLY);
  set_rule (object, "left_out", plan->rules, TS_RULE_LEFT_OUT);
  set_rule (object, "must_hold", plan->rules, TS_RULE_NEEDED);
  set_string (object, "medium", plan->medium);
  if (plan->mix.thinning > 0.0)
    ts_json_set_number (object, "parts_of_medium", plan->mix.thinning, COLOUR_DECIMALS);
  if (plan->mix.drop < TS_USUAL_DROP || plan->mix.drop > TS_USUAL_DROP)
    ts_json_set_number (object, "drop_mm3", plan->mix.drop, COLOUR_DECIMALS);
  return object;
}

static JsonObject *
build_contrast (const TsContrastSettings *contrast)
{
  JsonObject *object = json_object_new ();

  ts_json_set_number (object, "least_step_L", contrast->least_step, COLOUR_DECIMALS);
  ts_json_set_number (object, "most_step_L", contrast->most_step, COLOUR_DECIMALS);
  ts_json_set_number (object, "least_range_L", contrast->least_range, COLOUR_DECIMALS);
  ts_json_set_number (object, "distance_mm", contrast->distance, COLOUR_DECIMALS);
  ts_json_set_number (object, "band_mm", contrast->band, COLOUR_DECIMALS);
  ts_json_set_number (object, "luminance_cd_m2", contrast->luminance, COLOUR_DECIMALS);
  return object;
}

/* The paint set's table, a line a string, so that a plan's changes can be read line by line. */
static JsonObject *
build_paints (const TsPlan *plan)
{
  JsonObject *object = json_object_new ();
  g_autofree char *csv = ts_paint_set_to_csv (plan->paints);
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);
  guint n = g_strv_length (lines);

  if (n > 0 && *lines[n - 1] == '\0')
    g_clear_pointer (&lines[n - 1], g_free);
  set_string (object, "name", plan->paints_name);
  json_object_set_array_member (object, "table", build_strings ((const char *const *) lines));
  return object;
}

/* Surfaces counted from 0, as elsewhere in the file. */
static JsonArray *
build_touching (const TsPlan *plan)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < plan->touching->len; i++)
    {
      const TsTouch *touch = &g_array_index (plan->touching, TsTouch, i);
      JsonObject *object = json_object_new ();

      json_object_set_int_member (object, "one", touch->one);
      json_object_set_int_member (object, "other", touch->other);
      json_object_set_boolean_member (object, "touch", touch->touch);
      json_array_add_object_element (array, object);
    }
  return array;
}

static void
build_lists (const TsPlan *plan, const char *folder, JsonObject *object)
{
  JsonArray *pictures = json_array_new (), *surfaces = json_array_new ();
  JsonArray *brief = json_array_new (), *finish = json_array_new ();

  for (guint i = 0; i < plan->pictures->len; i++)
    json_array_add_object_element (pictures, build_picture (ts_plan_get_picture (plan, i), folder));
  for (guint i = 0; i < plan->surfaces->len; i++)
    json_array_add_object_element (surfaces, build_surface (ts_plan_get_surface (plan, i)));
  for (guint i = 0; i < plan->brief->len; i++)
    json_array_add_object_element (brief, build_brief_line (ts_plan_get_brief_line (plan, i)));
  for (guint i = 0; i < plan->finish->len; i++)
    json_array_add_object_element (finish, build_finish_run (g_ptr_array_index (plan->finish, i)));
  json_object_set_array_member (object, "pictures", pictures);
  json_object_set_array_member (object, "spot_columns", build_strings (ts_plan_spot_columns));
  json_object_set_array_member (object, "surfaces", surfaces);
  if (plan->touching->len > 0)
    json_object_set_array_member (object, "touching", build_touching (plan));
  json_object_set_array_member (object, "brief", brief);
  json_object_set_array_member (object, "finish", finish);
}

/**
 * ts_plan_to_text:
 * @plan: a plan
 * @folder: where the text will be saved; pictures are named relative to it
 *
 * The text keeps its order of members, so that small changes make small differences.
 *
 * Returns: (transfer full): JSON text
 */
char *
ts_plan_to_text (const TsPlan *plan, const char *folder)
{
  g_autoptr (JsonObject) object = json_object_new ();
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);

  json_object_set_string_member (object, "format", TS_PLAN_FORMAT);
  json_object_set_int_member (object, "version", TS_PLAN_FILE_VERSION);
  json_object_set_string_member (object, "title", plan->title);
  json_object_set_string_member (object, "notes", plan->notes);
  ts_json_set_number (object, "figure_height_mm", plan->figure_height, COLOUR_DECIMALS);
  build_lists (plan, folder, object);
  json_object_set_object_member (object, "mix", build_limits (plan));
  json_object_set_object_member (object, "contrast", build_contrast (&plan->contrast));
  if (plan->card_work)
    json_object_set_boolean_member (object, "card_has_work", TRUE);
  if (plan->paints != NULL)
    json_object_set_object_member (object, "paints", build_paints (plan));
  add_extra (object, plan->extra);
  json_node_set_object (root, object);
  return ts_json_to_text (root);
}
