/* ts-paint-solve.c: K and S of one paint from what was measured of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-solve.h"

#include <math.h>

#include "paint/ts-km.h"

/* Natural logarithm of the scattering per coat, fitted to 13 watercolours at eleven thicknesses
 * (tests/fixtures/published/watercolour_primaries.csv). A word on a label moves it by little: the
 * mixes of those paints were predicted best with 0.2 a step. */
#define LOG_S 1.7
#define LOG_S_WHITE 2.4
#define LOG_S_A_STEP 0.2

/* Natural logarithm of the absorption per coat at the band where a coloured paint absorbs most. A
 * masstone gives the ratio of the two; the level is set midway between what each expects alone.
 * Against scattering alone this nearly halves the error of acrylics mixed with white (median 19 to
 * 11, km_acrylics_2016.csv, from CIELAB masstones) and leaves the watercolours where they were (7).
 */
#define LOG_K_PEAK 2.0

/* A paint that sends back this much at every band is white with a little tint. */
#define WHITE_FROM 0.6

/* Inside reflectance is not believed to be darker than this: K/S above 500 is beyond any paint. */
#define DARKEST 0.001
#define LIGHTEST 0.9999

/* Below this difference of inside reflectance over white and black, the reading says that the film
 * hides and no more. */
#define HIDES_BELOW 0.01

/* Steps from the middle of the four words. */
static const double opacity_steps[] = {
  [TS_OPACITY_UNKNOWN] = 0.0,      [TS_OPACITY_OPAQUE] = 1.5,
  [TS_OPACITY_SEMI_OPAQUE] = 0.5,  [TS_OPACITY_SEMI_TRANSPARENT] = -0.5,
  [TS_OPACITY_TRANSPARENT] = -1.5,
};

/* K and S of medium and varnish per coat: clear, with a trace of haze so that much of it is no
 * hole. */
#define CLEAR_K 0.0002
#define CLEAR_S 0.004

static double
held (double inside)
{
  return CLAMP (inside, DARKEST, LIGHTEST);
}

static double
least_of (const TsSpectrum *spectrum)
{
  double least = 1.0;

  for (guint b = 0; b < TS_BANDS; b++)
    least = MIN (least, spectrum->band[b]);
  return least;
}

/* By how much the word on the label moves the logarithm of the scattering. A primer without a word
 * is taken as opaque, an ink as transparent. */
static double
log_of_word (TsPaintKind kind, TsOpacity opacity)
{
  if (opacity == TS_OPACITY_UNKNOWN && kind == TS_PAINT_PRIMER)
    opacity = TS_OPACITY_OPAQUE;
  if (opacity == TS_OPACITY_UNKNOWN && kind == TS_PAINT_INK)
    opacity = TS_OPACITY_TRANSPARENT;
  return LOG_S_A_STEP * opacity_steps[opacity];
}

/**
 * ts_paint_usual_scattering:
 * @kind: kind of paint
 * @opacity: the word on its label
 * @masstone: measured reflectance of a layer that hides all, 0..1
 *
 * What to lean on where swatches tell the absorption. White scatters most.
 *
 * Returns: scattering per coat of undiluted paint, the same at every band
 */
double
ts_paint_usual_scattering (TsPaintKind kind, TsOpacity opacity, const TsSpectrum *masstone)
{
  double level = least_of (masstone) >= WHITE_FROM ? LOG_S_WHITE : LOG_S;

  return exp (level + log_of_word (kind, opacity));
}

/**
 * ts_paint_expected_scattering:
 * @kind: kind of paint
 * @opacity: the word on its label
 * @masstone: measured reflectance of a layer that hides all, 0..1
 * @surface: the set's surface
 *
 * What to expect where nothing was measured but a masstone: midway between the usual scattering and
 * the one that goes with a usual absorption.
 *
 * Returns: scattering per coat of undiluted paint, the same at every band
 */
double
ts_paint_expected_scattering (TsPaintKind kind, TsOpacity opacity, const TsSpectrum *masstone,
                              TsSurfaceReflection surface)
{
  double least = least_of (masstone);
  double ratio = ts_km_ratio (held (ts_saunderson_inside (surface, least)));

  if (least >= WHITE_FROM)
    return ts_paint_usual_scattering (kind, opacity, masstone);
  return exp (0.5 * (LOG_S + LOG_K_PEAK - log (ratio)) + log_of_word (kind, opacity));
}

/**
 * ts_paint_kind_strength:
 * @kind: kind of paint
 *
 * A wash is sold thinned, about one part of paint in three of medium (common practice, no source).
 *
 * Returns: share of paint in it, 0..1
 */
double
ts_paint_kind_strength (TsPaintKind kind)
{
  return kind == TS_PAINT_WASH ? 0.25 : 1.0;
}

/**
 * ts_paint_solve_masstone:
 * @masstone: measured reflectance of a layer that hides all, 0..1
 * @surface: the set's surface
 * @scattering: scattering per coat, above 0
 * @K: (out): absorption per coat
 * @S: (out): scattering per coat
 *
 * The masstone gives K/S at each band and nothing else; the level is @scattering.
 */
