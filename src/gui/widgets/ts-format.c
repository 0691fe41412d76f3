/* ts-format.c: numbers and findings to words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-format.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

/* What ts_stair_get_role() says, for translation. */
static const char *const roles[] = { N_ ("highlight"),       N_ ("light"),
                                     N_ ("halftone"),        N_ ("base"),
                                     N_ ("shadow"),          N_ ("core shadow"),
                                     N_ ("reflected light"), N_ ("deepest") };

/* A whole number with a true minus sign, never "-0". */
static char *
dup_whole (double number)
{
  int whole = (int) lround (number);

  return whole < 0 ? g_strdup_printf ("\u2212%d", -whole) : g_strdup_printf ("%d", whole);
}

static TsLengthUnit length_unit = TS_LENGTH_CENTIMETRES;

/**
 * ts_format_set_length_unit:
 * @unit: the painter's
 *
 * Like the language, it holds for all that is said from now on.
 */
void
ts_format_set_length_unit (TsLengthUnit unit)
{
  length_unit = unit;
}

/**
 * ts_format_get_length_unit:
 *
 * Returns: what distances are told in
 */
TsLengthUnit
ts_format_get_length_unit (void)
{
  return length_unit;
}

/**
 * ts_format_distance:
 * @mm: from eye to figure
 *
 * Returns: (transfer full): it in the painter's unit
 */
char *
ts_format_distance (double mm)
{
  return ts_length_to_text (mm, length_unit);
}

/**
 * ts_format_colour:
 * @lab: a colour, D50
 *
 * Returns: (transfer full): its numbers, and the Munsell value of its lightness
 */
char *
ts_format_colour (TsLab lab)
{
  g_autofree char *L = dup_whole (lab.L), *a = dup_whole (lab.a), *b = dup_whole (lab.b);

  return g_strdup_printf (_ ("L* %s   a* %s   b* %s   value %.1f"), L, a, b,
                          ts_munsell_value_from_lightness (CLAMP (lab.L, 0.0, 100.0)));
}

/**
 * ts_format_clipped:
 * @spot: a spot
 *
 * Returns: (transfer full) (nullable): that too much of it is clipped, where it is
 */
char *
ts_format_clipped (const TsSpot *spot)
{
  if (!(spot->clipped_share > TS_SPOT_MOST_CLIPPED))
    return NULL;
  return g_strdup_printf (_ ("clipped, %.0f %%: it counts less"), 100.0 * spot->clipped_share);
}

/**
 * ts_format_spot:
 * @spot: a spot
 *
 * Returns: (transfer full): its colour, and whether too much of it is clipped
 */
char *
ts_format_spot (const TsSpot *spot)
{
  g_autofree char *colour = ts_format_colour (spot->lab), *clipped = ts_format_clipped (spot);

  return clipped != NULL ? g_strconcat (colour, "\n", clipped, NULL) : g_steal_pointer (&colour);
}

/**
 * ts_format_lab:
 * @lab: a colour, D50
 *
 * Returns: (transfer full): its numbers, for a description
 */
char *
ts_format_lab (TsLab lab)
{
  g_autofree char *L = dup_whole (lab.L), *a = dup_whole (lab.a), *b = dup_whole (lab.b);

  return g_strdup_printf (_ ("L* %s a %s b %s"), L, a, b);
}

/**
 * ts_format_code:
 * @lab: a colour, D50
 *
 * Returns: (transfer full): its sRGB code, or that it has none
 */
char *
ts_format_code (TsLab lab)
{
  guint8 code[3];

  if (!ts_lab_to_srgb8 (lab, code))
    return g_strdup (_ ("outside sRGB"));
  return g_strdup_printf (_ ("sRGB #%02X%02X%02X"), code[0], code[1], code[2]);
}

/**
 * ts_format_colour_text:
 * @lab: a colour, D50
 *
 * Returns: (transfer full): its numbers to be given to another program, with its sRGB code
 */
char *
ts_format_colour_text (TsLab lab)
{
  g_autofree char *numbers = ts_format_lab (lab), *code = ts_format_code (lab);

  return g_strdup_printf (_ ("%s, %s"), numbers, code);
}

/**
 * ts_format_swatch:
 * @step: which step, from 0
 * @wanted: whether it is the wanted colour, and not the mixed one
 * @lab: the colour
 * @error: its 95 % radius, CIEDE2000
 * @spot: what it lies on
 *
 * Returns: (transfer full): how far it is from what the picture shows; no more than is sure
 */
