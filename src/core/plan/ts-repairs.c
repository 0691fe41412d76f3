/* ts-repairs.c: what to repaint on the finished figure, in a painter's words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-repairs.h"

#include <glib/gi18n.h>

#include "plan/ts-finish-words.h"

/**
 * ts_repair_free:
 * @repair: (transfer full): a repair
 */
void
ts_repair_free (TsRepair *repair)
{
  g_free (repair->title);
  g_free (repair->detail);
  g_free (repair);
}

/* Takes @title. */
static void
add (GPtrArray *repairs, char *title, const char *detail)
{
  TsRepair *repair = g_new0 (TsRepair, 1);

  repair->title = title;
  repair->detail = g_strdup (detail);
  g_ptr_array_add (repairs, repair);
}

static void
append_recipe (GString *detail, const TsSurfaceResult *planned, guint step)
{
  const TsRecipe *recipe = ts_surface_result_get_recipe (planned, step);
  TsPaintSet *paints = ts_surface_result_get_paints (planned);
  g_autofree char *words = NULL;

  if (recipe == NULL || paints == NULL)
    return;
  words = ts_recipe_to_text (paints, recipe);
  g_string_append_printf (detail, _ (" Paint it again: %s."), words);
}

/* Neighbours that are off the same way are one piece of work: steps @first to @last. */
static char *
name_group (const char *name, const TsFinished *finished, guint first, guint last)
{
  gboolean dark = finished->step[first].verdict == TS_FINISH_TOO_DARK;

  if (first == 0 && dark)
    return g_strdup_printf (_ ("%s: lift the lights"), name);
  if (last + 1 == finished->n_steps && !dark)
    return g_strdup_printf (_ ("%s: deepen the shadows"), name);
  if (first == last)
    return g_strdup_printf (dark ? _ ("%s: lighten step %u") : _ ("%s: darken step %u"), name,
                            first + 1);
  return g_strdup_printf (dark ? _ ("%s: lighten steps %u to %u") : _ ("%s: darken steps %u to %u"),
                          name, first + 1, last + 1);
}

static guint
find_last_alike (const TsFinished *finished, guint first)
{
  guint last = first;

  while (last + 1 < finished->n_steps &&
         finished->step[last + 1].verdict == finished->step[first].verdict)
    last++;
  return last;
}

static void
add_group (GPtrArray *repairs, const char *name, const TsSurfaceResult *planned,
           const TsFinished *finished, guint first, guint last)
{
  g_autoptr (GString) detail = g_string_new (NULL);

  for (guint i = first; i <= last; i++)
    {
      g_autofree char *off = ts_finished_step_to_words (&finished->step[i]);

      g_string_append_printf (detail, _ ("%sStep %u came out %s."), i > first ? "\n" : "", i + 1,
                              off);
      append_recipe (detail, planned, i);
    }
  add (repairs, name_group (name, finished, first, last), detail->str);
}

/* Neighbours that merged though each is near enough to its plan: the one further off is painted
 * again. */
static void
add_merged (GPtrArray *repairs, const char *name, const TsSurfaceResult *planned,
            const TsFinished *finished, guint step)
{
  const TsFinishedStep *one = &finished->step[step], *other = &finished->step[step + 1];
  g_autoptr (GString) detail = NULL;
  guint again;

  if (one->verdict != TS_FINISH_AS_PLANNED || other->verdict != TS_FINISH_AS_PLANNED)
    return;
  again = ABS (one->delta_L) >= ABS (other->delta_L) ? step : step + 1;
  detail = g_string_new (NULL);
  g_string_append_printf (detail, _ ("They cannot be told apart. Step %u is further off."),
                          again + 1);
  append_recipe (detail, planned, again);
  add (repairs, g_strdup_printf (_ ("%s: part steps %u and %u"), name, step + 1, step + 2),
       detail->str);
}

/**
 * ts_repairs_add:
 * @repairs: (element-type TsRepair): where to
 * @name: what the surface is called
 * @planned: its stair and recipes
 * @finished: what became of it
 *
 * Adds what to do, lights first.
 */
void
ts_repairs_add (GPtrArray *repairs, const char *name, const TsSurfaceResult *planned,
                const TsFinished *finished)
{
  for (guint i = 0; i < finished->n_steps; i++)
    if (finished->step[i].verdict != TS_FINISH_AS_PLANNED)
      {
        guint last = find_last_alike (finished, i);

        add_group (repairs, name, planned, finished, i, last);
        i = last;
      }
  for (guint i = 0; i + 1 < finished->n_steps; i++)
    if (finished->merged[i])
      add_merged (repairs, name, planned, finished, i);
}
