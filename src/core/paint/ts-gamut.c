/* ts-gamut.c: which colours the paints of a set can mix, and where they cannot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-gamut.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "paint/ts-mix.h"

#define MOST_MIXES 40000 /* of two paints, and again of three: about 20 ms each */
#define FEWEST_SHARES 8  /* along the way from one paint to another */
#define MOST_SHARES 32
#define TRIPLE_SHARES 8
#define MOST_IN_TRIPLES 14 /* paints on the outline; the others' mixes lie inside */

/* Reach by lightness and hue, for the hole. */
#define HOLE_STEP_L 5
#define HOLE_LEVELS (100 / HOLE_STEP_L + 1)
#define HOLE_HUES 36
#define HOLE_FROM 5.0 /* CIEDE2000: a smaller one is none */
#define DARKEST_HOLE 25.0
#define LIGHTEST_HOLE 85.0
#define FINE 3.0 /* CIELAB between places looked at along the way from mix to mix */

/* A set's outline while it is being found. */
typedef struct
{
  const TsPaintSet *set;
  GCancellable *cancellable;
  TsGamut *gamut;
  guint *paints;
  guint n_paints;
  double reach[HOLE_LEVELS][HOLE_HUES]; /* -1: no mix there */
  guint *wins;                          /* of each of paints */
} Finder;

/* The most chromatic of measured pigments by hue: lightness and chroma of painted patches
 * (Deborah 2022, Hyperspectral Pigment Dataset, doi 10.5281/zenodo.5592485, CC BY 4.0), CIELAB D50,
 * rounded; those between are taken straight. */
static const struct
{
  double hue, L, C;
} pigments[] = {
  { 18, 58, 61 },  { 27, 47, 75 },  { 53, 69, 86 },  { 80, 86, 92 },  { 98, 93, 84 },
  { 139, 62, 59 }, { 162, 51, 45 }, { 225, 42, 37 }, { 269, 50, 58 }, { 322, 47, 52 },
};

/* What painters call strong colours of a hue, dark and light (common practice, no source). */
static const struct
{
  double from; /* hue, degrees */
  const char *dark, *light;
} names[] = {
  { 10, N_ ("strong crimsons"), N_ ("strong pinks") },
  { 30, N_ ("strong reds"), N_ ("strong salmon pinks") },
  { 48, N_ ("strong rust reds"), N_ ("strong corals") },
  { 65, N_ ("strong browns"), N_ ("strong oranges") },
  { 85, N_ ("strong ochres"), N_ ("strong yellows") },
  { 105, N_ ("strong olive greens"), N_ ("strong lemon yellows") },
  { 125, N_ ("strong greens"), N_ ("strong leaf greens") },
  { 155, N_ ("strong bottle greens"), N_ ("strong mint greens") },
  { 185, N_ ("strong teals"), N_ ("strong turquoises") },
  { 220, N_ ("strong sea blues"), N_ ("strong sky blues") },
  { 255, N_ ("strong blues"), N_ ("strong light blues") },
  { 288, N_ ("strong violet blues"), N_ ("strong lavenders") },
  { 312, N_ ("strong violets"), N_ ("strong lilacs") },
  { 335, N_ ("strong purples"), N_ ("strong violet pinks") },
};

static double
hue_of (double a, double b)
{
  double hue = atan2 (b, a) * 180.0 / G_PI;

  return hue < 0.0 ? hue + 360.0 : hue;
}

/* Raises one outline; whether it rose. */
static gboolean
lift (double *value, double to)
{
  if (!(to > *value))
    return FALSE;
  *value = to;
  return TRUE;
}

/* Where the way from one mix to the next crosses the directions in a*, b*. */
static gboolean
cross_hues (TsGamut *gamut, TsLab one, TsLab other)
{
  const double step = 2.0 * G_PI / TS_GAMUT_HUES;
  double from = atan2 (one.b, one.a), turn = atan2 (other.b, other.a) - from;
  gboolean rose = FALSE;
  int first, last;

  turn -= 2.0 * G_PI * floor (turn / (2.0 * G_PI) + 0.5);
  first = (int) ceil (MIN (from, from + turn) / step);
  last = (int) floor (MAX (from, from + turn) / step);
  for (int i = first; i <= last; i++)
    {
      double c = cos (i * step), s = sin (i * step);
      double da = other.a - one.a, db = other.b - one.b, across = da * s - db * c;
      double t = fabs (across) > 1e-12 ? -(one.a * s - one.b * c) / across : 0.0;

      t = CLAMP (t, 0.0, 1.0);
      rose |= lift (&gamut->chroma[((i % TS_GAMUT_HUES) + TS_GAMUT_HUES) % TS_GAMUT_HUES],
                    (one.a + t * da) * c + (one.b + t * db) * s);
    }
  return rose;
}

