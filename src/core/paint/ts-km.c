/* ts-km.c: the optics of one band: Kubelka-Munk layers and Saunderson's surface
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-km.h"

#include <math.h>

/**
 * ts_km_reflectance:
 * @K: absorption, at least 0, in any unit of thickness
 * @S: scattering, at least 0, in the same unit
 *
 * Reflectance inside a layer so thick that nothing under it shows (Kubelka and Munk 1931), in the
 * form S / (K + S + sqrt (K (K + 2 S))): no cancellation for dark paints, no division by @S.
 *
 * Returns: 0..1; 0 where there is no scattering
 */
double
ts_km_reflectance (double K, double S)
{
  double sum = K + S + sqrt (K) * sqrt (K + 2.0 * S);

  return sum > 0.0 ? S / sum : 0.0;
}

/**
 * ts_km_ratio:
 * @reflectance: inside reflectance of a layer that hides all, 0..1
 *
 * The inverse of ts_km_reflectance(): (1 - R)^2 / (2 R).
 *
 * Returns: K/S, at least 0; infinity at reflectance 0
 */
double
ts_km_ratio (double reflectance)
{
  return (1.0 - reflectance) * (1.0 - reflectance) / (2.0 * reflectance);
}

/**
 * ts_km_film:
 * @K: absorption per coat, at least 0
 * @S: scattering per coat, at least 0
 * @coats: thickness, at least 0; infinity is allowed
 * @ground: inside reflectance of what lies under the film, 0..1
 *
 * Kubelka's (1948) hyperbolic solution, with r = sqrt (K (K + 2 S)) and T = tanh (r) / r:
 * R = (S T - Rg ((K + S) T - 1)) / ((K + S) T - Rg S T + 1). Nothing is divided by @K or @S, and
 * nothing overflows for a thick film.
 *
 * Returns: inside reflectance seen from above, 0..1
 */
double
ts_km_film (double K, double S, double coats, double ground)
{
  double k = K * coats;
  double s = S * coats;
  double r, t;

  if (!(coats < G_MAXDOUBLE))
    return ts_km_reflectance (K, S);

  r = sqrt (k) * sqrt (k + 2.0 * s);
  /* tanh (r) / r by its series near 0, where the quotient would lose digits. */
  t = r < 0.01 ? 1.0 - r * r / 3.0 + 2.0 * r * r * r * r / 15.0 : tanh (r) / r;
  return (s * t - ground * ((k + s) * t - 1.0)) / ((k + s) * t - ground * s * t + 1.0);
}

/* artanh (u) / u, by its series near 0. */
static double
artanh_over (double u)
{
  return u < 0.01 ? 1.0 + u * u / 3.0 + u * u * u * u / 5.0 : atanh (u) / u;
}

/**
 * ts_km_invert_films:
 * @over_black: inside reflectance of one coat over the black ground
 * @over_white: inside reflectance of one coat over the white ground
 * @black: inside reflectance of the bare black ground
 * @white: inside reflectance of the bare white ground, above @black
 * @K: (out): absorption per coat
 * @S: (out): scattering per coat
 *
 * Kubelka's (1948) a = 1 + K/S = N / D, with
 * N = (Rw - Rb) (1 + RgW RgB) - (RgW - RgB) (1 + Rw Rb) and D = 2 (Rw RgB - Rb RgW); the film
 * equation then gives S T and (K + S) T without dividing by D, which is 0 for a film that does not
 * scatter. A reading error that would make K or S negative gives 0 for it.
 *
 * Returns: %FALSE where the film hides the ground, so that only K/S can be known, or where the
 *   readings belong to no film at all
 */
gboolean
ts_km_invert_films (double over_black, double over_white, double black, double white, double *K,
                    double *S)
{
  double n = (over_white - over_black) * (1.0 + white * black) -
             (white - black) * (1.0 + over_white * over_black);
  double d = 2.0 * (over_white * black - over_black * white);
  /* The ground that the film changed more says more about it. */
  gboolean by_white = fabs (over_white - white) > fabs (over_black - black);
  double film = by_white ? over_white : over_black;
  double ground = by_white ? white : black;
  double below = d * (1.0 + film * ground) - n * (film + ground);
  double st, kst, u;

  if (!(white > black && over_white > over_black))
    return FALSE;
  if (film == ground || below == 0.0)
    {
      *K = *S = 0.0;
      return film == ground;
    }

  st = d * (film - ground) / below;
  kst = n * (film - ground) / below;
  if (!(st >= 0.0)) /* darker over black than absorption alone: the film does not scatter */
    {
      if (!(over_white > 0.0))
        return FALSE;
      *S = 0.0;
      *K = MAX (0.0, -0.5 * log (over_white / white));
      return TRUE;
    }
  if (!(kst >= st)) /* lighter than scattering alone: it does not absorb */
    {
      *K = 0.0;
      *S = MAX (0.0, (over_black - black) / ((1.0 - over_black) * (1.0 - black)));
      return isfinite (*S);
    }
  u = sqrt (kst - st) * sqrt (kst + st);
  if (!(u < 1.0))
    return FALSE;
  *K = (kst - st) * artanh_over (u);
  *S = st * artanh_over (u);
  return TRUE;
}

/**
 * ts_saunderson_measured:
 * @surface: what the surface sends back
 * @inside: reflectance inside the paint, 0..1
 *
 * Saunderson (1942): k1 + (1 - k1) (1 - k2) R / (1 - k2 R), specular component included.
 *
 * Returns: the reflectance an instrument sees, 0..1
 */
double
ts_saunderson_measured (TsSurfaceReflection surface, double inside)
{
  return surface.k1 +
         (1.0 - surface.k1) * (1.0 - surface.k2) * inside / (1.0 - surface.k2 * inside);
}

/**
 * ts_saunderson_inside:
 * @surface: what the surface sends back
 * @measured: reflectance an instrument sees, 0..1
 *
 * The inverse of ts_saunderson_measured(). A reading below k1 gives 0.
 *
 * Returns: the reflectance inside the paint, held within 0..1
 */
double
ts_saunderson_inside (TsSurfaceReflection surface, double measured)
{
  double inside = (measured - surface.k1) / (1.0 - surface.k1 - surface.k2 * (1.0 - measured));

  return CLAMP (inside, 0.0, 1.0);
}