void
ts_paint_solve_masstone (const TsSpectrum *masstone, TsSurfaceReflection surface, double scattering,
                         TsSpectrum *K, TsSpectrum *S)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      double inside = held (ts_saunderson_inside (surface, masstone->band[b]));

      S->band[b] = scattering;
      K->band[b] = scattering * ts_km_ratio (inside);
    }
}

/* Fills the bands that are NaN from the nearest ones that are known, straight in the logarithm
 * between two of them; all of them with @expected where none is. Returns how many were known. */
static guint
fill_scattering (TsSpectrum *S, double expected)
{
  int before = -1;
  guint n_known = 0;

  for (int b = 0; b < TS_BANDS; b++)
    {
      if (isnan (S->band[b]))
        continue;
      for (int gap = before + 1; gap < b; gap++)
        {
          double t = before < 0 ? 1.0 : (double) (gap - before) / (b - before);
          double low = log (MAX (S->band[before < 0 ? b : before], 1e-6));

          S->band[gap] = exp ((1.0 - t) * low + t * log (MAX (S->band[b], 1e-6)));
        }
      before = b;
      n_known++;
    }
  for (int b = before + 1; b < TS_BANDS; b++)
    S->band[b] = before < 0 ? expected : S->band[before];
  return n_known;
}

/**
 * ts_paint_solve_films:
 * @over_black: measured reflectance of one coat over black, 0..1
 * @over_white: measured reflectance of one coat over white, 0..1
 * @black: measured reflectance of the bare black
 * @white: measured reflectance of the bare white
 * @surface: the set's surface
 * @scattering: scattering per coat expected where the film hides at every band
 * @K: (out): absorption per coat
 * @S: (out): scattering per coat
 *
 * Kubelka's (1948) inverse at each band. Where the coat hides, only K/S can be read.
 *
 * Returns: number of bands that told K and S by themselves
 */
guint
ts_paint_solve_films (const TsSpectrum *over_black, const TsSpectrum *over_white,
                      const TsSpectrum *black, const TsSpectrum *white, TsSurfaceReflection surface,
                      double scattering, TsSpectrum *K, TsSpectrum *S)
{
  gboolean told[TS_BANDS];
  guint n_told;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      double rb = ts_saunderson_inside (surface, over_black->band[b]);
      double rw = ts_saunderson_inside (surface, over_white->band[b]);

      told[b] = rw - rb >= HIDES_BELOW &&
                ts_km_invert_films (rb, rw, ts_saunderson_inside (surface, black->band[b]),
                                    ts_saunderson_inside (surface, white->band[b]), &K->band[b],
                                    &S->band[b]);
      if (!told[b])
        S->band[b] = (double) NAN;
    }

  n_told = fill_scattering (S, scattering);
  for (guint b = 0; b < TS_BANDS; b++)
    if (!told[b])
      {
        double rb = ts_saunderson_inside (surface, over_black->band[b]);
        double rw = ts_saunderson_inside (surface, over_white->band[b]);

        K->band[b] = S->band[b] * ts_km_ratio (held (0.5 * (rb + rw)));
      }
  return n_told;
}

/**
 * ts_paint_solve_tint:
 * @masstone: measured reflectance of a layer that hides all, 0..1
 * @tint: measured reflectance of the tint, hiding all, 0..1
 * @parts: parts of white to one part of paint in the tint, above 0
 * @white_K: absorption of the white
 * @white_S: scattering of the white
 * @surface: the set's surface
 * @scattering: scattering expected where the tint tells nothing
 * @K: (out): absorption, in the white's unit
 * @S: (out): scattering, in the white's unit
 *
 * With m and t the K/S of masstone and tint, K = m S and Duncan's (1940) sum give
 * S = parts (t Sw - Kw) / (m - t). A band where the masstone is hardly darker than the tint says
 * nothing.
 *
 * Returns: number of bands that told K and S by themselves
 */
guint
ts_paint_solve_tint (const TsSpectrum *masstone, const TsSpectrum *tint, double parts,
                     const TsSpectrum *white_K, const TsSpectrum *white_S,
                     TsSurfaceReflection surface, double scattering, TsSpectrum *K, TsSpectrum *S)
{
  TsSpectrum ratio;
  guint n_told;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      double inside_tint = held (ts_saunderson_inside (surface, tint->band[b]));
      double inside = held (ts_saunderson_inside (surface, masstone->band[b]));
      double m = ts_km_ratio (inside);
      double t = ts_km_ratio (inside_tint);
      double s = parts * (t * white_S->band[b] - white_K->band[b]) / (m - t);

      ratio.band[b] = m;
      S->band[b] = inside_tint - inside >= HIDES_BELOW && s > 0.0 ? s : (double) NAN;
    }

  n_told = fill_scattering (S, scattering);
  for (guint b = 0; b < TS_BANDS; b++)
    K->band[b] = ratio.band[b] * S->band[b];
  return n_told;
}

/**
 * ts_paint_solve_clear:
 * @K: (out): absorption per coat
 * @S: (out): scattering per coat
 *
 * Medium and varnish, which hold no pigment: next to no K and S (common practice, no source).
 */
void
ts_paint_solve_clear (TsSpectrum *K, TsSpectrum *S)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      K->band[b] = CLEAR_K;
      S->band[b] = CLEAR_S;
    }
}
