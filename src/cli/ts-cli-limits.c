/* ts-cli-limits.c: options that say what a mix may be, and answers about mixes as a whole
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "base/ts-json.h"
#include "cli/ts-cli.h"

#define DE_DECIMALS 4

void
ts_cli_limits_clear (TsCliLimits *self)
{
  g_clear_pointer (&self->use, g_strfreev);
  g_clear_pointer (&self->leave_out, g_strfreev);
  g_clear_pointer (&self->must_hold, g_strfreev);
}

static const char *
get_other_option (TsPaintRule rule)
{
  return rule == TS_RULE_ONLY ? "--use" : "--must-hold";
}

static gboolean
add_rules (TsPaintRules **rules, const TsPaintSet *set, const char *option, char **names,
           TsPaintRule rule, GError **error)
{
  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    {
      TsPaintRules *before = *rules;
      TsPaintRule found;

      if (ts_paint_set_find (set, names[i]) < 0)
        {
          g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                       "%s %s: there is no such paint in the set.", option, names[i]);
          return FALSE;
        }
      found = ts_paint_rules_get (before, names[i]);
      if (rule == TS_RULE_LEFT_OUT && found != TS_RULE_NONE && found != rule)
        return ts_cli_usage (error, "%s %s: %s names it too; give one of the two", option, names[i],
                             get_other_option (found));
      *rules = ts_paint_rules_with (before, names[i], rule);
      ts_paint_rules_unref (before);
    }
  return TRUE;
}

/**
 * ts_cli_limits_get_rules:
 * @self: options of limits
 * @set: the paints
 * @rules: (out) (nullable): what they say of paints
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %TS_ERROR_NOT_FOUND for a paint that the set does not have, or with an error
 *   of usage for one that is to be left out and used
 */
gboolean
ts_cli_limits_get_rules (const TsCliLimits *self, const TsPaintSet *set, TsPaintRules **rules,
                         GError **error)
{
  *rules = NULL;
  if (add_rules (rules, set, "--use", self->use, TS_RULE_ONLY, error) &&
      add_rules (rules, set, "--must-hold", self->must_hold, TS_RULE_NEEDED, error) &&
      add_rules (rules, set, "--leave-out", self->leave_out, TS_RULE_LEFT_OUT, error))
    return TRUE;
  g_clear_pointer (rules, ts_paint_rules_unref);
  return FALSE;
}

static JsonObject *
build_advice (const TsPaintAdvice *advice, guint n_targets)
{
  JsonObject *object = json_object_new ();
  g_autofree char *text = ts_paint_advice_to_text (advice, n_targets);

  json_object_set_string_member (object, "kind", advice->pigment->id);
  json_object_set_string_member (object, "what", advice->pigment->what);
  json_object_set_string_member (object, "families", advice->pigment->families);
  json_object_set_string_member (object, "pigments", advice->pigment->pigments);
  json_object_set_string_member (object, "opacity", ts_opacity_to_word (advice->pigment->opacity));
  ts_cli_set_lab (object, "tint_lab_d50", advice->pigment->tint);
  ts_cli_set_lab (object, "masstone_lab_d50", advice->masstone);
  ts_json_set_number (object, "nearer_delta_e_2000", advice->gain, 1);
  json_object_set_int_member (object, "colours_helped", advice->n_helped);
  json_object_set_int_member (object, "colours_reached", advice->n_reached);
  json_object_set_boolean_member (object, "approximate", TRUE);
  json_object_set_string_member (object, "text", text);
  return object;
}

/**
 * ts_cli_answer_advice:
 * @advice: (element-type TsPaintAdvice): kinds of paint that would help
 * @n_targets: colours that are out of reach
 * @answer: the answer
 * @text: the answer as text
 */
