/* ts-finish-words.c: what became of the plan on the finished figure, in words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-finish-words.h"

#include <glib/gi18n.h>

#include "plan/ts-repairs.h"

/**
 * ts_finish_verdict_to_words:
 * @verdict: what became of a stair on the finished figure
 *
 * Returns: its word
 */
const char *
ts_finish_verdict_to_words (TsFinishVerdict verdict)
{
  switch (verdict)
    {
    case TS_FINISH_MERGED:
      return _ ("steps merged");
    case TS_FINISH_LIGHTS_LOST:
      return _ ("lights lost");
    case TS_FINISH_DARKS_LOST:
      return _ ("darks lost");
    case TS_FINISH_STEPS_OFF:
      return _ ("steps off");
    case TS_FINISH_KEPT:
    default:
      return _ ("kept");
    }
}

/**
 * ts_finish_judges_hues:
 * @kind: how the finished figure's photograph is corrected
 *
 * Returns: whether its hues mean anything: not where the light was guessed, or left as it was
 */
gboolean
ts_finish_judges_hues (TsCorrectionKind kind)
{
  return kind == TS_CORRECTION_CARD || kind == TS_CORRECTION_CHART;
}

/**
 * ts_finish_correction_to_words:
 * @kind: how the finished figure's photograph is corrected
 *
 * Returns: that, and what it means for the check
 */
const char *
ts_finish_correction_to_words (TsCorrectionKind kind)
{
  switch (kind)
    {
    case TS_CORRECTION_CARD:
      return _ ("Corrected with the grey card");
    case TS_CORRECTION_CHART:
      return _ ("Corrected with the colour chart");
    case TS_CORRECTION_GUESS:
    case TS_CORRECTION_NONE:
    default:
      return _ ("No grey card: lightness is rough, hues are not judged");
    }
}

/**
 * ts_finished_step_to_words:
 * @step: one step on the finished figure
 *
 * Returns: (transfer full): how far it is off
 */
char *
ts_finished_step_to_words (const TsFinishedStep *step)
{
  switch (step->verdict)
    {
    case TS_FINISH_TOO_DARK:
      return g_strdup_printf (_ ("%.0f L* too dark"), -step->delta_L);
    case TS_FINISH_TOO_LIGHT:
      return g_strdup_printf (_ ("%.0f L* too light"), step->delta_L);
    case TS_FINISH_AS_PLANNED:
    default:
      return g_strdup (_ ("as planned"));
    }
}

/**
 * ts_finished_range_to_words:
 * @finished: a stair on the finished figure
 *
 * Returns: (transfer full): how much of its range of lightness is left, and how sure that is
 */
char *
ts_finished_range_to_words (const TsFinished *finished)
{
  return g_strdup_printf (_ ("range %.0f of %.0f kept, within about %.0f"),
                          finished->range_achieved, finished->range_planned, finished->error);
}

/* One step, its number, planned and achieved, how far off, and whether it merged with the next. */
static void
append_step (GString *text, const TsFinished *finished, guint step, gboolean hues)
{
  const TsFinishedStep *one = &finished->step[step];
  g_autofree char *off = ts_finished_step_to_words (one);

  g_string_append (text, "  ");
  g_string_append_printf (text, _ ("Step %u: planned L* %.0f, achieved L* %.0f, %s"), step + 1,
                          one->planned.L, one->achieved.L, off);
  if (hues)
    g_string_append_printf (text, _ (", dE %.0f"), one->delta_e);
  if (step + 1 < finished->n_steps && finished->merged[step])
    g_string_append_printf (text, _ ("; merged with step %u"), step + 2);
  g_string_append_c (text, '\n');
}

static void
append_surface (GString *text, const char *name, const TsFinished *finished, gboolean hues)
{
  g_autofree char *range = ts_finished_range_to_words (finished);

  g_string_append_printf (text, "\n%s: %s; %s\n", name,
                          ts_finish_verdict_to_words (ts_finished_get_verdict (finished)), range);
  for (guint i = 0; i < finished->n_steps; i++)
    append_step (text, finished, i, hues);
}

static void
append_repairs (GString *text, const GPtrArray *repairs)
{
  g_string_append_printf (text, "\n%s\n", _ ("What to repaint"));
  if (repairs->len == 0)
    g_string_append_printf (text, "  %s\n", _ ("Nothing: all is as planned."));
  for (guint i = 0; i < repairs->len; i++)
    {
      const TsRepair *repair = g_ptr_array_index (repairs, i);
      g_auto (GStrv) lines = g_strsplit (repair->detail, "\n", -1);

      g_string_append_printf (text, "- %s\n", repair->title);
      for (guint j = 0; lines[j] != NULL; j++)
        g_string_append_printf (text, "  %s\n", lines[j]);
    }
}

/**
 * ts_finish_report:
 * @plan: a plan
 * @results: (element-type TsSurfaceResult): one a surface, elements may be %NULL
 * @finished: (element-type TsFinished): one a surface, %NULL where it is not measured
 * @kind: how the finished figure's photograph is corrected
 *
 * Returns: (transfer full): the finish check as plain text, one line a step, each line ended
 */
char *
ts_finish_report (const TsPlan *plan, const GPtrArray *results, const GPtrArray *finished,
                  TsCorrectionKind kind)
{
  g_autoptr (GPtrArray) repairs = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_repair_free);
  GString *text = g_string_new (NULL);
  guint n_measured = 0;

  g_string_append_printf (text, "%s\n%s\n", *plan->title != '\0' ? plan->title : _ ("Finish check"),
                          ts_finish_correction_to_words (kind));
  for (guint i = 0; i < plan->surfaces->len && i < finished->len; i++)
    {
      const TsFinished *one = g_ptr_array_index (finished, i);
      const char *name = ts_plan_get_surface (plan, i)->name;

      if (one == NULL)
        continue;
      append_surface (text, name, one, ts_finish_judges_hues (kind));
      ts_repairs_add (repairs, name, g_ptr_array_index (results, i), one);
      n_measured++;
    }
  if (n_measured > 0)
    append_repairs (text, repairs);
  else
    g_string_append_printf (text, "\n%s\n", _ ("Nothing is measured on the photo yet."));
  return g_string_free (text, FALSE);
}
