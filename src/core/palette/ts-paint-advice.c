/* ts-paint-advice.c: what to say of colours that no mix reaches, and which paint would help
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every kind of paint is tried: mixes that hold it are searched for each colour, exactly, and what
 * comes nearer counts.
 */
#include "palette/ts-paint-advice.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"

#define MOST_ADVICE 2
#define LEAST_GAIN 1.0 /* CIEDE2000: less is not worth a bottle */
#define GREYISH 3.0    /* chroma below which a hue says nothing */
#define NOTICED 1.5    /* L*, chroma: differences that are named */

static double
wrap (double degrees)
{
  return degrees - 360.0 * round (degrees / 360.0);
}

/**
 * ts_shortfall_of:
 * @wanted: the wanted colour, D50
 * @nearest: the nearest recipe, compared with it
 * @reach: CIEDE2000 within which a colour counts as reached
 *
 * Returns: how far the recipe is from it, and in which direction
 */
TsShortfall
ts_shortfall_of (TsLab wanted, const TsRecipe *nearest, double reach)
{
  TsLch one = ts_lch_from_lab (wanted), other = ts_lch_from_lab (nearest->lab);
  gboolean grey = one.C < GREYISH || other.C < GREYISH;

  return (TsShortfall){
    .reach = ts_reach_of (wanted, nearest, reach),
    .nearest = nearest->lab,
    .delta_e = nearest->delta_e,
    .L = other.L - one.L,
    .C = other.C - one.C,
    .h = grey ? 0.0 : wrap (other.h - one.h),
  };
}

/**
 * ts_shortfall_to_word:
 * @self: how far the nearest mix is from a wanted colour
 *
 * Returns: (transfer none): how it looks beside it, in a word or two
 */
const char *
ts_shortfall_to_word (const TsShortfall *self)
{
  static const char *const words[3][3] = {
    { N_ ("darker and duller"), N_ ("darker"), N_ ("darker and stronger") },
    { N_ ("duller"), N_ ("of another hue"), N_ ("stronger") },
    { N_ ("lighter and duller"), N_ ("lighter"), N_ ("lighter and stronger") },
  };
  guint L = self->L < -NOTICED ? 0 : self->L > NOTICED ? 2 : 1;
  guint C = self->C < -NOTICED ? 0 : self->C > NOTICED ? 2 : 1;

  return _ (words[L][C]);
}

/**
 * ts_shortfall_to_text:
 * @self: how far the nearest mix is from a wanted colour
 *
 * Returns: (transfer full): a sentence or two
 */
char *
ts_shortfall_to_text (const TsShortfall *self)
{
  if (self->reach == TS_REACH_WITHIN)
    return g_strdup (_ ("Within reach."));
  return g_strdup_printf (_ ("Out of reach by about dE %.0f: %s. The nearest mix is %s."),
                          self->delta_e, _ (ts_reach_to_word (self->reach)),
                          ts_shortfall_to_word (self));
}

/* What the painter's own paints and limits are, with room for one more. */
typedef struct
{
  TsPaintSet *set; /* owned: with all kinds at its end */
  GArray *allowed; /* owned: guint, the candidate last */
  GArray *needed;  /* owned: guint, the candidate last */
  TsSearchLimits limits;
} Trial;

static void
trial_clear (Trial *self)
{
  g_clear_pointer (&self->set, ts_paint_set_unref);
  g_clear_pointer (&self->allowed, g_array_unref);
  g_clear_pointer (&self->needed, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Trial, trial_clear)

static gboolean
trial_init (Trial *self, const TsPaintSet *set, const TsSearchLimits *limits, GError **error)
{
  guint none = 0;

  self->set = ts_pigment_class_add_all (set, error);
  if (self->set == NULL)
    return FALSE;
  self->allowed = g_array_new (FALSE, FALSE, sizeof (guint));
  self->needed = g_array_new (FALSE, FALSE, sizeof (guint));
  if (limits->allowed != NULL)
    g_array_append_vals (self->allowed, limits->allowed, limits->n_allowed);
  for (guint i = 0; limits->allowed == NULL && i < ts_paint_set_get_n_paints (set); i++)
    if (ts_paint_is_for_mixing (ts_paint_set_get_paint (set, i)))
      g_array_append_val (self->allowed, i);
  if (limits->n_needed > 0)
    g_array_append_vals (self->needed, limits->needed, limits->n_needed);
  g_array_append_val (self->allowed, none);
  g_array_append_val (self->needed, none);
  self->limits = *limits;
  self->limits.n_best = 1;
  self->limits.max_paints =
    CLAMP (limits->max_paints, MIN (self->needed->len, TS_SEARCH_MAX_PAINTS), TS_SEARCH_MAX_PAINTS);
  self->limits.allowed = (const guint *) (gpointer) self->allowed->data;
  self->limits.n_allowed = self->allowed->len;
  self->limits.needed = (const guint *) (gpointer) self->needed->data;
  self->limits.n_needed = self->needed->len;
  return TRUE;
}

/* How near each target comes by mixes with paint @paint of the trial's set in them. */
static gboolean
try_paint (Trial *self, guint paint, const TsLab *targets, double *nearest, guint n,
           GCancellable *cancellable, GError **error)
{
  g_autoptr (TsRecipeSearch) search = NULL;

  g_array_index (self->allowed, guint, self->allowed->len - 1) = paint;
  g_array_index (self->needed, guint, self->needed->len - 1) = paint;
  search = ts_recipe_search_new (self->set, &self->limits, cancellable, error);
  if (search == NULL)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GArray) best =
        ts_recipe_search_run (search, targets[i], cancellable, NULL, NULL, error);

      if (best == NULL)
        return FALSE;
      nearest[i] = best->len > 0 ? g_array_index (best, TsRecipe, 0).delta_e : (double) INFINITY;
    }
  return TRUE;
}

