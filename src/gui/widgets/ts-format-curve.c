/* ts-format-curve.c: a lightness curve in words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-format.h"

#include <glib/gi18n.h>
#include <math.h>

#define PLACE_DIGITS 0.01 /* of the run: nearer than that, places are told as one */

/**
 * ts_format_outlier:
 * @curve: a fitted curve
 * @index: a spot that it leaves out
 * @clipped_share: of the spot's pixels, 0 to 1
 *
 * Returns: (transfer none): why it is left out, most likely
 */
const char *
ts_format_outlier (const TsCurve *curve, gsize index, double clipped_share)
{
  switch (ts_curve_get_outlier_reason (curve, index, clipped_share))
    {
    case TS_OUTLIER_CLIPPED:
      return _ ("left out: clipped, the camera could not hold it");
    case TS_OUTLIER_GLINT:
      return _ ("left out: likely a glint");
    case TS_OUTLIER_DIRT:
      return _ ("left out: likely dirt or a scratch");
    case TS_OUTLIER_SURFACE:
      return _ ("left out: likely another surface");
    case TS_OUTLIER_NONE:
    default:
      return "";
    }
}

/**
 * ts_format_curve:
 * @curve: a fitted curve
 *
 * Returns: (transfer full): its shape and how sure it is
 */
char *
ts_format_curve (const TsCurve *curve)
{
  const char *shape;

  if (ts_curve_seems_polished (curve))
    return g_strdup (_ ("light, dark and light again: is it polished?"));
  if (!ts_curve_is_sound (curve))
    return g_strdup (_ ("the spots do not follow one curve"));
  switch (ts_curve_get_shape (curve))
    {
    case TS_CURVE_FALLING_THEN_RISING:
      shape = _ ("falling, then rising");
      break;
    case TS_CURVE_FREE:
      shape = _ ("free");
      break;
    case TS_CURVE_FALLING:
    default:
      shape = _ ("falling");
    }
  return g_strdup_printf (_ ("%s, within about L* %d"), shape,
                          (int) MAX (1.0, ceil (ts_curve_get_error (curve) - 0.05)));
}

/* From where to where it goes. */
static char *
dup_course (const TsCurve *curve)
{
  double lit = ts_curve_get_lightness (curve, ts_curve_get_highlight (curve, NULL, NULL));
  double core = ts_curve_get_lightness (curve, ts_curve_get_core_shadow (curve, NULL, NULL));
  double end = ts_curve_get_lightness (curve, 1.0);

  switch (ts_curve_get_shape (curve))
    {
    case TS_CURVE_FALLING_THEN_RISING:
      return g_strdup_printf (_ ("falls from %.0f to %.0f and rises to %.0f"), lit, core, end);
    case TS_CURVE_FREE:
      return g_strdup_printf (_ ("goes freely between %.0f and %.0f"), lit, core);
    case TS_CURVE_FALLING:
    default:
      return g_strdup_printf (_ ("falls from %.0f to %.0f"), lit, core);
    }
}

static void
append_place (GString *words, const char *name, double place, double low, double high)
{
  g_string_append (words, _ (", "));
  if (high - low < PLACE_DIGITS)
    g_string_append_printf (words, _ ("%s at %.0f %%"), name, 100.0 * place);
  else
    g_string_append_printf (words, _ ("%s at %.0f %% (%.0f to %.0f)"), name, 100.0 * place,
                            100.0 * low, 100.0 * high);
}

/**
 * ts_format_course:
 * @curve: a fitted curve
 *
 * Returns: (transfer full): how it goes, where its core shadow and its terminator lie with their
 *   95 % ranges, and how many spots it leaves out
 */
char *
ts_format_course (const TsCurve *curve)
{
  g_autofree char *course = dup_course (curve);
  GString *words = g_string_new (course);
  guint n_outliers = 0;
  double place, low, high;

  place = ts_curve_get_core_shadow (curve, &low, &high);
  if (ts_curve_get_shape (curve) != TS_CURVE_FREE)
    append_place (words, _ ("core shadow"), place, low, high);
  if (ts_curve_get_shape (curve) != TS_CURVE_FREE &&
      ts_curve_get_terminator (curve, &place, &low, &high))
    append_place (words, _ ("terminator"), place, low, high);
  for (gsize i = 0; i < ts_curve_get_n_samples (curve); i++)
    n_outliers += ts_curve_sample_is_outlier (curve, i);
  g_string_append (words, _ (", "));
  g_string_append_printf (words, ngettext ("%u outlier", "%u outliers", n_outliers), n_outliers);
  return g_string_free (words, FALSE);
}