char *
ts_format_swatch (guint step, gboolean wanted, TsLab lab, double error, const TsSpot *spot)
{
  double dE = ts_delta_e_2000 (lab, spot->lab), dL = lab.L - spot->lab.L;
  double unsure = hypot (error, ts_spot_get_own_error (spot));
  int most = MAX (1, (int) ceil (unsure - 0.05));
  g_autofree char *what = g_strdup_printf (wanted ? _ ("wanted %u") : _ ("mix %u"), step + 1);

  if (dE <= MAX (unsure, 0.5))
    return g_strdup_printf (_ ("%s: as the picture, give or take dE %d"), what, most);
  if (fabs (dL) <= MAX (unsure, 0.5))
    return g_strdup_printf (_ ("%s: dE %.0f from the picture, as light, give or take %d"), what, dE,
                            most);
  return g_strdup_printf (dL > 0.0
                            ? _ ("%s: dE %.0f from the picture, %.0f L* lighter, give or take %d")
                            : _ ("%s: dE %.0f from the picture, %.0f L* darker, give or take %d"),
                          what, dE, fabs (dL), most);
}

/**
 * ts_format_error:
 * @delta_e: radius, CIEDE2000
 *
 * Returns: (transfer full): "within about dE 3"; rounded up, so that it never says too little
 */
char *
ts_format_error (double delta_e)
{
  return g_strdup_printf (_ ("within about dE %d"), (int) ceil (delta_e - 0.05));
}

/**
 * ts_format_n_steps:
 * @n_steps: how many
 *
 * Returns: (transfer full): "7 steps"
 */
char *
ts_format_n_steps (guint n_steps)
{
  return g_strdup_printf (ngettext ("%u step", "%u steps", n_steps), n_steps);
}

/**
 * ts_format_spacing:
 * @spacing: how steps are placed
 *
 * Returns: the words for it
 */
const char *
ts_format_spacing (TsSpacing spacing)
{
  switch (spacing)
    {
    case TS_SPACING_DIFFERENCE:
      return _ ("equal difference");
    case TS_SPACING_AREA:
      return _ ("equal area");
    case TS_SPACING_BY_HAND:
      return _ ("placed by hand");
    case TS_SPACING_LIGHTNESS:
    default:
      return _ ("equal lightness");
    }
}

/**
 * ts_format_value:
 * @lightness: L*
 *
 * Returns: (transfer full): its Munsell value in words
 */
char *
ts_format_value (double lightness)
{
  return g_strdup_printf (_ ("value %.1f"),
                          ts_munsell_value_from_lightness (CLAMP (lightness, 0.0, 100.0)));
}

/**
 * ts_format_area:
 * @share: of a surface, 0 to 1
 *
 * Returns: (transfer full): words such as "covers 18 %"
 */
char *
ts_format_area (double share)
{
  if (share < 0.005)
    return g_strdup (_ ("covers next to nothing"));
  return g_strdup_printf (_ ("covers %.0f %%"), 100.0 * share);
}

/**
 * ts_format_fall:
 * @fall: how a surface falls
 * @said: whether the painter has said where the light is
 *
 * Returns: words for it, or ""
 */
const char *
ts_format_fall (TsFall fall, gboolean said)
{
  switch (fall)
    {
    case TS_FALL_AWAY:
      return said ? _ ("falls away from the light") : "";
    case TS_FALL_ACROSS:
      return said ? _ ("runs across the light") : "";
    case TS_FALL_AGAINST:
      return said ? _ ("falls towards the light: lit from elsewhere")
                  : _ ("lit from elsewhere than the others");
    case TS_FALL_UNKNOWN:
    default:
      return "";
    }
}

/**
 * ts_format_under:
 * @under: another light, or another eye
 *
 * Returns: words for it
 */
const char *
ts_format_under (TsUnder under)
{
  switch (under)
    {
    case TS_UNDER_LED:
      return _ ("under a white LED");
    case TS_UNDER_A:
      return _ ("under a tungsten lamp");
    case TS_UNDER_PROTAN:
      return _ ("to eyes without red cones");
    case TS_UNDER_DEUTAN:
      return _ ("to eyes without green cones");
    case TS_UNDER_TRITAN:
    default:
      return _ ("to eyes without blue cones");
    }
}

/**
 * ts_format_role:
 * @stair: the stair
 * @step: which step
 *
 * Returns: the word for a step that has one, else ""
 */
const char *
ts_format_role (const TsStair *stair, guint step)
{
  const char *role = ts_stair_get_role (stair, step);

  for (gsize i = 0; role != NULL && i < G_N_ELEMENTS (roles); i++)
    if (strcmp (role, roles[i]) == 0)
      return _ (roles[i]);
  return role != NULL ? role : "";
}