static double
gain_of (const double *without, const double *with, guint n)
{
  double gain = 0.0;

  for (guint i = 0; i < n; i++)
    gain += MAX (0.0, without[i] - with[i]);
  return gain;
}

static TsPaintAdvice
describe (const Trial *trial, guint kind, guint paint, const double *without, const double *with,
          guint n)
{
  TsPaintAdvice advice = {
    .pigment = ts_pigment_class_get (kind),
    .masstone = ts_paint_get_masstone (ts_paint_set_get_paint (trial->set, paint)),
    .gain = gain_of (without, with, n),
  };

  for (guint i = 0; i < n; i++)
    {
      advice.n_helped += without[i] - with[i] >= 1.0 ? 1 : 0;
      advice.n_reached += without[i] - with[i] >= 1.0 && with[i] <= trial->limits.reach ? 1 : 0;
    }
  return advice;
}

/* The kind that helps most, beside what is in @now already; what it leads to becomes @now. */
static gboolean
take_best (GArray *advice, const Trial *trial, guint first, const double *with, double *now,
           guint n)
{
  guint n_kinds = ts_pigment_class_get_n ();
  double most = LEAST_GAIN;
  guint best = n_kinds;
  TsPaintAdvice taken;

  for (guint kind = 0; kind < n_kinds; kind++)
    {
      double gain = gain_of (now, with + (gsize) kind * n, n);

      if (gain > most)
        {
          most = gain;
          best = kind;
        }
    }
  if (best == n_kinds)
    return FALSE;
  taken = describe (trial, best, first + best, now, with + (gsize) best * n, n);
  g_array_append_val (advice, taken);
  for (guint i = 0; i < n; i++)
    now[i] = MIN (now[i], with[(gsize) best * n + i]);
  return TRUE;
}

/**
 * ts_paint_advice_find:
 * @set: the paints
 * @limits: what a mix may be
 * @targets: (array length=n): wanted colours, D50: of a step, a stair, a whole plan
 * @nearest: (array length=n): CIEDE2000 of the nearest mix of each, as it is
 * @n: how many
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Some seconds of work for many colours and paints. Kinds of paint are approximate, and so is what
 * they lead to.
 *
 * Returns: (transfer full) (nullable) (element-type TsPaintAdvice): none where no kind brings the
 *   colours nearer by CIEDE2000 1 in all, else the one that helps most, and the one that helps most
 *   beside it; %NULL with a #TsError or G_IO_ERROR_CANCELLED
 */
GArray *
ts_paint_advice_find (const TsPaintSet *set, const TsSearchLimits *limits, const TsLab *targets,
                      const double *nearest, guint n, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) advice = g_array_new (FALSE, FALSE, sizeof (TsPaintAdvice));
  guint n_kinds = ts_pigment_class_get_n ();
  guint first = ts_paint_set_get_n_paints (set);
  g_autofree double *with = g_new (double, (gsize) n_kinds *n + 1);
  g_autofree double *now = g_new (double, n + 1);
  g_auto (Trial) trial = { 0 };

  if (n == 0)
    return g_steal_pointer (&advice);
  if (!trial_init (&trial, set, limits, error))
    return NULL;
  for (guint kind = 0; kind < n_kinds; kind++)
    if (!try_paint (&trial, first + kind, targets, with + (gsize) kind * n, n, cancellable, error))
      return NULL;
  for (guint i = 0; i < n; i++)
    now[i] = nearest[i];
  while (advice->len < MOST_ADVICE && take_best (advice, &trial, first, with, now, n))
    ;
  return g_steal_pointer (&advice);
}

/**
 * ts_paint_advice_to_text:
 * @self: a kind of paint that would help
 * @n_targets: colours that it was looked for
 *
 * Returns: (transfer full): a sentence or two
 */
char *
ts_paint_advice_to_text (const TsPaintAdvice *self, guint n_targets)
{
  g_autofree char *what = g_strdup_printf (_ ("%s, e.g. %s (%s)"), _ (self->pigment->what),
                                           _ (self->pigment->families), self->pigment->pigments);

  if (n_targets == 1)
    return g_strdup_printf (_ ("Would bring it nearer by about dE %.0f: %s. An estimate."),
                            self->gain, what);
  return g_strdup_printf (
    _ ("Would bring %u of %u colours nearer, by about dE %.0f in all: %s. An estimate."),
    self->n_helped, n_targets, self->gain, what);
}
