/* ts-card.c: what the mixing card says
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "card/ts-card-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-csv.h"
#include "colour/ts-colour-convert.h"
#include "plan/ts-surface-accent.h"

#define PICTURE_SIZE 900 /* pixels of the longer side, at most: 10 cm at over 200 dpi */

static void
step_clear (TsCardStep *step)
{
  g_free (step->lightness);
  g_free (step->value);
  g_free (step->role);
  g_strfreev (step->parts);
  g_free (step->sure);
  g_ptr_array_unref (step->accents);
}

static void
accent_free (gpointer data)
{
  TsCardAccent *accent = data;

  g_free (accent->text);
  g_free (accent);
}

static void
work_free (gpointer data)
{
  TsCardWork *work = data;

  g_free (work->step);
  g_free (work->text);
  g_free (work);
}

static void
surface_free (gpointer data)
{
  TsCardSurface *surface = data;

  g_free (surface->letter);
  g_free (surface->name);
  g_free (surface->summary);
  g_ptr_array_unref (surface->work);
  for (guint i = 0; i < surface->n_steps; i++)
    step_clear (&surface->step[i]);
  g_free (surface);
}

static void
card_clear (TsCard *self)
{
  g_free (self->title);
  g_free (self->subtitle);
  for (guint i = 0; i < TS_CARD_N_FACTS; i++)
    {
      g_free (self->fact_name[i]);
      g_free (self->fact[i]);
    }
  g_free (self->advice);
  g_free (self->footer);
  g_ptr_array_unref (self->cautions);
  g_ptr_array_unref (self->surfaces);
  g_clear_pointer (&self->picture, cairo_surface_destroy);
  g_array_unref (self->blocks);
  g_free (self->csv);
}

/**
 * ts_card_ref:
 * @self: a card
 *
 * Returns: (transfer full): the same
 */
TsCard *
ts_card_ref (TsCard *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_card_unref:
 * @self: (transfer full): a card
 */
void
ts_card_unref (TsCard *self)
{
  g_atomic_rc_box_release_full (self, (GDestroyNotify) card_clear);
}

static GStrv
build_parts (const TsPaintSet *set, const TsRecipe *recipe)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  for (guint i = 0; recipe != NULL && i < recipe->n_paints; i++)
    {
      g_autofree char *parts = g_strdup_printf ("%u", recipe->parts[i]);

      g_strv_builder_add (builder, parts);
      g_strv_builder_add (builder,
                          ts_paint_get_name (ts_paint_set_get_paint (set, recipe->paint[i])));
    }
  return g_strv_builder_end (builder);
}

/* An error in whole steps, rounded up, so that it never says too little. */
static double
up (double error)
{
  return fmax (1.0, ceil (error - 0.05));
}

static void
fill_step (TsCardStep *step, const TsSurfaceResult *result, guint index)
{
  const TsStair *stair = ts_surface_result_get_stair (result);
  const TsRecipe *recipe = ts_surface_result_get_recipe (result, index);
  const char *role = ts_stair_get_role (stair, index);

  step->wanted = ts_stair_get_step (stair, index)->wanted;
  step->mixed = ts_surface_result_get_colour (result, index);
  step->lightness = g_strdup_printf (_ ("L* %.0f"), step->wanted.L);
  step->value =
    g_strdup_printf (_ ("value %.1f"), ts_munsell_value_from_lightness (step->wanted.L));
  step->is_base = g_strcmp0 (role, "base") == 0;
  step->role = role != NULL ? g_strdup (_ (role)) : NULL;
  step->parts = build_parts (ts_surface_result_get_paints (result), recipe);
  step->out_of_reach = ts_surface_result_get_reach (result, index) != TS_REACH_WITHIN;
  if (recipe == NULL)
    step->sure = g_strdup (_ ("no mix"));
  else if (step->out_of_reach)
    step->sure = g_strdup_printf (_ ("out of reach by about dE %.0f"), recipe->delta_e);
  else
    step->sure = g_strdup_printf (_ ("within about dE %.0f"),
                                  up (ts_surface_result_get_error (result, index)));
}

