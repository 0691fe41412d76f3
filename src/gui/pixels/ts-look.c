/* ts-look.c: how a picture looks to other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/pixels/ts-look.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "plan/ts-surface-under.h"
#include "gui/widgets/ts-format.h"

#define FIGURE_MARGIN 0.9 /* the figure is taken to fill so much of the picture's height */

/* What the eye parts at best: 1 minute of arc (common practice: visual acuity 1.0). */
#define ACUITY (1.0 / 60.0 * G_PI / 180.0)

/**
 * ts_look_get_blur:
 * @view: a view of the plan
 * @image: the picture
 *
 * Goes by what the sharpest eye cannot resolve, or with a stair by the bands in which its steps
 * merge.
 *
 * Returns: pixels that merge into one, each way: a power of two
 */
guint
ts_look_get_blur (TsView *view, const TsImage *image)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (view));
  TsSurfaceResult *result = ts_view_get_result (view);
  double pixels_per_mm, merged;
  guint factor = 1;

  if (plan == NULL || image == NULL)
    return 1;
  pixels_per_mm = ts_image_get_full_height (image) * FIGURE_MARGIN / plan->figure_height;
  merged = plan->contrast.distance * ACUITY;
  if (result != NULL)
    merged = MAX (merged, ts_surface_result_get_least_band (result));
  merged *= pixels_per_mm;
  while (factor * 2 <= merged && factor < 64)
    factor *= 2;
  return factor;
}

/* The wanted grey of the step that a lightness of the photo belongs to. */
static double
nearest_step (const TsStair *stair, double L)
{
  guint n = ts_stair_get_n_steps (stair), i = 0;

  while (i + 1 < n && L < 0.5 * (ts_stair_get_step (stair, i)->photo.L +
                                 ts_stair_get_step (stair, i + 1)->photo.L))
    i++;
  return ts_stair_get_step (stair, i)->wanted.L;
}

/**
 * ts_look_find_steps:
 * @view: a view of the plan
 * @picture: index of the picture
 * @codes: (out): an sRGB code for each
 *
 * As the correction would have it, since the stair goes by corrected colours.
 *
 * Returns: %FALSE without a stair
 */
gboolean
ts_look_find_steps (TsView *view, guint picture, guint8 codes[256])
{
  TsDocument *document = ts_view_get_document (view);
  TsSurfaceResult *result = ts_view_get_result (view);
  TsCorrection *correction =
    document != NULL ? ts_document_get_correction (document, picture) : NULL;

  if (result == NULL || correction == NULL)
    return FALSE;
  for (guint i = 0; i < 256; i++)
    {
      double light = ts_srgb_decode (i / 255.0);
      TsXyz xyz = { light * TS_D50_X, light, light * TS_D50_Z };
      double L = ts_lab_from_xyz (ts_correction_apply (correction, xyz)).L;
      double Y =
        ts_luminance_from_lightness (nearest_step (ts_surface_result_get_stair (result), L));

      codes[i] = (guint8) CLAMP (lround (255.0 * ts_srgb_encode (Y)), 0, 255);
    }
  return TRUE;
}

/**
 * ts_look_dup_words:
 * @view: a view of the plan
 * @look: how the picture is shown
 * @flat: whether lightness alone is shown in the steps of the stair
 *
 * Returns: (transfer full): the words for it
 */
char *
ts_look_dup_words (TsView *view, TsLook look, gboolean flat)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (view));
  g_autofree char *distance = NULL;

  switch (look)
    {
    case TS_LOOK_VALUES:
      return g_strdup (flat ? _ ("steps of the stair") : _ ("values only"));
    case TS_LOOK_ARMS_LENGTH:
      if (plan == NULL)
        return g_strdup (_ ("at arm’s length"));
      distance = ts_format_distance (plan->contrast.distance);
      return g_strdup_printf (_ ("at arm’s length: %s, %.0f mm figure"), distance,
                              plan->figure_height);
    case TS_LOOK_COLOUR:
    default:
      return g_strdup (_ ("as it is"));
    }
}

/**
 * ts_look_dup_picture:
 * @picture: a picture of the plan
 *
 * Returns: (transfer full): what it is, and its file
 */
char *
ts_look_dup_picture (const TsPicture *picture)
{
  g_autofree char *file = g_filename_display_basename (picture->path);

  return g_strdup_printf (
    picture->role == TS_ROLE_FINISHED ? _ ("finished figure, %s") : _ ("reference, %s"), file);
}
