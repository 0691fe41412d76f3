/* ts-accent.c: a step and something more: a lip, a glint, what is mirrored from beside
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-accent.h"

#include <json-glib/json-glib.h>

/**
 * ts_accent_new:
 * @name: what the painter calls it
 * @step: number of the step it begins with, from 0
 * @paint: name of the paint that comes to the step's mix
 * @parts: of it, 1 to TS_ACCENT_MOST_PARTS
 *
 * Returns: (transfer full): an accent
 */
TsAccent *
ts_accent_new (const char *name, guint step, const char *paint, guint parts)
{
  TsAccent *accent = g_new0 (TsAccent, 1);

  accent->name = g_strdup (name);
  accent->step = step;
  accent->paint = g_strdup (paint);
  accent->parts = parts;
  return accent;
}

/**
 * ts_accent_copy:
 * @accent: an accent
 *
 * Returns: (transfer full): the same
 */
TsAccent *
ts_accent_copy (const TsAccent *accent)
{
  TsAccent *copy = ts_accent_new (accent->name, accent->step, accent->paint, accent->parts);

  copy->extra = accent->extra != NULL ? json_object_ref (accent->extra) : NULL;
  return copy;
}

/**
 * ts_accent_free:
 * @accent: (transfer full) (nullable): an accent
 */
void
ts_accent_free (TsAccent *accent)
{
  if (accent == NULL)
    return;
  g_free (accent->name);
  g_free (accent->paint);
  g_clear_pointer ((JsonObject **) &accent->extra, json_object_unref);
  g_free (accent);
}

/**
 * ts_accents_new:
 *
 * Returns: (transfer full) (element-type TsAccent): an empty list
 */
GPtrArray *
ts_accents_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) ts_accent_free);
}

/**
 * ts_accents_copy:
 * @accents: (element-type TsAccent): a list
 *
 * Returns: (transfer full) (element-type TsAccent): a deep copy
 */
GPtrArray *
ts_accents_copy (const GPtrArray *accents)
{
  GPtrArray *copy = ts_accents_new ();

  for (guint i = 0; i < accents->len; i++)
    g_ptr_array_add (copy, ts_accent_copy (g_ptr_array_index (accents, i)));
  return copy;
}

/**
 * ts_accents_move:
 * @accents: (element-type TsAccent): a list that has not been given away
 * @moved: (array length=n): the number that each step has now
 * @n: how many steps there were
 *
 * Steps come, go and move: what begins with one goes along.
 */
void
ts_accents_move (GPtrArray *accents, const guint *moved, guint n)
{
  for (guint i = 0; i < accents->len; i++)
    {
      TsAccent *accent = g_ptr_array_index (accents, i);

      if (accent->step < n)
        accent->step = moved[accent->step];
    }
}