static void
fill_accents (TsCardStep *step, const TsSurface *surface, const TsSurfaceResult *result,
              guint index)
{
  step->accents = g_ptr_array_new_with_free_func (accent_free);
  for (guint i = 0; i < surface->accents->len; i++)
    {
      const TsAccent *of = g_ptr_array_index (surface->accents, i);
      TsCardAccent *accent;
      TsRecipe recipe;

      if (of->step != index)
        continue;
      accent = g_new0 (TsCardAccent, 1);
      accent->known = ts_surface_result_mix_accent (result, of, &recipe);
      if (accent->known)
        accent->lab = recipe.lab;
      accent->text = g_strdup_printf (_ ("%s: + %u %s"), of->name, of->parts, of->paint);
      g_ptr_array_add (step->accents, accent);
    }
}

static char *
build_summary (const TsSurfaceResult *result)
{
  const TsStair *stair = ts_surface_result_get_stair (result);
  guint n = ts_stair_get_n_steps (stair);
  double first = ts_stair_get_step (stair, 0)->wanted.L;
  double last = ts_stair_get_step (stair, n - 1)->wanted.L;

  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (ts_stair_get_role (stair, i), "base") == 0)
      return g_strdup_printf (_ ("L* %.0f to %.0f. The base is step %u."), fmin (first, last),
                              fmax (first, last), i + 1);
  return g_strdup_printf (_ ("L* %.0f to %.0f."), fmin (first, last), fmax (first, last));
}

static gboolean
is_done (const TsPlan *plan, guint index, const char *key)
{
  const TsSurface *of = ts_plan_get_surface (plan, index);

  return of->done != NULL && g_strv_contains ((const char *const *) of->done, key);
}

/* Mixes that were not chosen to grow from one another are each put out anew: that needs no order,
 * until the painter asks for it, says how much is wanted, or begins to tick it off. */
static gboolean
has_work (const TsPlan *plan, guint index)
{
  const TsSurface *of = ts_plan_get_surface (plan, index);

  return plan->card_work || of->together != TS_TOGETHER_APART || of->most_paints > 0 ||
         of->area > 0.0 || of->coats > 0.0 || (of->done != NULL && of->done[0] != NULL);
}

/* One line for each puddle: what is put out or added, and what is done with it. */
static void
fill_work (TsCardSurface *surface, const TsPlan *plan, guint index, const TsSurfaceResult *result)
{
  g_autoptr (TsMixingSequence) sequence = ts_surface_result_sequence (result, plan, index);
  TsCardWork *line = NULL;

  for (guint i = 0; sequence != NULL && i < ts_mixing_sequence_get_n (sequence); i++)
    {
      const TsWork *work = ts_mixing_sequence_get_work (sequence, i);
      g_autofree char *text =
        ts_work_to_text (work, ts_surface_result_get_paints (result), plan->medium);
      g_autofree char *key = NULL;
      gboolean begins =
        work->kind == TS_WORK_PUT_OUT || work->kind == TS_WORK_ADD || work->kind == TS_WORK_TAKE_UP;

      if (line == NULL || begins)
        {
          line = g_new0 (TsCardWork, 1);
          line->step = g_strdup_printf (_ ("Step %u"), work->step + 1);
          line->done = TRUE;
          g_ptr_array_add (surface->work, line);
        }
      ts_card_append_sentence (&line->text, text);
      key = ts_work_to_key (work, ts_surface_result_get_paints (result));
      line->done = line->done && is_done (plan, index, key);
    }
}

/* The line of a surface's first run on the reference, as shares of its width and height. */
static void
place_on_picture (TsCardSurface *surface, const TsSurface *of, int reference, const TsImage *image)
{
  for (guint i = 0; image != NULL && i < of->runs->len; i++)
    {
      const TsRun *run = ts_surface_get_run (of, i);
      const TsPoint *first = &g_array_index (run->points, TsPoint, 0);
      const TsPoint *last = &g_array_index (run->points, TsPoint, run->points->len - 1);
      double width = ts_image_get_width (image), height = ts_image_get_height (image);

      if ((int) run->picture != reference)
        continue;
      surface->lit = (TsPoint){ first->x / width, first->y / height };
      surface->shadow = (TsPoint){ last->x / width, last->y / height };
      surface->on_picture = TRUE;
      return;
    }
}

