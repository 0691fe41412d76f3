/* ts-cli-answer.c: the pieces that answers are made of
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cli/ts-cli.h"

#include <math.h>

#include "base/ts-json.h"
#include "colour/ts-difference.h"

#define LAB_DECIMALS 4
#define PLACE_DECIMALS 3
#define CURVE_POINTS 51 /* of the curve that is printed */

static const char *const shape_words[] = { "falling", "falling_then_rising", "free" };
static const char *const kind_words[] = { "none", "card", "chart", "guess" };

void
ts_cli_set_lab (JsonObject *object, const char *member, TsLab lab)
{
  ts_json_set_numbers (object, member, (double[]){ lab.L, lab.a, lab.b }, 3, LAB_DECIMALS);
}

/* What is written as 0.0 has no sign. */
static double
unsign (double number)
{
  return fabs (number) < 0.05 ? 0.0 : number;
}

void
ts_cli_append_lab (GString *text, TsLab lab)
{
  g_string_append_printf (text, "L* %.1f  a* %.1f  b* %.1f", unsign (lab.L), unsign (lab.a),
                          unsign (lab.b));
}

JsonObject *
ts_cli_build_spot (const TsSpot *spot, const TsCorrection *correction, gboolean on_run)
{
  JsonObject *object = json_object_new ();

  ts_json_set_number (object, "x", spot->x, PLACE_DECIMALS);
  ts_json_set_number (object, "y", spot->y, PLACE_DECIMALS);
  ts_json_set_number (object, "radius", spot->radius, PLACE_DECIMALS);
  if (on_run)
    ts_json_set_number (object, "position", spot->position, 6);
  ts_cli_set_lab (object, "lab_d50", spot->lab);
  ts_json_set_number (object, "spread", spot->spread, LAB_DECIMALS);
  json_object_set_int_member (object, "pixels", spot->pixels);
  ts_json_set_number (object, "clipped_share", spot->clipped_share, 5);
  ts_json_set_number (object, "standard_error_L", spot->standard_error, LAB_DECIMALS);
  ts_json_set_number (object, "error_delta_e_2000", ts_spot_get_error (spot, correction), 1);
  ts_json_set_number (object, "error_L", ts_spot_get_lightness_error (spot, correction), 1);
  return object;
}

/* The outline of a whole surface from its corners, read. */
TsOutline *
ts_cli_read_outline (const char *text, const TsImage *image, const TsCorrection *correction,
                     GError **error)
{
  g_autoptr (GArray) points = ts_cli_parse_points ("--outline", text, error);
  g_autoptr (TsOutline) outline = NULL;

  if (points == NULL)
    return NULL;
  if (points->len < 3)
    {
      ts_cli_usage (error, "--outline %s: three corners or more are wanted", text);
      return NULL;
    }
  outline = ts_outline_new (0, (const TsPoint *) points->data, points->len);
  if (!ts_pipeline_measure_outline (outline, image, correction, NULL, error))
    return NULL;
  return g_steal_pointer (&outline);
}

/* Its tones, each of the same share of the area. */
JsonObject *
ts_cli_build_outline (const TsOutline *outline)
{
  JsonObject *object = json_object_new ();
  JsonArray *tones = json_array_new ();

  json_object_set_int_member (object, "pixels", outline->pixels);
  json_object_set_double_member (object, "left_out_share", outline->left_out);
  for (guint i = 0; i < outline->tones->len; i++)
    {
      JsonObject *tone = json_object_new ();

      ts_cli_set_lab (tone, "lab_d50", g_array_index (outline->tones, TsTone, i).lab);
      json_array_add_object_element (tones, tone);
    }
  json_object_set_array_member (object, "tones", tones);
  return object;
}

