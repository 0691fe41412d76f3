/* ts-correction-settings.c: how one photograph is to be corrected, not yet worked out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-correction-settings.h"

#include <string.h>

/**
 * ts_correction_settings_copy:
 * @self: (out): gets a copy of its own of everything; what it held is not freed
 * @other: settings
 */
void
ts_correction_settings_copy (TsCorrectionSettings *self, const TsCorrectionSettings *other)
{
  *self = *other;
  self->chart = g_strdup (other->chart);
  self->source = g_strdup (other->source);
}

/**
 * ts_correction_settings_clear:
 * @self: settings; afterwards they ask for no correction
 */
void
ts_correction_settings_clear (TsCorrectionSettings *self)
{
  g_free (self->chart);
  g_free (self->source);
  *self = (TsCorrectionSettings){ .kind = TS_CORRECTION_NONE };
}

static gboolean
same_place (const TsCardPlace *one, const TsCardPlace *other)
{
  return memcmp (&one->x, &other->x, sizeof one->x) == 0 &&
         memcmp (&one->y, &other->y, sizeof one->y) == 0 &&
         memcmp (&one->radius, &other->radius, sizeof one->radius) == 0 &&
         memcmp (&one->lightness, &other->lightness, sizeof one->lightness) == 0;
}

/**
 * ts_correction_settings_equal:
 * @one: settings
 * @other: settings
 *
 * Returns: whether both ask for the same, to the last bit
 */
gboolean
ts_correction_settings_equal (const TsCorrectionSettings *one, const TsCorrectionSettings *other)
{
  const TsCardPlace first[] = { { one->card_x, one->card_y, one->card_radius, one->card_lightness },
                                { other->card_x, other->card_y, other->card_radius,
                                  other->card_lightness } };

  if (one->kind != other->kind || one->n_more_cards != other->n_more_cards ||
      !same_place (&first[0], &first[1]) || !same_place (&one->match_there, &other->match_there) ||
      !same_place (&one->match_here, &other->match_here))
    return FALSE;
  for (guint i = 0; i < one->n_more_cards; i++)
    if (!same_place (&one->more_card[i], &other->more_card[i]))
      return FALSE;
  return memcmp (one->corner, other->corner, sizeof one->corner) == 0 &&
         g_strcmp0 (one->chart, other->chart) == 0 && g_strcmp0 (one->source, other->source) == 0;
}
