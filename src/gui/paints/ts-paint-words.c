/* ts-paint-words.c: what is known of a paint, in words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-words.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#include "colour/ts-difference.h"
#include "paint/ts-paint-set-edit.h"

#define DARK 40.0 /* L* below which a paint hides by absorbing: common practice, no source */

/**
 * ts_paint_words_kind:
 * @kind: a kind of paint
 *
 * Returns: (transfer none): it in words
 */
const char *
ts_paint_words_kind (TsPaintKind kind)
{
  switch (kind)
    {
    case TS_PAINT_INK:
      return _ ("ink");
    case TS_PAINT_WASH:
      return C_ ("kind of paint", "wash");
    case TS_PAINT_METALLIC:
      return _ ("metallic");
    case TS_PAINT_MEDIUM:
      return _ ("medium");
    case TS_PAINT_PRIMER:
      return _ ("primer");
    case TS_PAINT_VARNISH:
      return _ ("varnish");
    case TS_PAINT_PAINT:
    default:
      return C_ ("kind of paint", "paint");
    }
}

/**
 * ts_paint_words_opacity:
 * @opacity: how well a paint covers
 *
 * Returns: (transfer none): it in words
 */
const char *
ts_paint_words_opacity (TsOpacity opacity)
{
  switch (opacity)
    {
    case TS_OPACITY_OPAQUE:
      return _ ("opaque");
    case TS_OPACITY_SEMI_OPAQUE:
      return _ ("semi-opaque");
    case TS_OPACITY_SEMI_TRANSPARENT:
      return _ ("semi-transparent");
    case TS_OPACITY_TRANSPARENT:
      return _ ("transparent");
    case TS_OPACITY_UNKNOWN:
    default:
      return _ ("opacity not known");
    }
}

/**
 * ts_paint_words_stock:
 * @stock: how much is left
 *
 * Returns: (transfer none): it in words
 */
const char *
ts_paint_words_stock (TsStock stock)
{
  switch (stock)
    {
    case TS_STOCK_LOW:
      return C_ ("stock", "low");
    case TS_STOCK_OUT:
      return C_ ("stock", "out");
    case TS_STOCK_FULL:
    default:
      return C_ ("stock", "full");
    }
}

/**
 * ts_paint_words_summary:
 * @paint: a paint
 *
 * Returns: (transfer full): kind and opacity, as short as can be
 */
char *
ts_paint_words_summary (const TsPaint *paint)
{
  TsPaintKind kind = ts_paint_get_kind (paint);
  TsOpacity opacity = ts_paint_get_opacity (paint);

  if (kind == TS_PAINT_PAINT)
    return g_strdup (ts_paint_words_opacity (opacity));
  if (opacity == TS_OPACITY_UNKNOWN)
    return g_strdup (ts_paint_words_kind (kind));
  return g_strdup_printf (_ ("%s, %s"), ts_paint_words_kind (kind),
                          ts_paint_words_opacity (opacity));
}

/**
 * ts_paint_words_hiding:
 * @paint: a paint
 * @samples: its colours
 *
 * What the label says, and what was measured of it (contrast ratio, ISO 6504-3).
 *
 * Returns: (transfer full): in words
 */
char *
ts_paint_words_hiding (const TsPaint *paint, const TsPaintSamples *samples)
{
  const char *word = ts_paint_words_opacity (ts_paint_get_opacity (paint));
  g_autofree char *coats = NULL;
  int n = isfinite (samples->coats_to_hide) ? (int) ceil (samples->coats_to_hide - 0.05) : 0;

  if (!ts_paint_knows_opacity (paint))
    return ts_paint_get_opacity (paint) == TS_OPACITY_UNKNOWN
             ? g_strdup (_ ("not known: no word on the label, and not measured"))
             : g_strdup_printf (_ ("%s by its label; not measured"), word);
  if (n == 0)
    coats = g_strdup (_ ("no number of coats hides black and white"));
  else
    coats = g_strdup_printf (ngettext ("%d coat hides black and white",
                                       "%d coats hide black and white", (unsigned long) n),
                             n);
  return g_strdup_printf (_ ("%s by its label; measured %s: one coat hides %.0f %%, %s"), word,
                          ts_paint_words_opacity (samples->opacity), 100.0 * samples->contrast,
                          coats);
}

