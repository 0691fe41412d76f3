/* ts-paint-rules.c: which paints a painter lets into mixes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-paint-rules.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"

typedef struct
{
  char *name;
  char *folded;
  TsPaintRule rule;
} Entry;

struct _TsPaintRules
{
  GPtrArray *entries; /* Entry */
};

static void
entry_free (gpointer data)
{
  Entry *entry = data;

  g_free (entry->name);
  g_free (entry->folded);
  g_free (entry);
}

static void
rules_clear (gpointer data)
{
  TsPaintRules *self = data;

  g_ptr_array_unref (self->entries);
}

/**
 * ts_paint_rules_ref:
 * @self: (nullable): rules
 *
 * Returns: (transfer full) (nullable): the same
 */
TsPaintRules *
ts_paint_rules_ref (TsPaintRules *self)
{
  return self != NULL ? g_atomic_rc_box_acquire (self) : NULL;
}

/**
 * ts_paint_rules_unref:
 * @self: (transfer full) (nullable): rules
 */
void
ts_paint_rules_unref (TsPaintRules *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, rules_clear);
}

static void
add_entry (TsPaintRules *self, const char *name, TsPaintRule rule)
{
  Entry *entry = g_new0 (Entry, 1);

  entry->name = g_strdup (name);
  entry->folded = g_utf8_casefold (name, -1);
  entry->rule = rule;
  g_ptr_array_add (self->entries, entry);
}

/**
 * ts_paint_rules_with:
 * @self: (nullable): rules
 * @paint: name of a paint
 * @rule: its rule from now on
 *
 * Returns: (transfer full) (nullable): the same rules but for that paint, or %NULL where none is
 *   left
 */
TsPaintRules *
ts_paint_rules_with (const TsPaintRules *self, const char *paint, TsPaintRule rule)
{
  g_autofree char *folded = g_utf8_casefold (paint, -1);
  TsPaintRules *rules = g_atomic_rc_box_new0 (TsPaintRules);
  gboolean placed = rule == TS_RULE_NONE;

  rules->entries = g_ptr_array_new_with_free_func (entry_free);
  for (guint i = 0; self != NULL && i < self->entries->len; i++)
    {
      const Entry *entry = g_ptr_array_index (self->entries, i);
      gboolean same = g_str_equal (entry->folded, folded);

      if (same && rule != TS_RULE_NONE)
        add_entry (rules, paint, rule);
      else if (!same)
        add_entry (rules, entry->name, entry->rule);
      placed |= same;
    }
  if (!placed)
    add_entry (rules, paint, rule);
  if (rules->entries->len == 0)
    g_clear_pointer (&rules, ts_paint_rules_unref);
  return rules;
}

/**
 * ts_paint_rules_get:
 * @self: (nullable): rules
 * @paint: name of a paint
 *
 * Returns: its rule
 */
TsPaintRule
ts_paint_rules_get (const TsPaintRules *self, const char *paint)
{
  g_autofree char *folded = g_utf8_casefold (paint, -1);

  for (guint i = 0; self != NULL && i < self->entries->len; i++)
    {
      const Entry *entry = g_ptr_array_index (self->entries, i);

      if (g_str_equal (entry->folded, folded))
        return entry->rule;
    }
  return TS_RULE_NONE;
}

/**
 * ts_paint_rules_is_equal:
 * @self: (nullable): rules
 * @other: (nullable): others
 *
 * Returns: whether they say the same of every paint
 */
gboolean
ts_paint_rules_is_equal (const TsPaintRules *self, const TsPaintRules *other)
{
  guint n = self != NULL ? self->entries->len : 0;

  if (n != (other != NULL ? other->entries->len : 0))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      const Entry *entry = g_ptr_array_index (self->entries, i);

      if (ts_paint_rules_get (other, entry->name) != entry->rule)
        return FALSE;
    }
  return TRUE;
}

