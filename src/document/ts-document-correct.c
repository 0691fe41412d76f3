/* ts-document-correct.c: verbs that correct a photograph, and corrections that are worked out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

#include "spots/ts-spot-find.h"

#define CARD_LIGHTNESS 49.5 /* L* of an 18 % grey card */
/* A step back asks for an earlier correction, and a chart takes some tenths of a second. */
#define MOST_KEPT 8

/* A correction worked out from settings that may change. */
typedef struct
{
  TsCorrectionSettings settings; /* owned */
  TsCorrection *correction;
  char *fault; /* why it could not be made, or NULL */
} KnownCorrection;

static void
known_correction_free (gpointer data)
{
  KnownCorrection *known = data;

  ts_correction_settings_clear (&known->settings);
  ts_correction_unref (known->correction);
  g_free (known->fault);
  g_free (known);
}

/* Takes @correction; the longest known one of the picture goes. */
static KnownCorrection *
remember (TsDocument *self, const char *path, const TsCorrectionSettings *settings,
          TsCorrection *correction)
{
  GPtrArray *of_picture = g_hash_table_lookup (self->corrections, path);
  KnownCorrection *known = g_new0 (KnownCorrection, 1);

  ts_correction_settings_copy (&known->settings, settings);
  known->correction = correction;
  if (of_picture == NULL)
    {
      of_picture = g_ptr_array_new_with_free_func (known_correction_free);
      g_hash_table_replace (self->corrections, g_strdup (path), of_picture);
    }
  if (of_picture->len == MOST_KEPT)
    g_ptr_array_remove_index (of_picture, 0);
  g_ptr_array_add (of_picture, known);
  return known;
}

/* A correction that cannot be made any more (its chart's file is gone, say) is told once; the
 * picture is shown as it is, and nothing on it is measured. */
static KnownCorrection *
work_out (TsDocument *self, const TsPicture *picture, const TsImage *image)
{
  const TsCorrectionSettings *settings = &picture->correction;
  const TsImage *source =
    settings->source != NULL ? g_hash_table_lookup (self->images, settings->source) : NULL;
  g_autoptr (GError) error = NULL;
  TsCorrection *correction = ts_pipeline_correct_with (settings, image, source, NULL, &error);
  KnownCorrection *known;

  if (correction != NULL)
    return remember (self, picture->path, settings, correction);
  known = remember (self, picture->path, settings, ts_correction_new_none ());
  known->fault = g_strdup (error->message);
  ts_document_tell (self, error->message, NULL, NULL);
  return known;
}

static KnownCorrection *
find_correction (TsDocument *self, guint picture)
{
  TsImage *image = ts_document_get_image (self, picture);
  const GPtrArray *of_picture;
  const TsPicture *of;

  if (image == NULL)
    return NULL;
  of = ts_plan_get_picture (self->plan, picture);
  of_picture = g_hash_table_lookup (self->corrections, of->path);
  for (guint i = of_picture != NULL ? of_picture->len : 0; i-- > 0;)
    {
      KnownCorrection *known = g_ptr_array_index (of_picture, i);

      if (ts_correction_settings_equal (&known->settings, &of->correction))
        return known;
    }
  return work_out (self, of, image);
}

/**
 * ts_document_get_correction:
 * @self: a document
 * @picture: index of a picture
 *
 * Returns: (transfer none) (nullable): its correction, where its pixels are there
 */
TsCorrection *
ts_document_get_correction (TsDocument *self, guint picture)
{
  KnownCorrection *known = find_correction (self, picture);

  return known != NULL ? known->correction : NULL;
}

/* For measuring: %NULL, and the painter is told why, where the wanted correction cannot be made. */
TsCorrection *
ts_document_need_correction (TsDocument *self, guint picture)
{
  KnownCorrection *known = find_correction (self, picture);

  if (known == NULL || known->fault == NULL)
    return known != NULL ? known->correction : NULL;
  ts_document_tell (self, known->fault, NULL, NULL);
  return NULL;
}

static const char *
get_change_name (const TsCorrectionSettings *settings)
{
  if (settings->source != NULL && settings->kind != TS_CORRECTION_NONE)
    return _ ("Correct as another photograph");
  switch (settings->kind)
    {
    case TS_CORRECTION_CHART:
      return _ ("Correct by the chart");
    case TS_CORRECTION_CARD:
      return settings->n_more_cards > 0 ? _ ("Correct by the cards") : _ ("Correct by the card");
    case TS_CORRECTION_GUESS:
      return _ ("Correct by a guess of the light");
    case TS_CORRECTION_NONE:
    default:
      return _ ("Take the correction away");
    }
}