/* And the levels of lightness. */
static gboolean
cross_levels (TsGamut *gamut, TsLab one, TsLab other)
{
  double from = hypot (one.a, one.b), to = hypot (other.a, other.b), d = other.L - one.L;
  int first = (int) ceil (MIN (one.L, other.L)), last = (int) floor (MAX (one.L, other.L));
  gboolean moved = FALSE;

  for (int i = MAX (first, 0); i <= MIN (last, TS_GAMUT_LEVELS - 1); i++)
    {
      double C = fabs (d) > 1e-12 ? from + (i - one.L) / d * (to - from) : MAX (from, to);

      moved |= !(C <= gamut->most[i]) || !(C >= gamut->least[i]);
      gamut->most[i] = fmax (gamut->most[i], C);
      gamut->least[i] = fmin (gamut->least[i], C);
    }
  return moved;
}

static void
fill_reach (Finder *self, TsLab one, TsLab other)
{
  guint n = 1 + (guint) (ts_delta_e_76 (one, other) / FINE);

  for (guint i = 0; i <= n; i++)
    {
      double t = (double) i / n, a = one.a + t * (other.a - one.a);
      double b = one.b + t * (other.b - one.b), L = one.L + t * (other.L - one.L);
      int level = (int) floor (CLAMP (L, 0.0, 100.0) / HOLE_STEP_L + 0.5);
      int hue = (int) floor (hue_of (a, b) * HOLE_HUES / 360.0 + 0.5) % HOLE_HUES;

      lift (&self->reach[level][hue], hypot (a, b));
    }
}

/* The way from one mix to the next; counts as a win for @paints where an outline moves. */
static void
take_way (Finder *self, TsLab one, TsLab other, const guint *paints, guint n)
{
  gboolean won = cross_hues (self->gamut, one, other);

  won |= cross_levels (self->gamut, one, other);
  fill_reach (self, one, other);
  for (guint i = 0; won && i < n; i++)
    self->wins[paints[i]]++;
}

/* Colour of a mix; @paints are indices into the finder's. */
static TsLab
mix (Finder *self, const guint *paints, const double *parts, guint n)
{
  TsAmount amounts[3];
  TsSpectrum K, S, reflectance;

  for (guint i = 0; i < n; i++)
    amounts[i] = (TsAmount){ self->paints[paints[i]], parts[i] };
  ts_mix_get_K_S (self->set, amounts, n, &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (self->set), &reflectance);
  self->gamut->n_mixes++;
  return ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
}

/* Shares even to the eye: a little of a strong paint changes much. */
static double
share_at (guint i, guint n)
{
  double t = (double) i / n;

  return t * t * t * (t * (6.0 * t - 15.0) + 10.0);
}

/* From @base, a mix of all but the last of @paints in @parts, to that last paint. */
static void
walk (Finder *self, const guint *paints, const double *base, guint n, guint n_shares)
{
  double parts[3];
  TsLab before = { 0 };

  for (guint i = 0; i <= n_shares; i++)
    {
      double share = share_at (i, n_shares);
      TsLab lab;

      for (guint p = 0; p + 1 < n; p++)
        parts[p] = base[p] * (1.0 - share);
      parts[n - 1] = share;
      lab = mix (self, paints, parts, n);
      if (i > 0)
        take_way (self, before, lab, paints, n);
      before = lab;
    }
}

static void
walk_singles (Finder *self)
{
  static const double one = 1.0;

  for (guint i = 0; i < self->n_paints; i++)
    {
      TsLab lab = mix (self, &i, &one, 1);

      take_way (self, lab, lab, &i, 1);
    }
}

static void
walk_pairs (Finder *self)
{
  static const double base = 1.0;
  guint n_pairs = self->n_paints * (self->n_paints - 1) / 2;
  guint n_shares = CLAMP (MOST_MIXES / MAX (n_pairs, 1), FEWEST_SHARES, MOST_SHARES);

  for (guint i = 0; i < self->n_paints; i++)
    for (guint j = 0; j < i && !g_cancellable_is_cancelled (self->cancellable); j++)
      walk (self, (const guint[]){ i, j }, &base, 2, n_shares);
}

/* The paints whose pairs moved the outlines most often. */
static guint
choose_outline (const Finder *self, guint chosen[MOST_IN_TRIPLES])
{
  g_autofree guint8 *taken = g_new0 (guint8, self->n_paints);
  guint n = MIN (self->n_paints, MOST_IN_TRIPLES);

  for (guint c = 0; c < n; c++)
    {
      guint best = 0;

      while (taken[best])
        best++;
      for (guint p = best + 1; p < self->n_paints; p++)
        if (!taken[p] && self->wins[p] > self->wins[best])
          best = p;
      taken[best] = TRUE;
      chosen[c] = best;
    }
  return n;
}

static void
walk_triples (Finder *self)
{
  static const double bases[][2] = { { 0.75, 0.25 }, { 0.5, 0.5 }, { 0.25, 0.75 } };
  guint chosen[MOST_IN_TRIPLES], n = choose_outline (self, chosen);

  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < i; j++)
      for (guint k = 0; k < n && !g_cancellable_is_cancelled (self->cancellable); k++)
        if (k != i && k != j)
          for (gsize b = 0; b < G_N_ELEMENTS (bases); b++)
            walk (self, (const guint[]){ chosen[i], chosen[j], chosen[k] }, bases[b], 3,
                  TRIPLE_SHARES);
}