/**
 * ts_paint_rules_get_names:
 * @self: (nullable): rules
 * @rule: one of them
 *
 * Returns: (transfer container) (element-type utf8): the paints under that rule
 */
GPtrArray *
ts_paint_rules_get_names (const TsPaintRules *self, TsPaintRule rule)
{
  GPtrArray *names = g_ptr_array_new ();

  for (guint i = 0; self != NULL && i < self->entries->len; i++)
    {
      const Entry *entry = g_ptr_array_index (self->entries, i);

      if (entry->rule == rule)
        g_ptr_array_add (names, entry->name);
    }
  return names;
}

static gboolean
has_rule (const TsPaintRules *self, TsPaintRule rule)
{
  for (guint i = 0; i < self->entries->len; i++)
    if (((const Entry *) g_ptr_array_index (self->entries, i))->rule == rule)
      return TRUE;
  return FALSE;
}

static gboolean
add_needed (GArray *needed, const TsPaintRules *rules, const TsPaintSet *set, GError **error)
{
  for (guint i = 0; i < rules->entries->len; i++)
    {
      const Entry *entry = g_ptr_array_index (rules->entries, i);
      int index = ts_paint_set_find (set, entry->name);
      guint paint = (guint) index;

      if (entry->rule != TS_RULE_NEEDED)
        continue;
      if (index < 0)
        {
          g_set_error (
            error, TS_ERROR, TS_ERROR_NOT_FOUND,
            _ ("Every mix must hold “%s”, which is not in the paint set; add it or leave "
               "that out"),
            entry->name);
          return FALSE;
        }
      g_array_append_val (needed, paint);
    }
  return TRUE;
}

static gboolean
is_allowed (const TsPaintRules *rules, const TsPaint *paint, gboolean only)
{
  TsPaintRule rule = ts_paint_rules_get (rules, ts_paint_get_name (paint));

  if (rule == TS_RULE_LEFT_OUT)
    return FALSE;
  return only ? rule != TS_RULE_NONE : ts_paint_is_for_mixing (paint) || rule == TS_RULE_NEEDED;
}

/**
 * ts_ruled_limits_init:
 * @self: (out): limits and what they point to
 * @limits: the other limits; paints allowed and needed in them are replaced
 * @rules: (nullable): rules
 * @set: the paints
 * @error: return location for an error, or %NULL
 *
 * A rule for a paint that the set does not have says nothing, but where mixes must hold it.
 *
 * Returns: %FALSE with %TS_ERROR_NOT_FOUND for such a one
 */
gboolean
ts_ruled_limits_init (TsRuledLimits *self, const TsSearchLimits *limits, const TsPaintRules *rules,
                      const TsPaintSet *set, GError **error)
{
  gboolean only;

  *self = (TsRuledLimits){ .limits = *limits };
  if (rules == NULL)
    return TRUE;
  self->allowed = g_array_new (FALSE, FALSE, sizeof (guint));
  self->needed = g_array_new (FALSE, FALSE, sizeof (guint));
  if (!add_needed (self->needed, rules, set, error))
    {
      ts_ruled_limits_clear (self);
      return FALSE;
    }
  only = has_rule (rules, TS_RULE_ONLY);
  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    if (is_allowed (rules, ts_paint_set_get_paint (set, i), only))
      g_array_append_val (self->allowed, i);
  self->limits.allowed = (const guint *) (gpointer) self->allowed->data;
  self->limits.n_allowed = self->allowed->len;
  self->limits.needed = (const guint *) (gpointer) self->needed->data;
  self->limits.n_needed = self->needed->len;
  return TRUE;
}

/**
 * ts_ruled_limits_clear:
 * @self: limits
 */
void
ts_ruled_limits_clear (TsRuledLimits *self)
{
  g_clear_pointer (&self->allowed, g_array_unref);
  g_clear_pointer (&self->needed, g_array_unref);
}