static void
add_surface (TsCard *self, const TsPlan *plan, guint index, const TsSurfaceResult *result,
             const TsImage *image)
{
  const TsSurface *of = ts_plan_get_surface (plan, index);
  TsCardSurface *surface = g_new0 (TsCardSurface, 1);
  guint n = self->surfaces->len;

  surface->letter = n < 26 ? g_strdup_printf ("%c", 'A' + n) : g_strdup_printf ("%u", n + 1);
  surface->name = g_strdup (of->name);
  surface->summary = build_summary (result);
  surface->n_steps = ts_surface_result_get_n_steps (result);
  for (guint i = 0; i < surface->n_steps; i++)
    {
      fill_step (&surface->step[i], result, i);
      fill_accents (&surface->step[i], of, result, i);
    }
  for (guint i = 0; i + 1 < surface->n_steps; i++)
    surface->verdict[i] = ts_surface_result_get_contrast (result, i).verdict;
  surface->work = g_ptr_array_new_with_free_func (work_free);
  if (has_work (plan, index))
    fill_work (surface, plan, index, result);
  place_on_picture (surface, of, ts_plan_find_picture (plan, TS_ROLE_REFERENCE), image);
  g_ptr_array_add (self->surfaces, surface);
}

static void
mark_accents (const TsPlan *plan, gboolean *used)
{
  for (guint i = 0; plan->paints != NULL && i < plan->surfaces->len; i++)
    {
      const GPtrArray *accents = ts_plan_get_surface (plan, i)->accents;

      for (guint j = 0; j < accents->len; j++)
        {
          const TsAccent *accent = g_ptr_array_index (accents, j);
          int paint = ts_paint_set_find (plan->paints, accent->paint);

          if (paint >= 0)
            used[paint] = TRUE;
        }
    }
}

/* Marks in @used the paints of all recipes and accents; returns how many, and the range of their
 * errors. */
static guint
find_used (const TsPlan *plan, const GPtrArray *results, guint n_paints, gboolean *used,
           double *best, double *worst)
{
  guint n_used = 0;

  *best = G_MAXDOUBLE;
  *worst = 0.0;
  for (guint i = 0; i < results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, i);
      guint n_steps = result != NULL ? ts_surface_result_get_n_steps (result) : 0;

      for (guint j = 0; j < n_steps; j++)
        {
          const TsRecipe *recipe = ts_surface_result_get_recipe (result, j);

          for (guint k = 0; recipe != NULL && k < recipe->n_paints; k++)
            if (recipe->paint[k] < n_paints)
              used[recipe->paint[k]] = TRUE;
          if (recipe == NULL)
            continue;
          *best = fmin (*best, recipe->error);
          *worst = fmax (*worst, recipe->error);
        }
    }
  mark_accents (plan, used);
  for (guint i = 0; i < n_paints; i++)
    n_used += used[i] ? 1 : 0;
  return n_used;
}

static void
add_cautions (TsCard *self, const TsPlan *plan, const gboolean *used, guint n_paints)
{
  for (guint i = 0; i < n_paints; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (plan->paints, i);
      const char *caution = ts_paint_get_caution (paint);

      if (used[i] && caution != NULL)
        g_ptr_array_add (self->cautions,
                         g_strdup_printf ("%s: %s", ts_paint_get_name (paint), caution));
    }
  g_ptr_array_add (
    self->cautions,
    g_strdup (_ ("Spray primer and varnish with ventilation and a respirator rated for them. Never "
                 "point a brush with the lips. The maker’s label, the safety data sheet and local "
                 "rules come first.")));
}

static const char *
correction_words (const TsPlan *plan)
{
  int index = ts_plan_find_picture (plan, TS_ROLE_REFERENCE);

  if (index < 0)
    return _ ("none");
  switch (ts_plan_get_picture (plan, (guint) index)->correction.kind)
    {
    case TS_CORRECTION_CARD:
      return _ ("corrected with the grey card; hues may be off");
    case TS_CORRECTION_CHART:
      return _ ("corrected with the 24-patch chart");
    case TS_CORRECTION_GUESS:
      return _ ("light guessed from the picture; not measured");
    case TS_CORRECTION_NONE:
    default:
      return _ ("uncorrected photograph");
    }
}

static char *
sureness_words (double best, double worst)
{
  if (!(worst > 0.0))
    return g_strdup (_ ("no mixes yet"));
  if (worst - best < 1.0)
    return g_strdup_printf (_ ("each mix within about dE %.0f of what is shown"), up (worst));
  return g_strdup_printf (_ ("mixes within about dE %.0f to %.0f of what is shown"), up (best),
                          up (worst));
}