/**
 * ts_paint_words_disagree:
 * @paint: a paint
 * @samples: its colours
 *
 * A dark paint hides white by what it swallows, however transparent it is called: there the two
 * cannot be held against each other.
 *
 * Returns: whether label and measurement are two words apart or more: one is within what words can
 *   tell
 */
gboolean
ts_paint_words_disagree (const TsPaint *paint, const TsPaintSamples *samples)
{
  TsOpacity word = ts_paint_get_opacity (paint);

  return word != TS_OPACITY_UNKNOWN && ts_paint_knows_opacity (paint) &&
         samples->masstone.L > DARK && abs ((int) word - (int) samples->opacity) > 1;
}

/**
 * ts_paint_words_count_swatches:
 * @set: a set
 * @index: which paint
 *
 * Returns: how many test swatches that the set carries have it in them
 */
guint
ts_paint_words_count_swatches (const TsPaintSet *set, guint index)
{
  guint n = 0;

  for (guint i = 0; i < ts_paint_set_get_n_swatches (set); i++)
    {
      TsSwatch swatch;
      gboolean found = FALSE;

      if (!ts_paint_set_get_swatch (set, i, &swatch))
        continue;
      for (guint p = 0; p < swatch.n_amounts; p++)
        found = found || swatch.amounts[p].paint == index;
      n += found ? 1 : 0;
    }
  return n;
}

static const char *
get_source_words (TsPaintSource source)
{
  switch (source)
    {
    case TS_SOURCE_WORD:
      return _ ("its colour at full strength; how it covers is guessed from the word");
    case TS_SOURCE_MASSTONE:
      return _ ("a spectrum at full strength; how it covers is guessed from the word");
    case TS_SOURCE_FILMS_LAB:
      return _ ("one coat on white and on black, as colours");
    case TS_SOURCE_FILMS_SPECTRA:
      return _ ("one coat on white and on black, as spectra");
    case TS_SOURCE_TINTS:
      return _ ("full strength and a tint with white");
    case TS_SOURCE_CALIBRATED:
      return _ ("refined by test swatches");
    case TS_SOURCE_DIRECT:
    default:
      return _ ("absorption and scattering, given as they are");
    }
}

/**
 * ts_paint_words_source:
 * @set: a set
 * @index: which paint
 *
 * Returns: (transfer full): what its numbers come from
 */
char *
ts_paint_words_source (const TsPaintSet *set, guint index)
{
  TsPaintSource source = ts_paint_get_source (ts_paint_set_get_paint (set, index));
  guint n = ts_paint_words_count_swatches (set, index);

  if (source == TS_SOURCE_CALIBRATED && n > 0)
    return g_strdup_printf (
      ngettext ("refined by %u of your test swatches", "refined by %u of your test swatches", n),
      n);
  return g_strdup (get_source_words (source));
}

/**
 * ts_paint_words_compare:
 * @mixed: the mix
 * @spot: what was measured in a picture
 *
 * Returns: (transfer full): how the spot lies to the mix, in CIEDE2000 and in lightness
 */
char *
ts_paint_words_compare (TsLab mixed, TsLab spot)
{
  double dE = ts_delta_e_2000 (mixed, spot), dL = mixed.L - spot.L;

  if (fabs (dL) < 1.0)
    return g_strdup_printf (_ ("the spot is dE %.0f away, as light"), dE);
  return g_strdup_printf (dL > 0.0 ? _ ("the spot is dE %.0f away, %.0f L* darker")
                                   : _ ("the spot is dE %.0f away, %.0f L* lighter"),
                          dE, fabs (dL));
}