/**
 * ts_document_take_correction:
 * @self: a document
 * @picture: index of a picture whose pixels are there
 * @settings: how it is to be corrected
 * @correction: what was worked out from them
 * @error: return location for an error, or %NULL
 *
 * Corrects a picture by what is worked out already, and measures all spots on it again.
 *
 * Returns: %FALSE with a #TsError where that cannot be, and nothing is changed
 */
gboolean
ts_document_take_correction (TsDocument *self, guint picture, const TsCorrectionSettings *settings,
                             TsCorrection *correction, GError **error)
{
  TsImage *image = ts_document_get_image (self, picture);
  g_autoptr (TsPlan) plan = NULL;
  TsPicture *of;

  g_return_val_if_fail (image != NULL, FALSE);

  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_picture (plan, picture);
  ts_correction_settings_clear (&of->correction);
  ts_correction_settings_copy (&of->correction, settings);
  if (!ts_pipeline_measure_plan_with (plan, picture, image, correction, error))
    return FALSE;
  remember (self, of->path, settings, ts_correction_ref (correction));
  ts_document_change (self, g_steal_pointer (&plan), get_change_name (settings), TS_SURFACE_ALL);
  return TRUE;
}

/**
 * ts_document_set_correction:
 * @self: a document
 * @picture: index of a picture whose pixels are there
 * @settings: how it is to be corrected
 * @error: return location for an error, or %NULL
 *
 * Works the correction out at once (a chart takes some tenths of a second; #TsCorrectionDraft does
 * it beside), and measures all spots on the picture again.
 *
 * Returns: %FALSE with a #TsError where that cannot be, and nothing is changed
 */
gboolean
ts_document_set_correction (TsDocument *self, guint picture, const TsCorrectionSettings *settings,
                            GError **error)
{
  TsImage *image = ts_document_get_image (self, picture);
  g_autoptr (TsCorrection) correction = NULL;

  g_return_val_if_fail (image != NULL, FALSE);

  correction = ts_pipeline_correct_with (
    settings, image,
    settings->source != NULL ? g_hash_table_lookup (self->images, settings->source) : NULL, NULL,
    error);
  return correction != NULL &&
         ts_document_take_correction (self, picture, settings, correction, error);
}

/**
 * ts_document_place_card:
 * @self: a document
 * @picture: index of a picture whose pixels are there
 * @place: a place on an 18 % grey card, upright pixels
 * @error: return location for an error, or %NULL
 *
 * Corrects the picture by as much of the card as lies evenly about the place, and measures all
 * spots on it again.
 *
 * Returns: %FALSE with a #TsError where there is no card to measure, and nothing is changed
 */
gboolean
ts_document_place_card (TsDocument *self, guint picture, TsPoint place, GError **error)
{
  const TsImage *image = ts_document_get_image (self, picture);
  TsCorrectionSettings settings = { .kind = TS_CORRECTION_CARD, .card_lightness = CARD_LIGHTNESS };

  g_return_val_if_fail (image != NULL, FALSE);

  place = ts_document_hold_within (image, place);
  settings.card_x = place.x;
  settings.card_y = place.y;
  settings.card_radius = ts_spot_find_radius (image, place.x, place.y);
  return ts_document_set_correction (self, picture, &settings, error);
}

/**
 * ts_document_share_correction:
 * @self: a document
 * @from: index of a corrected picture
 * @to: index of another one whose pixels are there
 * @error: return location for an error, or %NULL
 *
 * Corrects @to as @from: right where both were taken in the same light with the same settings of
 * the camera.
 *
 * Returns: %FALSE with a #TsError where that cannot be, and nothing is changed
 */
gboolean
ts_document_share_correction (TsDocument *self, guint from, guint to, GError **error)
{
  const TsPicture *of;
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };
  g_autoptr (TsCorrection) shared = NULL;
  TsCorrection *correction;

  g_return_val_if_fail (from != to, FALSE);

  of = ts_plan_get_picture (self->plan, from);
  correction = ts_document_get_correction (self, from);
  g_return_val_if_fail (correction != NULL, FALSE);
  ts_correction_settings_copy (&settings, &of->correction);
  /* A correction that is shared already stays that of the photograph with the chart in it; which
   * card matched the two says nothing of a third. */
  if (settings.source == NULL)
    settings.source = g_strdup (of->path);
  settings.match_there = settings.match_here = (TsCardPlace){ 0 };
  if (of->correction.source != NULL)
    return ts_document_set_correction (self, to, &settings, error);
  shared = ts_correction_new_shared (correction, NULL, NULL, error);
  return shared != NULL && ts_document_take_correction (self, to, &settings, shared, error);
}