static void
fill_facts (TsCard *self, const TsPlan *plan, const char *distance, guint n_used, guint n_paints,
            char *sureness)
{
  self->fact_name[0] = g_strdup (_ ("Figure"));
  self->fact[0] = g_strdup_printf (_ ("%.0f mm, seen from %s"), plan->figure_height, distance);
  self->fact_name[1] = g_strdup (_ ("Paints"));
  self->fact[1] = n_paints > 0 ? g_strdup_printf (_ ("%u of your %u"), n_used, n_paints)
                               : g_strdup (_ ("none chosen yet"));
  self->fact_name[2] = g_strdup (_ ("Photograph"));
  self->fact[2] = g_strdup (correction_words (plan));
  self->fact_name[3] = g_strdup (_ ("Sure"));
  self->fact[3] = sureness;
}

static cairo_surface_t *
draw_picture (const TsImage *image)
{
  guint longer = MAX (ts_image_get_width (image), ts_image_get_height (image));
  guint factor = (longer + PICTURE_SIZE - 1) / PICTURE_SIZE;
  g_autoptr (TsImage) small = factor > 1 ? ts_image_reduce (image, factor) : NULL;
  const TsImage *shown = small != NULL ? small : image;
  guint width = ts_image_get_width (shown), height = ts_image_get_height (shown);
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);

  ts_image_read_screen (shown, 0, 0, width, height,
                        (guint32 *) (gpointer) cairo_image_surface_get_data (surface),
                        (gsize) cairo_image_surface_get_stride (surface) / 4);
  cairo_surface_mark_dirty (surface);
  return surface;
}

static void
append_lab (GString *text, TsLab lab)
{
  ts_csv_append_number (text, round (lab.L * 100.0) / 100.0, 6, FALSE);
  ts_csv_append_number (text, round (lab.a * 100.0) / 100.0, 6, FALSE);
  ts_csv_append_number (text, round (lab.b * 100.0) / 100.0, 6, FALSE);
}

static void
append_row (GString *text, const TsSurface *surface, const TsSurfaceResult *result, guint step)
{
  const TsStair *stair = ts_surface_result_get_stair (result);
  const TsRecipe *recipe = ts_surface_result_get_recipe (result, step);
  const char *role = ts_stair_get_role (stair, step);
  g_autofree char *number = g_strdup_printf ("%u", step + 1);
  g_autofree char *words =
    recipe != NULL ? ts_recipe_to_text (ts_surface_result_get_paints (result), recipe) : NULL;
  gboolean last = step + 1 == ts_stair_get_n_steps (stair);

  ts_csv_append_cell (text, surface->name, TRUE);
  ts_csv_append_cell (text, number, FALSE);
  ts_csv_append_cell (text, role != NULL ? role : "", FALSE);
  append_lab (text, ts_stair_get_step (stair, step)->wanted);
  ts_csv_append_cell (text, words != NULL ? words : "", FALSE);
  if (recipe != NULL)
    {
      append_lab (text, recipe->lab);
      ts_csv_append_number (text, round (recipe->delta_e * 100.0) / 100.0, 4, FALSE);
      ts_csv_append_number (text, round (recipe->error * 10.0) / 10.0, 3, FALSE);
    }
  else
    g_string_append (text, ",,,,,");
  ts_csv_append_cell (
    text, last ? "" : ts_verdict_to_id (ts_surface_result_get_contrast (result, step).verdict),
    FALSE);
  g_string_append (text, "\r\n");
}

/* A row each, under the number of its step; its role says what it is. */
static void
append_accents (GString *text, const TsSurface *surface, const TsSurfaceResult *result)
{
  for (guint i = 0; i < surface->accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (surface->accents, i);
      g_autofree char *number = g_strdup_printf ("%u", accent->step + 1);
      g_autofree char *role = g_strdup_printf ("accent: %s", accent->name);
      g_autofree char *words = NULL;
      TsRecipe recipe;

      if (!ts_surface_result_mix_accent (result, accent, &recipe))
        continue;
      words = ts_recipe_to_text (ts_surface_result_get_paints (result), &recipe);
      ts_csv_append_cell (text, surface->name, TRUE);
      ts_csv_append_cell (text, number, FALSE);
      ts_csv_append_cell (text, role, FALSE);
      g_string_append (text, ",,,");
      ts_csv_append_cell (text, words, FALSE);
      append_lab (text, recipe.lab);
      g_string_append (text, ",");
      ts_csv_append_number (text, round (recipe.error * 10.0) / 10.0, 3, FALSE);
      ts_csv_append_cell (text, "", FALSE);
      g_string_append (text, "\r\n");
    }
}

