/* ts-plan-read-mix.c: what mixes may be, from JSON
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-file-private.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "base/ts-json.h"
#include "recipes/ts-recipe-search.h"

#define MAX_RULES 1000 /* against absurd files */

static gboolean
read_rule (JsonObject *object, const char *member, TsPaintRule rule, TsPlan *plan, GError **error)
{
  JsonArray *names;

  if (!ts_json_get_array_or (object, member, "mix", &names, error))
    return FALSE;
  if (names != NULL && json_array_get_length (names) > MAX_RULES)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("mix.%s holds more than %d entries"),
                   member, MAX_RULES);
      return FALSE;
    }
  for (guint i = 0; names != NULL && i < json_array_get_length (names); i++)
    {
      JsonNode *node = json_array_get_element (names, i);
      const char *name = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;
      g_autoptr (TsPaintRules) before = plan->rules;

      plan->rules = NULL;
      if (name == NULL)
        {
          g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                       _ ("mix.%s[%u] is not the name of a paint"), member, i);
          return FALSE;
        }
      plan->rules = ts_paint_rules_with (before, name, rule);
    }
  return TRUE;
}

static gboolean
read_mix_rules (JsonObject *object, TsPlan *plan, GError **error)
{
  TsMixSettings *mix = &plan->mix;
  const char *medium;

  if (object == NULL)
    return TRUE;
  if (!ts_plan_read_whole_or (object, "paints_a_stair", "mix", 0.0, 1000.0, 0, &mix->most_paints,
                              error) ||
      !ts_json_get_flag_or (object, "opaque_only", "mix", FALSE, &mix->opaque_only, error) ||
      !ts_json_get_number_or (object, "parts_of_medium", "mix", 0.0, 100.0, 0.0, &mix->thinning,
                              error) ||
      !ts_json_get_number_or (object, "drop_mm3", "mix", 1.0, 1000.0, mix->drop, &mix->drop,
                              error) ||
      !ts_json_get_string_or (object, "medium", "mix", NULL, &medium, error))
    return FALSE;
  plan->medium = g_strdup (medium);
  return read_rule (object, "only", TS_RULE_ONLY, plan, error) &&
         read_rule (object, "left_out", TS_RULE_LEFT_OUT, plan, error) &&
         read_rule (object, "must_hold", TS_RULE_NEEDED, plan, error);
}

gboolean
ts_plan_read_mix (JsonObject *object, TsPlan *plan, GError **error)
{
  TsMixSettings *mix = &plan->mix;

  return object == NULL ||
         (ts_plan_read_whole_or (object, "paints_a_mix", "mix", 1.0, TS_SEARCH_MAX_PAINTS,
                                 mix->max_paints, &mix->max_paints, error) &&
          ts_plan_read_whole_or (object, "parts_a_mix", "mix", 2.0, TS_SEARCH_MAX_PARTS,
                                 mix->max_parts, &mix->max_parts, error) &&
          ts_json_get_number_or (object, "reach_delta_e_2000", "mix", 0.0, 100.0, mix->reach,
                                 &mix->reach, error) &&
          read_mix_rules (object, plan, error));
}