void
ts_cli_answer_advice (const GArray *advice, guint n_targets, JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < advice->len; i++)
    {
      const TsPaintAdvice *one = &g_array_index (advice, TsPaintAdvice, i);
      g_autofree char *words = ts_paint_advice_to_text (one, n_targets);

      json_array_add_object_element (array, build_advice (one, n_targets));
      g_string_append_printf (text, "%s\n", words);
    }
  if (advice->len == 0)
    g_string_append (text, n_targets == 0 ? "Every colour is within reach.\n"
                                          : "No kind of paint would bring them much nearer.\n");
  json_object_set_int_member (answer, "out_of_reach", n_targets);
  json_object_set_array_member (answer, "advice", array);
}

static JsonArray *
build_names (const TsPaintSet *set, const GArray *paints)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < paints->len; i++)
    json_array_add_string_element (
      array, ts_paint_get_name (ts_paint_set_get_paint (set, g_array_index (paints, guint, i))));
  return array;
}

/**
 * ts_cli_build_joint:
 * @set: the paints
 * @plan: a choice for all steps
 *
 * Returns: (transfer full): what it needs and how good it is
 */
JsonObject *
ts_cli_build_joint (const TsPaintSet *set, const TsJointPlan *plan)
{
  JsonObject *object = json_object_new ();
  g_autoptr (GArray) paints = ts_joint_plan_get_paints (plan);

  json_object_set_int_member (object, "n_paints", plan->n_paints);
  json_object_set_array_member (object, "paints", build_names (set, paints));
  json_object_set_int_member (object, "n_changes", plan->n_changes);
  ts_json_set_number (object, "mean_delta_e_2000_drop_error", plan->delta_e / plan->recipes->len,
                      DE_DECIMALS);
  ts_json_set_number (object, "cost", plan->cost, DE_DECIMALS);
  ts_json_set_number (object, "least_cost_proven", plan->bound, DE_DECIMALS);
  json_object_set_boolean_member (object, "proven", ts_joint_plan_is_proven (plan));
  return object;
}

static JsonObject *
build_work (const TsPaintSet *set, const TsWork *work, const char *medium)
{
  JsonObject *object = json_object_new ();
  JsonArray *drops = json_array_new ();
  g_autofree char *text = ts_work_to_text (work, set, medium);

  json_object_set_string_member (object, "do", ts_work_kind_to_id (work->kind));
  json_object_set_int_member (object, "step", work->step + 1);
  for (guint i = 0; i < work->n_paints; i++)
    {
      JsonObject *drop = json_object_new ();

      json_object_set_string_member (
        drop, "paint", ts_paint_get_name (ts_paint_set_get_paint (set, work->paint[i])));
      json_object_set_int_member (drop, "drops", work->drops[i]);
      json_array_add_object_element (drops, drop);
    }
  json_object_set_array_member (object, "drops", drops);
  ts_json_set_number (object, "mix_drops", work->amount, 3);
  ts_json_set_number (object, "left_over_drops", work->left, 3);
  ts_json_set_number (object, "puddle_drops", work->puddle, 3);
  json_object_set_int_member (object, "medium_drops", work->medium);
  json_object_set_string_member (object, "text", text);
  return object;
}

/**
 * ts_cli_answer_sequence:
 * @set: the paints
 * @sequence: the order of work at the palette
 * @medium: (nullable): what paint is thinned with
 * @answer: the answer
 * @text: the answer as text
 */
void
ts_cli_answer_sequence (const TsPaintSet *set, const TsMixingSequence *sequence, const char *medium,
                        JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();
  double left;
  guint drops = ts_mixing_sequence_get_drops (sequence, &left);

  for (guint i = 0; i < ts_mixing_sequence_get_n (sequence); i++)
    {
      const TsWork *work = ts_mixing_sequence_get_work (sequence, i);
      g_autofree char *words = ts_work_to_text (work, set, medium);

      json_array_add_object_element (array, build_work (set, work, medium));
      g_string_append_printf (text, "%3u. %s\n", i + 1, words);
    }
  g_string_append_printf (text, "     %u drops in all; about %.0f left over.\n", drops, left);
  json_object_set_array_member (answer, "sequence", array);
  json_object_set_int_member (answer, "drops_put_out", drops);
  ts_json_set_number (answer, "drops_left_over", left, 3);
}
