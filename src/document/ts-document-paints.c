/* ts-document-paints.c: verbs that edit the set of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-paints.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-file.h"
#include "document/ts-document-private.h"
#include "recipes/ts-recipe.h"

/* Takes @paints, which may be %NULL, into @plan. */
static void
put_in_plan (TsPlan *plan, TsPaintSet *paints, const char *set_name)
{
  TsPaintSet *old = plan->paints;
  char *old_name = plan->paints_name;

  plan->paints = paints;
  plan->paints_name = g_strdup (set_name);
  g_clear_pointer (&old, ts_paint_set_unref);
  g_free (old_name);
}

/* The only way in which the paints change: takes @paints, which may be %NULL, and in @plan (taken,
 * nullable) what else of the plan changes with them. */
static void
change_set (TsDocument *self, TsPlan *plan, TsPaintSet *paints, const char *set_name,
            const char *name)
{
  if (self->plan == NULL)
    {
      ts_document_change_default_paints (self, paints, set_name, name);
      g_clear_pointer (&paints, ts_paint_set_unref);
      return;
    }
  if (plan == NULL)
    plan = ts_plan_copy (self->plan);
  put_in_plan (plan, paints, set_name);
  ts_document_change (self, plan, name, TS_SURFACE_ALL);
}

/**
 * ts_document_take_paints:
 * @self: a document
 * @paints: (nullable): a set
 * @set_name: (nullable): what it is called
 * @name: what the step back is called
 *
 * Mixes from these paints from now on.
 */
void
ts_document_take_paints (TsDocument *self, TsPaintSet *paints, const char *set_name,
                         const char *name)
{
  g_return_if_fail (TS_IS_DOCUMENT (self));

  change_set (self, NULL, paints != NULL ? ts_paint_set_ref (paints) : NULL, set_name, name);
}

/* @text, a recipe of @old, as @paints has its names; %NULL where it names a paint that is gone. */
static char *
dup_renamed (const TsPaintSet *old, const TsPaintSet *paints, const char *text)
{
  TsRecipe recipe;

  return ts_recipe_parse (old, text, &recipe, NULL) ? ts_recipe_to_text (paints, &recipe) : NULL;
}

static void
rename_locked (char **locked, const TsPaintSet *old, const TsPaintSet *paints)
{
  char *renamed = *locked != NULL ? dup_renamed (old, paints, *locked) : NULL;

  if (renamed == NULL)
    return;
  g_free (*locked);
  *locked = renamed;
}

static void
rename_accents (GPtrArray *accents, const TsPaintSet *old, const TsPaintSet *paints)
{
  for (guint i = 0; i < accents->len; i++)
    {
      TsAccent *accent = g_ptr_array_index (accents, i);
      int paint = ts_paint_set_find (old, accent->paint);

      if (paint < 0)
        continue;
      g_free (accent->paint);
      accent->paint = g_strdup (ts_paint_get_name (ts_paint_set_get_paint (paints, (guint) paint)));
    }
}

/* A copy of the plan whose locked mixes and accents have the names of @paints, a set of the same
 * paints. */
static TsPlan *
copy_with_names (const TsPlan *plan, const TsPaintSet *paints)
{
  TsPlan *copy = ts_plan_copy (plan);

  for (guint i = 0; i < copy->surfaces->len; i++)
    for (guint s = 0; s < TS_STAIR_MAX_STEPS; s++)
      rename_locked (&ts_plan_get_surface (copy, i)->locked[s], plan->paints, paints);
  for (guint i = 0; i < copy->surfaces->len; i++)
    rename_accents (ts_plan_get_surface (copy, i)->accents, plan->paints, paints);
  for (guint i = 0; i < copy->brief->len; i++)
    rename_locked (&ts_plan_get_brief_line (copy, i)->locked, plan->paints, paints);
  return copy;
}

static const char *
find_cell (const char *const *cells, const char *column)
{
  for (; cells[0] != NULL; cells += 2)
    if (g_str_equal (cells[0], column))
      return cells[1];
  return NULL;
}

/**
 * ts_document_edit_paint:
 * @self: a document with paints
 * @paint: index of a paint
 * @cells: (array zero-terminated=1): columns of the set's table, each followed by its new text
 * @name: (nullable): what the step back is called; %NULL names the paint
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %TS_ERROR_BAD_VALUE or %TS_ERROR_TOO_FEW set where the paint cannot be so
 */