static char *
build_csv (const TsPlan *plan, const GPtrArray *results)
{
  GString *text = g_string_new ("surface,step,role,L,a,b,recipe,mixed_L,mixed_a,mixed_b,"
                                "delta_e_2000,error_delta_e_2000,verdict_to_next\r\n");

  for (guint i = 0; i < results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, i);

      for (guint j = 0; result != NULL && j < ts_surface_result_get_n_steps (result); j++)
        append_row (text, ts_plan_get_surface (plan, i), result, j);
      if (result != NULL)
        append_accents (text, ts_plan_get_surface (plan, i), result);
    }
  return g_string_free (text, FALSE);
}

static void
fill_words (TsCard *self, const TsPlan *plan, const char *distance, const char *date)
{
  self->title = g_strdup (*plan->title != '\0' ? plan->title : _ ("Mixing card"));
  self->subtitle = date != NULL
                     ? g_strdup_printf (_ ("Mixing card, %s. One part is one drop."), date)
                     : g_strdup (_ ("Mixing card. One part is one drop."));
  self->advice = g_strdup (_ ("Colours on paper and screen are a guide. Mix, paint a test stroke, "
                              "let it dry, compare."));
  self->footer = g_strdup_printf (_ ("reads: seen apart at %s, also at the edge of the error. "
                                     "Chips: wanted over mixed, on grey."),
                                  distance);
}

/**
 * ts_card_new:
 * @plan: a plan
 * @results: (element-type TsSurfaceResult): one a surface, elements may be %NULL
 * @image: (nullable): the reference
 * @date: (nullable): shown as it stands
 * @paper: size of the pages
 * @unit: what the distance is told in
 *
 * Returns: (transfer full): the card, laid out on pages
 */
TsCard *
ts_card_new (const TsPlan *plan, const GPtrArray *results, const TsImage *image, const char *date,
             TsPaper paper, TsLengthUnit unit)
{
  TsCard *self = g_atomic_rc_box_new0 (TsCard);
  guint n_paints = plan->paints != NULL ? ts_paint_set_get_n_paints (plan->paints) : 0, n_used;
  g_autofree gboolean *used = g_new0 (gboolean, MAX (n_paints, 1));
  g_autofree char *distance = ts_length_to_text (plan->contrast.distance, unit);
  double best, worst;

  self->cautions = g_ptr_array_new_with_free_func (g_free);
  self->surfaces = g_ptr_array_new_with_free_func (surface_free);
  self->blocks = g_array_new (FALSE, FALSE, sizeof (TsCardBlock));
  self->width = paper == TS_PAPER_A4 ? 595.276 : 612.0;
  self->height = paper == TS_PAPER_A4 ? 841.89 : 792.0;
  fill_words (self, plan, distance, date);
  n_used = find_used (plan, results, n_paints, used, &best, &worst);
  fill_facts (self, plan, distance, n_used, n_paints, sureness_words (best, worst));
  add_cautions (self, plan, used, n_paints);
  for (guint i = 0; i < results->len && i < plan->surfaces->len; i++)
    if (g_ptr_array_index (results, i) != NULL)
      add_surface (self, plan, i, g_ptr_array_index (results, i), image);
  self->picture = image != NULL ? draw_picture (image) : NULL;
  self->csv = build_csv (plan, results);
  ts_card_lay_out (self);
  return self;
}

/**
 * ts_card_get_n_pages:
 * @self: a card
 *
 * Returns: the number of its pages, 1 at least
 */
guint
ts_card_get_n_pages (const TsCard *self)
{
  return self->n_pages;
}

/**
 * ts_card_get_size:
 * @self: a card
 * @width: (out): of a page, points of 1/72 inch
 * @height: (out): of a page
 */
void
ts_card_get_size (const TsCard *self, double *width, double *height)
{
  *width = self->width;
  *height = self->height;
}

/**
 * ts_card_to_csv:
 * @self: a card
 *
 * Returns: (transfer full): the recipes as a table (RFC 4180)
 */
char *
ts_card_to_csv (const TsCard *self)
{
  return g_strdup (self->csv);
}