JsonObject *
ts_cli_build_recipe (const TsPaintSet *set, const TsRecipe *recipe)
{
  JsonObject *object = json_object_new ();
  JsonArray *parts = json_array_new ();

  for (guint i = 0; i < recipe->n_paints; i++)
    {
      JsonObject *part = json_object_new ();

      json_object_set_string_member (
        part, "paint", ts_paint_get_name (ts_paint_set_get_paint (set, recipe->paint[i])));
      json_object_set_int_member (part, "parts", recipe->parts[i]);
      json_array_add_object_element (parts, part);
    }
  json_object_set_array_member (object, "parts", parts);
  ts_cli_set_lab (object, "lab_d50", recipe->lab);
  ts_json_set_number (object, "delta_e_2000", recipe->delta_e, LAB_DECIMALS);
  ts_json_set_number (object, "delta_e_2000_drop_error", recipe->delta_e_drop_error, LAB_DECIMALS);
  ts_json_set_number (object, "delta_e_2000_illuminant_a", recipe->delta_e_illuminant_a,
                      LAB_DECIMALS);
  ts_json_set_number (object, "delta_e_2000_led_b1", recipe->delta_e_led_b1, LAB_DECIMALS);
  ts_json_set_number (object, "metamerism_a", recipe->metamerism_a, LAB_DECIMALS);
  ts_json_set_number (object, "metamerism_led_b1", recipe->metamerism_led_b1, LAB_DECIMALS);
  ts_json_set_number (object, "error_delta_e_2000", recipe->error, 1);
  return object;
}

/* Signed: the nearest mix less the wanted colour. */
static void
set_shortfall (JsonObject *object, TsShortfall shortfall)
{
  ts_json_set_number (object, "nearest_less_wanted_L", shortfall.L, 1);
  ts_json_set_number (object, "nearest_less_wanted_C", shortfall.C, 1);
  ts_json_set_number (object, "nearest_less_wanted_hue_degrees", shortfall.h, 0);
}

JsonObject *
ts_cli_build_target (const TsPaintSet *set, TsLab target, const TsRecipe *recipes, guint n_recipes,
                     double reach)
{
  JsonObject *object = json_object_new ();
  JsonArray *array = json_array_new ();
  TsReach word = n_recipes > 0 ? ts_reach_of (target, &recipes[0], reach) : TS_REACH_OTHER_HUE;

  ts_cli_set_lab (object, "lab_d50", target);
  json_object_set_boolean_member (object, "reachable", n_recipes > 0 && word == TS_REACH_WITHIN);
  if (word != TS_REACH_WITHIN)
    json_object_set_string_member (object, "out_of_reach", ts_reach_to_word (word));
  if (word != TS_REACH_WITHIN && n_recipes > 0)
    set_shortfall (object, ts_shortfall_of (target, &recipes[0], reach));
  for (guint i = 0; i < n_recipes; i++)
    json_array_add_object_element (array, ts_cli_build_recipe (set, &recipes[i]));
  json_object_set_array_member (object, "recipes", array);
  return object;
}

static JsonObject *
build_curve_point (const TsCurve *curve, double position)
{
  JsonObject *object = json_object_new ();
  TsLab lab = ts_curve_get_colour (curve, position);
  double low, high;

  ts_curve_get_band (curve, position, &low, &high);
  ts_json_set_number (object, "position", position, 6);
  ts_json_set_number (object, "L", lab.L, LAB_DECIMALS);
  ts_json_set_number (object, "low", low, LAB_DECIMALS);
  ts_json_set_number (object, "high", high, LAB_DECIMALS);
  ts_json_set_number (object, "a", lab.a, LAB_DECIMALS);
  ts_json_set_number (object, "b", lab.b, LAB_DECIMALS);
  return object;
}

/* What is known of a place is its 95 % range too. */
static void
set_place (JsonObject *answer, const char *name, double place, const double *range)
{
  g_autofree char *range_name = g_strconcat (name, "_range", NULL);

  ts_json_set_number (answer, name, place, 6);
  ts_json_set_numbers (answer, range_name, range, 2, 6);
}

void
ts_cli_set_curve (JsonObject *answer, const TsCurve *curve)
{
  JsonArray *points = json_array_new (), *outliers = json_array_new ();
  double place, range[2];

  for (guint i = 0; i < CURVE_POINTS; i++)
    json_array_add_object_element (points, build_curve_point (curve, i / (CURVE_POINTS - 1.0)));
  for (gsize i = 0; i < ts_curve_get_n_samples (curve); i++)
    if (ts_curve_sample_is_outlier (curve, i))
      json_array_add_int_element (outliers, (gint64) i);
  json_object_set_array_member (answer, "curve", points);
  json_object_set_string_member (answer, "shape", shape_words[ts_curve_get_shape (curve)]);
  place = ts_curve_get_highlight (curve, &range[0], &range[1]);
  set_place (answer, "highlight_position", place, range);
  if (ts_curve_get_terminator (curve, &place, &range[0], &range[1]))
    set_place (answer, "terminator_position", place, range);
  place = ts_curve_get_core_shadow (curve, &range[0], &range[1]);
  set_place (answer, "core_shadow_position", place, range);
  json_object_set_array_member (answer, "outliers", outliers);
  json_object_set_boolean_member (answer, "sound", ts_curve_is_sound (curve));
  json_object_set_boolean_member (answer, "seems_polished", ts_curve_seems_polished (curve));
}

