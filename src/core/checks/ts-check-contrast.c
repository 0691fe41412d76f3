/* ts-check-contrast.c: do neighbouring tones read apart, and do they still blend
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "checks/ts-check-contrast.h"

#include "checks/ts-visibility.h"
#include "colour/ts-difference.h"

#include <math.h>

/**
 * ts_contrast_settings_init:
 * @settings: (out): to be filled
 *
 * A figure of a hand's size at arm's length in a lit room. Common practice, no source.
 */
void
ts_contrast_settings_init (TsContrastSettings *settings)
{
  *settings = (TsContrastSettings){
    .least_step = 4.0,
    .most_step = 14.0,
    .least_range = 45.0,
    .distance = 600.0,
    .band = 2.0,
    .luminance = 100.0,
  };
}

/**
 * ts_contrast_settings_suit:
 * @settings: (inout): its distance and its band are changed
 * @figure_height: in mm, over 0
 *
 * A figure of 28 mm is looked at from 41 cm with bands of 0.7 mm, one of 75 mm from 60 cm with
 * bands of 2 mm, a bust of 200 mm from 1.1 m with bands of 5 mm (common practice, no source).
 */
void
ts_contrast_settings_suit (TsContrastSettings *settings, double figure_height)
{
  settings->distance = round ((300.0 + 4.0 * figure_height) / 10.0) * 10.0;
  settings->band = fmax (round (figure_height * 2.0 / 75.0 * 10.0) / 10.0, 0.2);
}

/* Whether both tones, brought nearer to each other by @error, still read. */
static gboolean
reads_at_edge (double lit, double shadow, double error, const TsContrastSettings *settings)
{
  double edge = lit - shadow - error;
  double middle = 0.5 * (lit + shadow);

  return edge >= settings->least_step &&
         ts_visibility (middle + 0.5 * edge, middle - 0.5 * edge, settings->distance,
                        settings->band, settings->luminance) >= 1.0;
}

static TsVerdict
judge (double lit, double shadow, double error, const TsContrastSettings *settings)
{
  if (!reads_at_edge (lit, shadow, 0.0, settings))
    return TS_VERDICT_TOO_CLOSE;
  if (lit - shadow > settings->most_step)
    return TS_VERDICT_TOO_WIDE;
  return reads_at_edge (lit, shadow, error, settings) ? TS_VERDICT_READS : TS_VERDICT_MAY_READ;
}

/**
 * ts_contrast_check:
 * @lit: the lighter of two neighbours, D50
 * @shadow: the darker
 * @error_L: 95 % error of their difference of lightness, L*, 0 or more
 * @settings: limits, and how the figure is looked at
 *
 * Two tones read apart when they differ by the least step and by more than the least contrast that
 * is seen. A step that falls short of that at the edge of its error may read.
 *
 * Returns: the differences and the verdict
 */
TsContrast
ts_contrast_check (TsLab lit, TsLab shadow, double error_L, const TsContrastSettings *settings)
{
  double error = error_L > 0.0 ? error_L : 0.0;

  return (TsContrast){
    .delta_L = lit.L - shadow.L,
    .delta_e = ts_delta_e_2000 (lit, shadow),
    .visibility =
      ts_visibility (lit.L, shadow.L, settings->distance, settings->band, settings->luminance),
    .error = error,
    .verdict = judge (lit.L, shadow.L, error, settings),
  };
}

/**
 * ts_verdict_to_id:
 * @verdict: a verdict
 *
 * Returns: its name in files, never translated
 */
const char *
ts_verdict_to_id (TsVerdict verdict)
{
  switch (verdict)
    {
    case TS_VERDICT_TOO_CLOSE:
      return "too_close";
    case TS_VERDICT_MAY_READ:
      return "may_read";
    case TS_VERDICT_READS:
      return "reads";
    case TS_VERDICT_TOO_WIDE:
      return "too_wide";
    default:
      g_return_val_if_reached ("too_close");
    }
}
