/* ts-pigment-class.c: kinds of paint that are sold, by what colours them; approximate
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pigment index names and the families they stand for are those of the Colour Index. The colours of
 * tints and the scattering are from memory, within some CIEDE2000 10 of what a bottle holds: enough
 * to tell which kind of paint would help, not how it will mix.
 */
#include "palette/ts-pigment-class.h"

#include <glib/gi18n.h>
#include <math.h>

#include "paint/ts-km.h"
#include "recipes/ts-recipe-search.h"

#define WHITE_PARTS 4.0
/* Of titanium white, from memory: it absorbs next to nothing but at the violet end. */
#define WHITE_K 0.004
#define WHITE_K_400 0.30
#define WHITE_K_410 0.08
#define LEAST_K 1e-4

#define SEMI TS_OPACITY_SEMI_OPAQUE
#define FULL TS_OPACITY_OPAQUE
#define CLEAR TS_OPACITY_TRANSPARENT
#define THIN TS_OPACITY_SEMI_TRANSPARENT

// clang-format off
static const TsPigmentClass classes[] = {
  { "lemon_yellow", N_("a strong lemon yellow"), N_("bismuth vanadate or monoazo"), "PY184, PY3", SEMI, { 92, -9, 60 }, 0.50 },
  { "warm_yellow", N_("a strong warm yellow"), N_("diarylide or isoindolinone"), "PY83, PY110", THIN, { 82, 18, 66 }, 0.25 },
  { "golden_yellow", N_("a clear golden yellow"), N_("nickel azo"), "PY150", CLEAR, { 83, 3, 60 }, 0.10 },
  { "yellow_earth", N_("a yellow earth"), N_("hydrated iron oxide"), "PY42", SEMI, { 78, 9, 35 }, 0.55 },
  { "orange", N_("a bright orange"), N_("pyrrole or benzimidazolone"), "PO73, PO62", SEMI, { 70, 42, 46 }, 0.35 },
  { "bright_red", N_("a bright red"), N_("pyrrole"), "PR254, PR255", SEMI, { 57, 55, 27 }, 0.40 },
  { "deep_red", N_("a deep red"), N_("naphthol"), "PR170, PR112", THIN, { 52, 52, 14 }, 0.25 },
  { "red_earth", N_("a red earth"), N_("iron oxide"), "PR101", FULL, { 52, 26, 20 }, 0.70 },
  { "rose", N_("a strong rose"), N_("quinacridone"), "PR122, PV19", CLEAR, { 57, 50, -12 }, 0.12 },
  { "red_violet", N_("a red violet"), N_("quinacridone"), "PV19, PV42", CLEAR, { 47, 42, -18 }, 0.12 },
  { "violet", N_("a strong violet"), N_("dioxazine or quinacridone"), "PV23, PV19", CLEAR, { 45, 28, -40 }, 0.12 },
  { "ultramarine", N_("a deep reddish blue"), N_("ultramarine"), "PB29", THIN, { 53, 8, -44 }, 0.15 },
  { "phthalo_blue", N_("a strong greenish blue"), N_("phthalocyanine"), "PB15:3", CLEAR, { 52, -18, -46 }, 0.12 },
  { "cobalt_blue", N_("a clean middle blue"), N_("cobalt aluminate"), "PB28", SEMI, { 60, -3, -40 }, 0.35 },
  { "cerulean", N_("a light greenish blue"), N_("cobalt stannate or chromite"), "PB35, PB36", SEMI, { 65, -16, -27 }, 0.50 },
  { "turquoise", N_("a strong turquoise"), N_("phthalocyanine or cobalt titanate"), "PB16, PG50", SEMI, { 62, -34, -16 }, 0.30 },
  { "phthalo_green", N_("a strong bluish green"), N_("phthalocyanine"), "PG7", CLEAR, { 52, -50, 2 }, 0.12 },
  { "yellow_green", N_("a strong yellowish green"), N_("phthalocyanine"), "PG36", CLEAR, { 59, -52, 20 }, 0.12 },
  { "chrome_green", N_("a dull opaque green"), N_("chromium oxide"), "PG17", FULL, { 62, -13, 17 }, 0.80 },
  { "warm_brown", N_("a warm brown"), N_("calcined iron oxide, a burnt earth"), "PBr7, PR101", THIN, { 54, 21, 23 }, 0.20 },
  { "dark_brown", N_("a dark brown"), N_("iron and manganese oxide, an umber"), "PBr7", SEMI, { 48, 9, 13 }, 0.35 },
  { "black", N_("a deep black"), N_("carbon"), "PBk7, PBk6", FULL, { 36, 0, -2 }, 0.10 },
  { "white", N_("a bright white"), N_("titanium dioxide"), "PW6", FULL, { 97, -0.5, 1.5 }, 1.00 },
};
// clang-format on