void
ts_cli_set_steps (JsonObject *answer, const TsStair *stair)
{
  JsonArray *steps = json_array_new ();

  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    {
      const TsStep *step = ts_stair_get_step (stair, i);
      const char *role = ts_stair_get_role (stair, i);
      JsonObject *object = json_object_new ();

      ts_json_set_number (object, "position", step->position, 6);
      ts_cli_set_lab (object, "lab_d50", step->wanted);
      ts_cli_set_lab (object, "photo_lab_d50", step->photo);
      if (role != NULL)
        json_object_set_string_member (object, "role", role);
      json_array_add_object_element (steps, object);
    }
  json_object_set_array_member (answer, "steps", steps);
}

/* The verdict is the nominal one; "sure" tells whether it holds at the edge of the error too. */
static JsonObject *
build_check (const TsContrast *contrast, guint step)
{
  JsonObject *object = json_object_new ();
  gboolean may = contrast->verdict == TS_VERDICT_MAY_READ;

  json_object_set_int_member (object, "from", step + 1);
  json_object_set_int_member (object, "to", step + 2);
  ts_json_set_number (object, "delta_L", contrast->delta_L, LAB_DECIMALS);
  ts_json_set_number (object, "delta_e_2000", contrast->delta_e, LAB_DECIMALS);
  ts_json_set_number (object, "visibility", contrast->visibility, 2);
  json_object_set_string_member (object, "verdict",
                                 ts_verdict_to_id (may ? TS_VERDICT_READS : contrast->verdict));
  json_object_set_boolean_member (object, "sure", !may);
  ts_json_set_number (object, "error_L", contrast->error, 1);
  return object;
}

void
ts_cli_set_checks (JsonObject *answer, const TsSurfaceResult *result)
{
  JsonArray *checks = json_array_new ();

  for (guint i = 0; i + 1 < ts_surface_result_get_n_steps (result); i++)
    {
      TsContrast contrast = ts_surface_result_get_contrast (result, i);

      json_array_add_object_element (checks, build_check (&contrast, i));
    }
  json_object_set_array_member (answer, "checks", checks);
  ts_json_set_number (answer, "range_L", ts_surface_result_get_range (result), LAB_DECIMALS);
  ts_json_set_number (answer, "range_error_L", ts_surface_result_get_range_error (result),
                      LAB_DECIMALS);
}

static JsonArray *
build_patches (const TsChartReading *reading)
{
  JsonArray *patches = json_array_new ();

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      const TsChartPatch *patch = &reading->patch[i];
      JsonObject *object = json_object_new ();

      json_object_set_int_member (object, "patch", i + 1);
      json_object_set_boolean_member (object, "used", patch->used);
      if (patch->why != NULL)
        json_object_set_string_member (object, "why", patch->why);
      ts_json_set_number (object, "delta_e_2000", patch->residual, LAB_DECIMALS);
      json_array_add_object_element (patches, object);
    }
  return patches;
}

void
ts_cli_set_correction (JsonObject *answer, const TsCorrection *correction,
                       const TsChartReading *reading)
{
  JsonObject *object = json_object_new ();
  TsCorrectionKind kind = ts_correction_get_kind (correction);
  TsLab grey = { 50.0, 0.0, 0.0 };

  json_object_set_string_member (object, "kind", kind_words[kind]);
  if (kind == TS_CORRECTION_CARD)
    json_object_set_int_member (object, "cards", ts_correction_get_n_cards (correction));
  if (ts_correction_get_shared (correction))
    json_object_set_boolean_member (object, "from_another_photograph", TRUE);
  ts_json_set_number (object, "error_delta_e_2000", ts_correction_get_error (correction, grey), 1);
  ts_json_set_number (object, "error_L", ts_correction_get_lightness_error (correction, grey), 1);
  if (kind == TS_CORRECTION_CHART && reading != NULL)
    {
      ts_json_set_number (object, "leave_one_out_delta_e_2000", reading->leave_one_out,
                          LAB_DECIMALS);
      json_object_set_array_member (object, "patches", build_patches (reading));
    }
  json_object_set_object_member (answer, "correction", object);
}