/**
 * ts_format_verdict:
 * @verdict: of two neighbours
 *
 * Returns: its word
 */
const char *
ts_format_verdict (TsVerdict verdict)
{
  switch (verdict)
    {
    case TS_VERDICT_TOO_CLOSE:
      return _ ("too close");
    case TS_VERDICT_MAY_READ:
      return _ ("may read");
    case TS_VERDICT_TOO_WIDE:
      return _ ("too wide");
    case TS_VERDICT_READS:
    default:
      return _ ("reads");
    }
}

/**
 * ts_format_verdict_is_problem:
 * @verdict: of two neighbours
 *
 * Returns: whether it calls for something to be done, and is shown bold
 */
gboolean
ts_format_verdict_is_problem (TsVerdict verdict)
{
  return verdict == TS_VERDICT_TOO_CLOSE || verdict == TS_VERDICT_TOO_WIDE;
}

/**
 * ts_format_contrast:
 * @contrast: of two neighbours
 * @distance: eye to figure, mm
 *
 * Returns: (transfer full): the numbers behind the verdict
 */
char *
ts_format_contrast (TsContrast contrast, double distance)
{
  g_autofree char *from = ts_format_distance (distance);

  return g_strdup_printf (_ ("%.0f L* apart, dE %.0f, %.0f times what can be seen at %s"),
                          fabs (contrast.delta_L), contrast.delta_e, contrast.visibility, from);
}

/**
 * ts_format_recipe:
 * @result: a surface's result
 * @step: which step
 *
 * Returns: (transfer full) (nullable): the recipe as one line, or %NULL before there is one
 */
char *
ts_format_recipe (const TsSurfaceResult *result, guint step)
{
  const TsRecipe *recipe = ts_surface_result_get_recipe (result, step);
  TsPaintSet *paints = ts_surface_result_get_paints (result);

  return recipe != NULL && paints != NULL ? ts_recipe_to_text (paints, recipe) : NULL;
}

/**
 * ts_format_out_of_reach:
 * @result: a surface's result
 * @step: a step that no mix reaches
 * @brief: whether there is little room
 *
 * Returns: (transfer full): how far the nearest mix is
 */
char *
ts_format_out_of_reach (const TsSurfaceResult *result, guint step, gboolean brief)
{
  const TsRecipe *recipe = ts_surface_result_get_recipe (result, step);

  if (recipe == NULL)
    return g_strdup (_ ("out of reach"));
  if (brief)
    return g_strdup_printf (_ ("out of reach, dE %.0f"), recipe->delta_e);
  return g_strdup_printf (_ ("out of reach by about dE %.0f"), recipe->delta_e);
}

typedef struct
{
  guint too_close, too_wide, may_read, out_of_reach;
} Counts;

static Counts
count (const TsSurfaceResult *result)
{
  Counts counts = { 0 };
  guint n = ts_surface_result_get_n_steps (result);

  for (guint i = 0; i < n; i++)
    {
      TsVerdict verdict;

      if (ts_surface_result_get_recipe (result, i) != NULL &&
          ts_surface_result_get_reach (result, i) != TS_REACH_WITHIN)
        counts.out_of_reach++;
      if (i + 1 == n)
        break;
      verdict = ts_surface_result_get_contrast (result, i).verdict;
      counts.too_close += verdict == TS_VERDICT_TOO_CLOSE;
      counts.too_wide += verdict == TS_VERDICT_TOO_WIDE;
      counts.may_read += verdict == TS_VERDICT_MAY_READ;
    }
  return counts;
}

static void
append_count (GString *words, const char *format, guint number)
{
  if (number == 0)
    return;
  if (words->len > 0)
    g_string_append (words, _ (", "));
  g_string_append_printf (words, format, number);
}

/**
 * ts_format_summary:
 * @result: a surface's result
 * @mark: (out): the shape of the worst finding
 * @problem: (out): whether something should be done
 *
 * Returns: (transfer full): the findings of a stair in a few words
 */