/**
 * ts_pigment_class_get_n:
 *
 * Returns: how many kinds there are
 */
guint
ts_pigment_class_get_n (void)
{
  return G_N_ELEMENTS (classes);
}

/**
 * ts_pigment_class_get:
 * @index: below their number
 *
 * Returns: (transfer none): the kind
 */
const TsPigmentClass *
ts_pigment_class_get (guint index)
{
  g_return_val_if_fail (index < G_N_ELEMENTS (classes), NULL);

  return &classes[index];
}

static double
white_K (guint band)
{
  return band == 0 ? WHITE_K_400 : band == 1 ? WHITE_K_410 : WHITE_K;
}

static double
mean_of (const TsSpectrum *spectrum)
{
  double sum = 0.0;

  for (guint b = 0; b < TS_BANDS; b++)
    sum += spectrum->band[b];
  return sum / TS_BANDS;
}

/* A set's scattering is per coat, whatever its coat is: its strongest paint stands for white. */
static double
find_white_scattering (const TsPaintSet *set)
{
  double most = 0.0;

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);

      if (ts_paint_is_for_mixing (paint))
        most = MAX (most, mean_of (ts_paint_get_S (paint)));
    }
  return most > 0.0 ? most : 1.0;
}

/* K and S add by parts, so a tint's K/S tells the K of what is in it. */
static double
absorption_of (const TsPigmentClass *pigment, double tint, guint band, TsSurfaceReflection surface)
{
  double ratio = ts_km_ratio (CLAMP (ts_saunderson_inside (surface, tint), 1e-4, 0.9999));
  double S = pigment->scatter + WHITE_PARTS;

  if (pigment->scatter >= 1.0)
    return white_K (band);
  return MAX (LEAST_K, ratio * S - WHITE_PARTS * white_K (band));
}

static void
append_class (GString *text, const TsPigmentClass *pigment, double white,
              TsSurfaceReflection surface)
{
  TsSpectrum tint;

  g_string_append_printf (text, "%s,paint,%s,\"%s\"", pigment->id,
                          ts_opacity_to_word (pigment->opacity), pigment->pigments);
  if (!ts_spectrum_from_lab (pigment->tint, &tint, NULL))
    g_return_if_reached ();
  for (guint i = 0; i < 2 * TS_BANDS; i++)
    {
      char number[G_ASCII_DTOSTR_BUF_SIZE];
      double value =
        i < TS_BANDS ? absorption_of (pigment, tint.band[i], i, surface) : pigment->scatter;

      g_string_append_printf (text, ",%s",
                              g_ascii_formatd (number, sizeof number, "%.6g", white * value));
    }
  g_string_append_c (text, '\n');
}

/**
 * ts_pigment_class_add_all:
 * @set: a painter's paints
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the set and at its end one paint of each kind, approximate,
 *   called by its id; %NULL with a #TsError where the set has such a name itself
 */
TsPaintSet *
ts_pigment_class_add_all (const TsPaintSet *set, GError **error)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  double white = find_white_scattering (set);
  g_autoptr (GString) text = g_string_new ("# surface: k1=");
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (text, g_ascii_formatd (number, sizeof number, "%.6g", surface.k1));
  g_string_append (text, " k2=");
  g_string_append (text, g_ascii_formatd (number, sizeof number, "%.6g", surface.k2));
  g_string_append (text, "\nname,kind,opacity,pigments");
  for (guint i = 0; i < 2 * TS_BANDS; i++)
    g_string_append_printf (text, ",%c%u", i < TS_BANDS ? 'K' : 'S',
                            TS_BAND_FIRST + TS_BAND_STEP * (i % TS_BANDS));
  g_string_append_c (text, '\n');
  for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
    append_class (text, &classes[i], white, surface);
  return ts_paint_set_with_rows (set, text->str, (gssize) text->len, _ ("the kinds of paint"),
                                 error);
}
