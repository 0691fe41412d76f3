/* ts-document-brief.c: verbs that change the client's brief
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

#include "colour/ts-difference.h"
#include "plan/ts-pipeline.h"
#include "spots/ts-spot-find.h"

#define USUAL_TOLERANCE 3.0 /* CIEDE2000; common practice, no source */

static void
free_brief_line (gpointer line)
{
  ts_brief_line_free (line);
}

/**
 * ts_document_set_brief:
 * @self: a document
 * @lines: (transfer full) (element-type TsBriefLine): the client's lines
 * @name: what the step back is called
 */
void
ts_document_set_brief (TsDocument *self, GPtrArray *lines, const char *name)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  g_ptr_array_unref (plan->brief);
  plan->brief = lines;
  g_ptr_array_set_free_func (lines, free_brief_line);
  ts_document_change (self, plan, name, TS_SURFACE_ALL);
}

/**
 * ts_document_get_brief_results:
 * @self: a document with a plan
 *
 * Returns: (transfer full) (element-type TsBriefResult): of all lines; valid until the plan changes
 */
GArray *
ts_document_get_brief_results (TsDocument *self)
{
  return ts_brief_results_new (self->plan, self->brief);
}

/* "Colour 4": the first such that no line has. */
static char *
free_name (const TsPlan *plan)
{
  for (guint i = plan->brief->len + 1;; i++)
    {
      g_autofree char *name = g_strdup_printf (_ ("Colour %u"), i);
      gboolean taken = FALSE;

      for (guint k = 0; k < plan->brief->len; k++)
        taken = taken || g_strcmp0 (ts_plan_get_brief_line (plan, k)->name, name) == 0;
      if (!taken)
        return g_steal_pointer (&name);
    }
}

/**
 * ts_document_add_brief_line:
 * @self: a document with a plan
 * @lab: the colour that is asked for, D50
 *
 * Adds a line at the end, with a name of its own.
 *
 * Returns: its index
 */
guint
ts_document_add_brief_line (TsDocument *self, TsLab lab)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  g_autofree char *name = free_name (plan);

  g_ptr_array_add (plan->brief, ts_brief_line_new (name, lab, USUAL_TOLERANCE));
  ts_document_change (self, plan, _ ("Add a line to the brief"), TS_SURFACE_ALL);
  return self->plan->brief->len - 1;
}

/**
 * ts_document_measure_brief_line:
 * @self: a document
 * @picture: index of a picture whose pixels are there
 * @place: where the colour is that is asked for, upright pixels
 * @error: return location for an error, or %NULL
 *
 * Adds a line with the colour of as large a disc as is even about the place. It is measured again
 * when the picture is corrected otherwise.
 *
 * Returns: its index, or -1 with a #TsError
 */
int
ts_document_measure_brief_line (TsDocument *self, guint picture, TsPoint place, GError **error)
{
  TsImage *image = ts_document_get_image (self, picture);
  const TsCorrection *correction = ts_document_need_correction (self, picture);
  g_autoptr (TsBriefLine) line = NULL;
  g_autofree char *name = NULL;
  TsPlan *plan;

  g_return_val_if_fail (image != NULL, -1);

  if (correction == NULL)
    return -1;
  name = free_name (self->plan);
  line = ts_brief_line_new (name, (TsLab){ 0 }, USUAL_TOLERANCE);
  place = ts_document_hold_within (image, place);
  line->picture = picture;
  line->x = place.x;
  line->y = place.y;
  line->radius = ts_spot_find_radius (image, place.x, place.y);
  if (!ts_pipeline_measure_brief_line (line, image, correction, error))
    return -1;
  plan = ts_plan_copy (self->plan);
  g_ptr_array_add (plan->brief, g_steal_pointer (&line));
  ts_document_change (self, plan, _ ("Measure a colour that is asked for"), TS_SURFACE_ALL);
  return (int) self->plan->brief->len - 1;
}

/**
 * ts_document_set_brief_line:
 * @self: a document
 * @index: of a line
 * @name: what it is called
 * @lab: the colour that is asked for, D50
 * @tolerance: CIEDE2000, above 0
 *
 * A colour that is typed is no longer the one measured off a picture.
 */
void
ts_document_set_brief_line (TsDocument *self, guint index, const char *name, TsLab lab,
                            double tolerance)
{
  const TsBriefLine *old = ts_plan_get_brief_line (self->plan, index);
  gboolean other = ts_delta_e_76 (old->lab, lab) > 0.0;
  TsBriefLine *line;
  TsPlan *plan;

  if (!other && g_str_equal (old->name, name) && !(old->tolerance < tolerance) &&
      !(old->tolerance > tolerance))
    return;
  plan = ts_plan_copy (self->plan);
  line = ts_plan_get_brief_line (plan, index);
  g_free (line->name);
  line->name = g_strdup (name);
  line->lab = lab;
  line->tolerance = tolerance;
  if (other)
    line->radius = 0.0;
  ts_document_change (self, plan, _ ("Change a line of the brief"),
                      other ? TS_SURFACE_ALL : TS_SURFACE_NONE);
}

/**
 * ts_document_remove_brief_line:
 * @self: a document
 * @index: of a line
 */
void
ts_document_remove_brief_line (TsDocument *self, guint index)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  g_ptr_array_remove_index (plan->brief, index);
  ts_document_change (self, plan, _ ("Remove a line of the brief"), TS_SURFACE_ALL);
}

/**
 * ts_document_lock_brief_line:
 * @self: a document
 * @index: of a line
 * @recipe: (nullable): the mix it is to have; %NULL for the nearest
 */
void
ts_document_lock_brief_line (TsDocument *self, guint index, const TsRecipe *recipe)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsBriefLine *line = ts_plan_get_brief_line (plan, index);

  g_clear_pointer (&line->locked, g_free);
  if (recipe != NULL)
    line->locked = ts_recipe_to_text (plan->paints, recipe);
  ts_document_change (self, plan, recipe != NULL ? _ ("Use a mix") : _ ("Use the nearest mix"),
                      TS_SURFACE_NONE);
}