gboolean
ts_document_edit_paint (TsDocument *self, guint paint, const char *const *cells, const char *name,
                        GError **error)
{
  TsPaintSet *old = ts_document_get_paints (self);
  g_autoptr (TsPaintSet) named = NULL, paints = NULL;
  g_autofree char *step = NULL;
  const char *other_name;

  g_return_val_if_fail (old != NULL && paint < ts_paint_set_get_n_paints (old), FALSE);

  other_name = find_cell (cells, "name");
  named = other_name != NULL ? ts_paint_set_with_name (old, paint, other_name, error)
                             : ts_paint_set_ref (old);
  paints = named != NULL ? ts_paint_set_with_cells (named, (int) paint, cells, error) : NULL;
  if (paints == NULL)
    return FALSE;
  step =
    g_strdup_printf (_ ("Edit %s"), ts_paint_get_name (ts_paint_set_get_paint (paints, paint)));
  change_set (
    self, other_name != NULL && self->plan != NULL ? copy_with_names (self->plan, paints) : NULL,
    ts_paint_set_ref (paints), ts_document_get_paints_name (self), name != NULL ? name : step);
  return TRUE;
}

/**
 * ts_document_add_paint:
 * @self: a document
 * @cells: (array zero-terminated=1): columns of the set's table, each followed by its text
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %TS_ERROR_BAD_VALUE or %TS_ERROR_TOO_FEW set where there can be no such
 *   paint
 */
gboolean
ts_document_add_paint (TsDocument *self, const char *const *cells, GError **error)
{
  TsPaintSet *old = ts_document_get_paints (self);
  TsPaintSet *paints = ts_paint_set_with_cells (old, -1, cells, error);
  g_autofree char *name = NULL;

  if (paints == NULL)
    return FALSE;
  name = g_strdup_printf (_ ("Add %s"), ts_paint_get_name (ts_paint_set_get_paint (
                                          paints, ts_paint_set_get_n_paints (paints) - 1)));
  change_set (self, NULL, paints,
              old != NULL ? ts_document_get_paints_name (self) : _ ("My paints"), name);
  return TRUE;
}

/**
 * ts_document_remove_paint:
 * @self: a document with paints
 * @paint: index of a paint
 * @error: return location for an error, or %NULL
 *
 * Test swatches with that paint in them stay, and count no more.
 *
 * Returns: %FALSE with %TS_ERROR_NOT_FOUND set where another paint's tint was made with it
 */
gboolean
ts_document_remove_paint (TsDocument *self, guint paint, GError **error)
{
  TsPaintSet *old = ts_document_get_paints (self), *paints = NULL;
  g_autofree char *name = NULL;

  g_return_val_if_fail (old != NULL && paint < ts_paint_set_get_n_paints (old), FALSE);

  if (ts_paint_set_get_n_paints (old) > 1)
    {
      paints = ts_paint_set_without (old, paint, error);
      if (paints == NULL)
        return FALSE;
    }
  name = g_strdup_printf (_ ("Remove %s"), ts_paint_get_name (ts_paint_set_get_paint (old, paint)));
  change_set (self, NULL, paints, paints != NULL ? ts_document_get_paints_name (self) : NULL, name);
  return TRUE;
}

/**
 * ts_document_add_swatch:
 * @self: a document with paints
 * @swatch: what was painted and measured
 * @error: return location for an error, or %NULL
 *
 * Keeps the swatch with the paints. It refines nothing before the next calibration.
 *
 * Returns: %FALSE with an error of ts_swatches_parse() set where the swatch cannot be
 */
gboolean
ts_document_add_swatch (TsDocument *self, const TsTestSwatch *swatch, GError **error)
{
  TsPaintSet *old = ts_document_get_paints (self), *paints;

  g_return_val_if_fail (old != NULL, FALSE);

  paints = ts_paint_set_with_swatch (old, swatch, error);
  if (paints != NULL)
    change_set (self, NULL, paints, ts_document_get_paints_name (self), _ ("Add a Test Swatch"));
  return paints != NULL;
}

/**
 * ts_document_remove_swatch:
 * @self: a document with paints
 * @swatch: index of a test swatch
 */
void
ts_document_remove_swatch (TsDocument *self, guint swatch)
{
  TsPaintSet *old = ts_document_get_paints (self);

  g_return_if_fail (old != NULL && swatch < ts_paint_set_get_n_swatches (old));

  change_set (self, NULL, ts_paint_set_without_swatch (old, swatch),
              ts_document_get_paints_name (self), _ ("Remove a Test Swatch"));
}

/**
 * ts_document_save_paints:
 * @self: a document with paints
 * @path: where
 * @error: return location for an error, or %NULL
 *
 * Writes the set as a table, whole or not at all. A plan keeps its own copy; the file is for other
 * plans.
 *
 * Returns: %FALSE with %TS_ERROR_IO set where it could not be written
 */
gboolean
ts_document_save_paints (TsDocument *self, const char *path, GError **error)
{
  TsPaintSet *paints = ts_document_get_paints (self);
  g_autofree char *csv = NULL;

  g_return_val_if_fail (paints != NULL, FALSE);

  csv = ts_paint_set_to_csv (paints);
  if (!ts_file_save (path, csv, strlen (csv), TS_FILE_SAVE_BACKUP, error))
    return FALSE;
  if (self->plan != NULL)
    ts_document_set_default_paints (self, paints, ts_document_get_paints_name (self));
  return TRUE;
}
