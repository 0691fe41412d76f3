/* ts-cli-correction.c: the options that say how a photograph is corrected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cli/ts-cli.h"

#include "base/ts-error.h"
#include "plan/ts-plan-file.h"

#define CARD_LIGHTNESS 49.5 /* L* of an 18 % grey card */

/**
 * ts_cli_correction_clear:
 * @self: options of a correction
 */
void
ts_cli_correction_clear (TsCliCorrection *self)
{
  g_clear_pointer (&self->grey, g_strfreev);
  g_clear_pointer (&self->chart, g_free);
  g_clear_pointer (&self->reference, g_free);
  g_clear_pointer (&self->from, g_free);
  g_clear_pointer (&self->match, g_free);
}

static gboolean
parse_card (const char *text, TsCardPlace *place, GError **error)
{
  double numbers[4];
  guint n;

  if (!ts_cli_parse_numbers ("--grey", text, numbers, 3, 4, &n, error))
    return FALSE;
  *place =
    (TsCardPlace){ numbers[0], numbers[1], numbers[2], n == 4 ? numbers[3] : CARD_LIGHTNESS };
  if (!(place->lightness > 0.0 && place->lightness <= 100.0))
    return ts_cli_usage (error, "--grey %s: the card's L* is above 0 and at most 100", text);
  return TRUE;
}

static gboolean
parse_cards (char **texts, TsCorrectionSettings *settings, GError **error)
{
  guint n = g_strv_length (texts);
  TsCardPlace first;

  if (n > TS_CORRECTION_MAX_CARDS)
    return ts_cli_usage (error, "--grey: at most %d cards", TS_CORRECTION_MAX_CARDS);
  if (!parse_card (texts[0], &first, error))
    return FALSE;
  for (guint i = 1; i < n; i++)
    if (!parse_card (texts[i], &settings->more_card[i - 1], error))
      return FALSE;
  settings->kind = TS_CORRECTION_CARD;
  settings->card_x = first.x;
  settings->card_y = first.y;
  settings->card_radius = first.radius;
  settings->card_lightness = first.lightness;
  settings->n_more_cards = n - 1;
  return TRUE;
}

static gboolean
parse_chart (const TsCliCorrection *self, TsCorrectionSettings *settings, GError **error)
{
  g_autoptr (GArray) corners = ts_cli_parse_points ("--chart", self->chart, error);

  if (corners == NULL)
    return FALSE;
  if (corners->len != 4)
    return ts_cli_usage (error, "--chart %s: four corners are wanted, clockwise from patch 1",
                         self->chart);
  for (guint i = 0; i < 4; i++)
    {
      settings->corner[i][0] = g_array_index (corners, TsPoint, i).x;
      settings->corner[i][1] = g_array_index (corners, TsPoint, i).y;
    }
  settings->kind = TS_CORRECTION_CHART;
  if (self->reference == NULL || g_str_equal (self->reference, "later") ||
      g_str_equal (self->reference, "earlier"))
    settings->chart = g_strdup (self->reference != NULL ? self->reference : "later");
  else
    settings->chart = g_canonicalize_filename (self->reference, NULL);
  return TRUE;
}

static gboolean
parse_match (const char *text, TsCorrectionSettings *settings, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, ":", -1);
  double there[3], here[3];

  if (g_strv_length (words) != 2)
    return ts_cli_usage (
      error,
      "--match %s: two circles are wanted, X,Y,R:X,Y,R, of one card in the other "
      "photograph and in this one",
      text);
  if (!ts_cli_parse_numbers ("--match", words[0], there, 3, 3, NULL, error) ||
      !ts_cli_parse_numbers ("--match", words[1], here, 3, 3, NULL, error))
    return FALSE;
  if (!(there[2] > 0.0 && here[2] > 0.0))
    return ts_cli_usage (error, "--match %s: a radius is above 0", text);
  settings->match_there = (TsCardPlace){ .x = there[0], .y = there[1], .radius = there[2] };
  settings->match_here = (TsCardPlace){ .x = here[0], .y = here[1], .radius = here[2] };
  return TRUE;
}

/* The first photograph of the plan that has a correction of its own. */
static gboolean
take_from_plan (const char *path, TsCorrectionSettings *settings, GError **error)
{
  g_autoptr (TsPlan) plan = ts_plan_load (path, error);

  if (plan == NULL)
    return FALSE;
  for (guint i = 0; i < plan->pictures->len; i++)
    {
      const TsPicture *picture = ts_plan_get_picture (plan, i);

      if (picture->correction.kind != TS_CORRECTION_CARD &&
          picture->correction.kind != TS_CORRECTION_CHART)
        continue;
      ts_correction_settings_copy (settings, &picture->correction);
      if (settings->source == NULL)
        settings->source = g_strdup (picture->path);
      return TRUE;
    }
  g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
               "No photograph of %s is corrected by a card or a chart", path);
  return FALSE;
}

static gboolean
check_words (const TsCliCorrection *self, GError **error)
{
  gboolean plan = self->from != NULL && g_str_has_suffix (self->from, ".tonestair");

  if ((self->grey != NULL) + (self->chart != NULL) + self->guess + plan > 1)
    return ts_cli_usage (error, "give one of --grey, --chart, --guess and --from PLAN");
  if (self->reference != NULL && self->chart == NULL)
    return ts_cli_usage (error, "--chart-reference needs --chart");
  if (self->match != NULL && self->from == NULL)
    return ts_cli_usage (error, "--match needs --from");
  if (self->from != NULL && !plan && self->grey == NULL && self->chart == NULL)
    return ts_cli_usage (error, "--from IMAGE needs the --chart or --grey that lies in that image");
  return TRUE;
}

static gboolean
parse_all (const TsCliCorrection *self, TsCorrectionSettings *settings, GError **error)
{
  if (self->guess)
    settings->kind = TS_CORRECTION_GUESS;
  if ((self->grey != NULL && !parse_cards (self->grey, settings, error)) ||
      (self->chart != NULL && !parse_chart (self, settings, error)))
    return FALSE;
  if (self->from != NULL && self->grey == NULL && self->chart == NULL)
    {
      if (!take_from_plan (self->from, settings, error))
        return FALSE;
    }
  else if (self->from != NULL)
    settings->source = g_canonicalize_filename (self->from, NULL);
  return self->match == NULL || parse_match (self->match, settings, error);
}

/**
 * ts_cli_correction_parse:
 * @self: options of a correction
 * @settings: (out): what they ask for; ts_correction_settings_clear() it, on failure too
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with an error of usage, or a #TsError where a plan cannot be read
 */
gboolean
ts_cli_correction_parse (const TsCliCorrection *self, TsCorrectionSettings *settings,
                         GError **error)
{
  *settings = (TsCorrectionSettings){ .card_lightness = CARD_LIGHTNESS };
  return check_words (self, error) && parse_all (self, settings, error);
}