/* Chroma that a strong pigment, or its mixes with white and black, has at that hue and lightness.
 */
static double
strong_chroma (double hue, double L)
{
  const guint n = G_N_ELEMENTS (pigments);
  guint next = 0;
  double before_hue, next_hue, t, peak_L, peak_C;

  while (next < n && pigments[next].hue <= hue)
    next++;
  before_hue = pigments[(next + n - 1) % n].hue - (next == 0 ? 360.0 : 0.0);
  next_hue = pigments[next % n].hue + (next == n ? 360.0 : 0.0);
  t = (hue - before_hue) / (next_hue - before_hue);
  peak_L = (1.0 - t) * pigments[(next + n - 1) % n].L + t * pigments[next % n].L;
  peak_C = (1.0 - t) * pigments[(next + n - 1) % n].C + t * pigments[next % n].C;
  return peak_C * (L <= peak_L ? L / peak_L : (100.0 - L) / (100.0 - peak_L));
}

/* What mixes of about that hue and lightness reach. */
static double
reach_near (const Finder *self, int level, int hue)
{
  double reach = 0.0;

  for (int l = MAX (level - 1, 0); l <= MIN (level + 1, HOLE_LEVELS - 1); l++)
    for (int h = hue - 1; h <= hue + 1; h++)
      reach = MAX (reach, self->reach[l][(h + HOLE_HUES) % HOLE_HUES]);
  return reach;
}

static const char *
name_hole (double hue, double L)
{
  const guint n = G_N_ELEMENTS (names);
  guint found = n - 1;

  for (guint i = 0; i < n; i++)
    if (hue >= names[i].from)
      found = i;
  /* Below the first name's hue the circle's last one goes on. */
  if (hue < names[0].from)
    found = n - 1;
  return L < 58.0 ? names[found].dark : names[found].light;
}

static void
find_hole (const Finder *self)
{
  TsGamut *gamut = self->gamut;

  for (int level = 0; level < HOLE_LEVELS; level++)
    for (int hue = 0; hue < HOLE_HUES; hue++)
      {
        double L = level * HOLE_STEP_L, h = hue * 360.0 / HOLE_HUES;
        double strong = strong_chroma (h, L), reach = reach_near (self, level, hue);
        double distance = ts_delta_e_2000 (ts_lab_from_lch ((TsLch){ L, strong, h }),
                                           ts_lab_from_lch ((TsLch){ L, reach, h }));

        if (L < DARKEST_HOLE || L > LIGHTEST_HOLE || reach >= strong ||
            distance <= MAX (HOLE_FROM, gamut->distance))
          continue;
        gamut->has_hole = TRUE;
        gamut->distance = distance;
        gamut->hole = ts_lab_from_lch ((TsLch){ L, 0.5 * (strong + reach), h });
        gamut->words = name_hole (h, L);
      }
}

static void
finder_start (Finder *self)
{
  for (int i = 0; i < TS_GAMUT_LEVELS; i++)
    self->gamut->least[i] = self->gamut->most[i] = (double) NAN;
  for (int l = 0; l < HOLE_LEVELS; l++)
    for (int h = 0; h < HOLE_HUES; h++)
      self->reach[l][h] = -1.0;
  for (guint p = 0; p < ts_paint_set_get_n_paints (self->set); p++)
    if (ts_paint_is_for_mixing (ts_paint_set_get_paint (self->set, p)))
      self->paints[self->n_paints++] = p;
}

/**
 * ts_gamut_find:
 * @set: the paints
 * @max_paints: most paints in a mix, 1 to 3
 * @cancellable: (nullable): stops it
 * @gamut: (out): the outlines and the widest hole
 * @error: return location for an error, or %NULL
 *
 * Walks from each paint to each other, and from the pairs of those on the outline to a third, all
 * as layers that hide. Directions between which no way runs keep 0. The hole is where strong
 * pigments, alone or with white and black, lie farthest beyond the mixes; an estimate.
 *
 * Returns: %FALSE with %TS_ERROR_TOO_FEW (no paint for mixing) or %G_IO_ERROR_CANCELLED set
 */
gboolean
ts_gamut_find (const TsPaintSet *set, guint max_paints, GCancellable *cancellable, TsGamut *gamut,
               GError **error)
{
  guint n = ts_paint_set_get_n_paints (set);
  g_autofree guint *paints = g_new (guint, n);
  g_autofree guint *wins = g_new0 (guint, n);
  g_autofree Finder *finder = g_new0 (Finder, 1);

  g_return_val_if_fail (max_paints >= 1 && max_paints <= 3, FALSE);
  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  *gamut = (TsGamut){ 0 };
  *finder = (Finder){
    .set = set, .cancellable = cancellable, .gamut = gamut, .paints = paints, .wins = wins
  };
  finder_start (finder);
  if (finder->n_paints == 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("No paint of the set is in stock and for mixing; add one"));
      return FALSE;
    }
  walk_singles (finder);
  if (max_paints >= 2)
    walk_pairs (finder);
  if (max_paints >= 3)
    walk_triples (finder);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  find_hole (finder);
  return TRUE;
}