char *
ts_format_summary (const TsSurfaceResult *result, TsMark *mark, gboolean *problem)
{
  Counts counts = count (result);
  g_autoptr (GString) words = g_string_new (NULL);

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  append_count (words, _ ("%u too close"), counts.too_close);
  append_count (words, _ ("%u too wide"), counts.too_wide);
  append_count (words, _ ("%u out of reach"), counts.out_of_reach);
  *problem = words->len > 0;
  if (!*problem)
    append_count (words, _ ("%u may read"), counts.may_read);
#pragma GCC diagnostic pop
  if (counts.too_close > 0)
    *mark = TS_MARK_MEETING;
  else if (counts.too_wide > 0)
    *mark = TS_MARK_PARTING;
  else if (counts.out_of_reach > 0)
    *mark = TS_MARK_OUT_OF_REACH;
  else
    *mark = counts.may_read > 0 ? TS_MARK_RING : TS_MARK_DISC;
  if (words->len == 0)
    g_string_append (words, _ ("all read"));
  return g_string_free (g_steal_pointer (&words), FALSE);
}

/**
 * ts_format_range:
 * @result: a surface's result
 * @least_range: wanted at least, L*
 * @brief: whether to leave the ends out
 *
 * Returns: (transfer full): the lightness range of a stair, and whether it is enough also at the
 * edge of its error
 */
char *
ts_format_range (const TsSurfaceResult *result, double least_range, gboolean brief)
{
  guint n = ts_surface_result_get_n_steps (result);
  double range = ts_surface_result_get_range (result), light = 0.0, dark = 100.0;
  gboolean sure = range - ts_surface_result_get_range_error (result) >= least_range;
  const char *verdict = sure                   ? _ ("wide enough")
                        : range >= least_range ? _ ("may be wide enough")
                                               : _ ("too narrow");

  for (guint i = 0; i < n; i++)
    {
      double L = ts_surface_result_get_colour (result, i).L;

      light = MAX (light, L);
      dark = MIN (dark, L);
    }
  if (brief)
    return g_strdup_printf (_ ("range %.0f: %s"), range, verdict);
  return g_strdup_printf (_ ("L* %.0f to %.0f (value %.1f to %.1f), range %.0f: %s"), dark, light,
                          ts_munsell_value_from_lightness (dark),
                          ts_munsell_value_from_lightness (light), range, verdict);
}

static void
append_neighbours (GString *words, const TsSurfaceResult *result, guint step)
{
  guint n = ts_surface_result_get_n_steps (result);

  if (step > 0)
    g_string_append_printf (
      words, _ (" %s to %u."),
      ts_format_verdict (ts_surface_result_get_contrast (result, step - 1).verdict), step);
  if (step + 1 < n)
    g_string_append_printf (
      words, _ (" %s to %u."),
      ts_format_verdict (ts_surface_result_get_contrast (result, step).verdict), step + 2);
}

/**
 * ts_format_step:
 * @result: a surface's result
 * @step: which step
 *
 * Returns: (transfer full): all that the stair shows of one step, in words
 */
char *
ts_format_step (const TsSurfaceResult *result, guint step)
{
  TsStair *stair = ts_surface_result_get_stair (result);
  const char *role = ts_format_role (stair, step);
  g_autofree char *recipe = ts_format_recipe (result, step);
  g_autofree char *value = NULL;
  GString *words = g_string_new (NULL);

  g_string_append_printf (words, "%u", step + 1);
  if (*role != '\0')
    g_string_append_printf (words, "%s%s", _ (", "), role);
  if (ts_surface_result_is_locked (result, step))
    g_string_append_printf (words, "%s%s", _ (", "), _ ("locked"));
  value = ts_format_value (ts_stair_get_step (stair, step)->wanted.L);
  g_string_append_printf (words, ". L* %.0f. %s.", ts_stair_get_step (stair, step)->wanted.L,
                          value);
  if (recipe != NULL)
    {
      g_autofree char *error = ts_format_error (ts_surface_result_get_error (result, step));

      g_string_append_printf (words, " %s, %s.", recipe, error);
      if (ts_surface_result_get_reach (result, step) != TS_REACH_WITHIN)
        {
          g_autofree char *far = ts_format_out_of_reach (result, step, FALSE);

          g_string_append_printf (words, " %s.", far);
        }
    }
  if (ts_surface_result_get_area (result, step) >= 0.0)
    {
      g_autofree char *area = ts_format_area (ts_surface_result_get_area (result, step));

      g_string_append_printf (words, " %s.", area);
    }
  append_neighbours (words, result, step);
  return g_string_free (words, FALSE);
}

/**
 * ts_format_finished:
 * @verdict: what became of a stair on the finished figure
 * @mark: (out): its shape
 *
 * Returns: its word
 */
const char *
ts_format_finished (TsFinishVerdict verdict, TsMark *mark)
{
  *mark = verdict == TS_FINISH_KEPT ? TS_MARK_TICK : TS_MARK_DOWN;
  return ts_finish_verdict_to_words (verdict);
}
