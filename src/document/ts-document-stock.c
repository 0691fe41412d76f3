/* ts-document-stock.c: paints that run out, and the mixes that hold them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-paints.h"
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

static gboolean
holds_what_is_out (const TsPaintSet *paints, const char *text)
{
  TsRecipe recipe;

  if (text == NULL || !ts_recipe_parse (paints, text, &recipe, NULL))
    return FALSE;
  for (guint i = 0; i < recipe.n_paints; i++)
    if (ts_paint_get_stock (ts_paint_set_get_paint (paints, recipe.paint[i])) == TS_STOCK_OUT)
      return TRUE;
  return FALSE;
}

/* Kept mixes of steps and of the brief that cannot be mixed any more; lets them go in @plan where
 * it is one that may be changed. */
static guint
find_kept (const TsPlan *plan, gboolean let_go)
{
  guint n = 0;

  for (guint i = 0; plan->paints != NULL && i < plan->surfaces->len; i++)
    for (guint j = 0; j < TS_STAIR_MAX_STEPS; j++)
      {
        char **locked = &ts_plan_get_surface (plan, i)->locked[j];

        if (!holds_what_is_out (plan->paints, *locked))
          continue;
        n++;
        if (let_go)
          g_clear_pointer (locked, g_free);
      }
  for (guint i = 0; plan->paints != NULL && i < plan->brief->len; i++)
    {
      char **locked = &ts_plan_get_brief_line (plan, i)->locked;

      if (!holds_what_is_out (plan->paints, *locked))
        continue;
      n++;
      if (let_go)
        g_clear_pointer (locked, g_free);
    }
  return n;
}

static void
offer_others (TsDocument *self)
{
  guint n = self->plan != NULL ? find_kept (self->plan, FALSE) : 0;
  g_autofree char *text =
    g_strdup_printf (ngettext ("%u mix that you kept needs a paint that is out.",
                               "%u mixes that you kept need a paint that is out.", n),
                     n);

  if (n > 0)
    ts_document_tell (self, text, "win.replace-out", _ ("Look for others"));
}

/**
 * ts_document_set_stock:
 * @self: a document with paints
 * @paint: index of a paint
 * @stock: how much of it there is; a paint that is out is not mixed
 *
 * Mixes are looked for anew, but for those that the painter kept: where these need a paint that is
 * out, others are offered.
 */
void
ts_document_set_stock (TsDocument *self, guint paint, TsStock stock)
{
  const char *cells[] = { "stock", ts_stock_to_word (stock), NULL };

  /* The word is one of ours, so it cannot be refused. */
  ts_document_edit_paint (self, paint, cells, _ ("Stock"), NULL);
  if (stock == TS_STOCK_OUT)
    offer_others (self);
}

/**
 * ts_document_replace_out:
 * @self: a document
 *
 * Lets go of every kept mix that needs a paint that is out: the nearest of other paints takes its
 * place.
 */
void
ts_document_replace_out (TsDocument *self)
{
  TsPlan *plan;

  if (self->plan == NULL || find_kept (self->plan, FALSE) == 0)
    return;
  plan = ts_plan_copy (self->plan);
  find_kept (plan, TRUE);
  ts_document_change (self, plan, _ ("Replace what is out"), TS_SURFACE_ALL);
}
