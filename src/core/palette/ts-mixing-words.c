/* ts-mixing-words.c: the order of work at the palette in a painter's words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "palette/ts-mixing-sequence.h"

#include <glib/gi18n.h>
#include <math.h>

/* "3 drops", "about 2.5 drops": halves are told, since nobody sees less. */
static char *
dup_drops (double drops)
{
  double halves = MAX (1.0, round (2.0 * drops)) / 2.0;
  gboolean whole = fabs (halves - round (halves)) < 0.1;

  if (fabs (drops - halves) < 0.01 && whole)
    return g_strdup_printf (ngettext ("%.0f drop", "%.0f drops", (gulong) round (halves)), halves);
  return whole
           ? g_strdup_printf (
               ngettext ("about %.0f drop", "about %.0f drops", (gulong) round (halves)), halves)
           : g_strdup_printf (_ ("about %.1f drops"), halves);
}

static char *
dup_paints (const TsWork *work, const TsPaintSet *set)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < work->n_paints; i++)
    {
      g_autofree char *drops = dup_drops (work->drops[i]);

      g_string_append_printf (text, "%s%s %s", i > 0 ? _ (", ") : "", drops,
                              ts_paint_get_name (ts_paint_set_get_paint (set, work->paint[i])));
    }
  return g_string_free (text, FALSE);
}

static char *
dup_painting (const TsWork *work, const char *medium)
{
  g_autofree char *amount = dup_drops (work->amount);
  g_autofree char *drops = work->medium > 0 ? dup_drops (work->medium) : NULL;

  if (drops == NULL)
    return g_strdup_printf (_ ("Paint step %u; it takes %s."), work->step + 1, amount);
  return g_strdup_printf (_ ("Paint step %u; it takes %s, thinned with %s of %s."), work->step + 1,
                          amount, drops, medium != NULL ? medium : _ ("medium"));
}

static char *
dup_keeping (const TsWork *work)
{
  g_autofree char *amount = dup_drops (work->amount);
  g_autofree char *left = dup_drops (work->left);

  return g_strdup_printf (_ ("Keep %s of it. Left over: %s."), amount, left);
}

/**
 * ts_work_to_text:
 * @work: one thing to do
 * @set: the paints
 * @medium: (nullable): name of what paint is thinned with
 *
 * Returns: (transfer full): a sentence
 */
char *
ts_work_to_text (const TsWork *work, const TsPaintSet *set, const char *medium)
{
  g_autofree char *paints = dup_paints (work, set);
  g_autofree char *puddle = dup_drops (work->puddle);
  g_autofree char *amount = dup_drops (work->amount);
  g_autofree char *left = dup_drops (work->left);

  switch (work->kind)
    {
    case TS_WORK_PUT_OUT:
      return g_strdup_printf (_ ("Put out %s and mix them: %s for step %u."), paints, puddle,
                              work->step + 1);
    case TS_WORK_ADD:
      return g_strdup_printf (_ ("Add %s and mix: %s for step %u."), paints, puddle,
                              work->step + 1);
    case TS_WORK_PAINT:
      return dup_painting (work, medium);
    case TS_WORK_SET_ASIDE:
      return g_strdup_printf (_ ("Set %s of it aside for the lights."), amount);
    case TS_WORK_KEEP:
      return dup_keeping (work);
    case TS_WORK_TAKE_UP:
      return g_strdup_printf (_ ("Go back to the %s set aside."), amount);
    case TS_WORK_CLEAR:
    default:
      return g_strdup_printf (_ ("Done with this mix. Left over: %s."), left);
    }
}

/**
 * ts_work_to_key:
 * @work: one thing to do
 * @set: the paints
 *
 * Returns: (transfer full): what tells it from other work, as "put_out 4: 8 Deep Teal + 4 Chalk
 * White"
 */
char *
ts_work_to_key (const TsWork *work, const TsPaintSet *set)
{
  GString *key = g_string_new (NULL);

  g_string_append_printf (key, "%s %u:", ts_work_kind_to_id (work->kind), work->step + 1);
  for (guint i = 0; i < work->n_paints; i++)
    g_string_append_printf (key, "%s %u %s", i > 0 ? " +" : "", work->drops[i],
                            ts_paint_get_name (ts_paint_set_get_paint (set, work->paint[i])));
  return g_string_free (key, FALSE);
}

/**
 * ts_work_kind_to_id:
 * @kind: a kind of work
 *
 * Returns: (transfer none): its name in files
 */
const char *
ts_work_kind_to_id (TsWorkKind kind)
{
  static const char *const ids[] = { "put_out", "add",     "paint", "set_aside",
                                     "keep",    "take_up", "clear" };

  g_return_val_if_fail ((guint) kind < G_N_ELEMENTS (ids), NULL);

  return ids[kind];
}
