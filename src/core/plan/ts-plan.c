/* ts-plan.c: everything the painter has decided and measured, as one value
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan.h"

#include <json-glib/json-glib.h>

#include "palette/ts-mixing-sequence.h"
#include "recipes/ts-recipe-search.h"

#define DEFAULT_FIGURE_HEIGHT 75.0 /* mm: a small bust */
#define DEFAULT_REACH 2.0          /* CIEDE2000 */

static gpointer
extra_ref (gpointer extra)
{
  return extra != NULL ? json_object_ref (extra) : NULL;
}

static void
extra_clear (gpointer *extra)
{
  g_clear_pointer ((JsonObject **) extra, json_object_unref);
}

/**
 * ts_picture_new:
 * @path: where the file is, absolute
 * @role: what the picture is for
 *
 * Returns: (transfer full): a picture of the plan, not corrected, not measured yet
 */
TsPicture *
ts_picture_new (const char *path, TsPictureRole role)
{
  TsPicture *picture = g_new0 (TsPicture, 1);

  picture->path = g_strdup (path);
  picture->role = role;
  picture->correction.card_lightness = 49.5;
  return picture;
}

static TsPicture *
picture_copy (const TsPicture *picture)
{
  TsPicture *copy = g_memdup2 (picture, sizeof *picture);

  copy->path = g_strdup (picture->path);
  copy->sha256 = g_strdup (picture->sha256);
  ts_correction_settings_copy (&copy->correction, &picture->correction);
  copy->extra = extra_ref (picture->extra);
  return copy;
}

/**
 * ts_picture_free:
 * @picture: (transfer full) (nullable): a picture
 */
void
ts_picture_free (TsPicture *picture)
{
  if (picture == NULL)
    return;
  g_free (picture->path);
  g_free (picture->sha256);
  ts_correction_settings_clear (&picture->correction);
  extra_clear (&picture->extra);
  g_free (picture);
}

/**
 * ts_run_new:
 * @picture: index of the picture it lies on
 * @points: (array length=n_points): the line, lit end first, upright pixels
 * @n_points: 2 or more
 * @radius: of its spots, upright pixels
 *
 * Returns: (transfer full): a run without spots
 */
TsRun *
ts_run_new (guint picture, const TsPoint *points, guint n_points, double radius)
{
  TsRun *run;

  g_return_val_if_fail (n_points >= 2, NULL);

  run = g_new0 (TsRun, 1);
  run->picture = picture;
  run->points =
    g_array_append_vals (g_array_new (FALSE, FALSE, sizeof (TsPoint)), points, n_points);
  run->radius = radius;
  run->spots = g_array_new (FALSE, TRUE, sizeof (TsSpot));
  return run;
}

/**
 * ts_run_copy:
 * @run: a run
 *
 * Returns: (transfer full): a copy with its own points and spots
 */
TsRun *
ts_run_copy (const TsRun *run)
{
  TsRun *copy = g_memdup2 (run, sizeof *run);

  copy->points = g_array_copy (run->points);
  copy->spots = g_array_copy (run->spots);
  copy->extra = extra_ref (run->extra);
  return copy;
}

/**
 * ts_run_free:
 * @run: (transfer full) (nullable): a run
 */
void
ts_run_free (TsRun *run)
{
  if (run == NULL)
    return;
  g_array_unref (run->points);
  g_array_unref (run->spots);
  extra_clear (&run->extra);
  g_free (run);
}

/**
 * ts_outline_new:
 * @picture: index of the picture it lies on
 * @points: (array length=n_points): its corners, upright pixels
 * @n_points: 3 or more
 *
 * Returns: (transfer full): an outline that is not read yet
 */
TsOutline *
ts_outline_new (guint picture, const TsPoint *points, guint n_points)
{
  TsOutline *outline;

  g_return_val_if_fail (n_points >= 3, NULL);

  outline = g_new0 (TsOutline, 1);
  outline->picture = picture;
  outline->points =
    g_array_append_vals (g_array_new (FALSE, FALSE, sizeof (TsPoint)), points, n_points);
  outline->tones = g_array_new (FALSE, FALSE, sizeof (TsTone));
  return outline;
}

/**
 * ts_outline_copy:
 * @outline: an outline
 *
 * Returns: (transfer full): a copy with its own points and tones
 */
TsOutline *
ts_outline_copy (const TsOutline *outline)
{
  TsOutline *copy = g_memdup2 (outline, sizeof *outline);

  copy->points = g_array_copy (outline->points);
  copy->tones = g_array_copy (outline->tones);
  copy->extra = extra_ref (outline->extra);
  return copy;
}

/**
 * ts_outline_free:
 * @outline: (transfer full) (nullable): an outline
 */
void
ts_outline_free (TsOutline *outline)
{
  if (outline == NULL)
    return;
  g_array_unref (outline->points);
  g_array_unref (outline->tones);
  extra_clear (&outline->extra);
  g_free (outline);
}

static gpointer
copy_run (gconstpointer run, gpointer data)
{
  return ts_run_copy (run);
}

/**
 * ts_surface_new:
 * @name: what the painter calls it
 *
 * Returns: (transfer full): a surface without runs, with a stair of 7 steps of equal lightness
 */
TsSurface *
ts_surface_new (const char *name)
{
  TsSurface *surface = g_new0 (TsSurface, 1);

  surface->name = g_strdup (name);
  surface->runs = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_run_free);
  surface->accents = ts_accents_new ();
  surface->stair_of = -1;
  ts_stair_settings_init (&surface->stair);
  return surface;
}

/**
 * ts_surface_copy:
 * @surface: a surface
 *
 * Returns: (transfer full): a deep copy
 */
TsSurface *
ts_surface_copy (const TsSurface *surface)
{
  TsSurface *copy = g_memdup2 (surface, sizeof *surface);

  copy->name = g_strdup (surface->name);
  copy->runs = g_ptr_array_copy (surface->runs, copy_run, NULL);
  g_ptr_array_set_free_func (copy->runs, (GDestroyNotify) ts_run_free);
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    copy->locked[i] = g_strdup (surface->locked[i]);
  copy->outline = surface->outline != NULL ? ts_outline_copy (surface->outline) : NULL;
  copy->finish_outline =
    surface->finish_outline != NULL ? ts_outline_copy (surface->finish_outline) : NULL;
  copy->accents = ts_accents_copy (surface->accents);
  copy->done = g_strdupv (surface->done);
  copy->extra = extra_ref (surface->extra);
  return copy;
}

/**
 * ts_surface_free:
 * @surface: (transfer full) (nullable): a surface
 */
void
ts_surface_free (TsSurface *surface)
{
  if (surface == NULL)
    return;
  g_free (surface->name);
  g_ptr_array_unref (surface->runs);
  for (guint i = 0; i < TS_STAIR_MAX_STEPS; i++)
    g_free (surface->locked[i]);
  ts_outline_free (surface->outline);
  ts_outline_free (surface->finish_outline);
  g_ptr_array_unref (surface->accents);
  g_strfreev (surface->done);
  extra_clear (&surface->extra);
  g_free (surface);
}

/**
 * ts_surface_get_run:
 * @surface: a surface
 * @index: below the number of its runs
 *
 * Returns: (transfer none): the run
 */
TsRun *
ts_surface_get_run (const TsSurface *surface, guint index)
{
  g_return_val_if_fail (index < surface->runs->len, NULL);

  return g_ptr_array_index (surface->runs, index);
}

/**
 * ts_surface_is_measured:
 * @surface: a surface
 *
 * Returns: whether a curve can be fitted: it has spots, or an outline that was read
 */
gboolean
ts_surface_is_measured (const TsSurface *surface)
{
  for (guint i = 0; i < surface->runs->len; i++)
    if (ts_surface_get_run (surface, i)->spots->len > 0)
      return TRUE;
  return surface->outline != NULL && surface->outline->tones->len > 0;
}

/**
 * ts_brief_line_new:
 * @name: what the client calls it
 * @lab: the colour asked for, D50
 * @tolerance: CIEDE2000
 *
 * Returns: (transfer full): a line of the brief
 */
TsBriefLine *
ts_brief_line_new (const char *name, TsLab lab, double tolerance)
{
  TsBriefLine *line = g_new0 (TsBriefLine, 1);

  line->name = g_strdup (name);
  line->lab = lab;
  line->tolerance = tolerance;
  return line;
}

/**
 * ts_brief_line_free:
 * @line: (transfer full) (nullable): a line
 */
void
ts_brief_line_free (TsBriefLine *line)
{
  if (line == NULL)
    return;
  g_free (line->name);
  g_free (line->locked);
  extra_clear (&line->extra);
  g_free (line);
}

/**
 * ts_finish_run_new:
 * @surface: index of the surface that the run shows
 * @run: (transfer full): its run on the finished figure's photograph
 *
 * Returns: (transfer full): the pair of them
 */
TsFinishRun *
ts_finish_run_new (guint surface, TsRun *run)
{
  TsFinishRun *finish = g_new0 (TsFinishRun, 1);

  finish->surface = surface;
  finish->run = run;
  return finish;
}

/**
 * ts_finish_run_free:
 * @finish: (transfer full) (nullable): a run on the finished figure
 */
void
ts_finish_run_free (TsFinishRun *finish)
{
  if (finish == NULL)
    return;
  ts_run_free (finish->run);
  extra_clear (&finish->extra);
  g_free (finish);
}

/**
 * ts_plan_new:
 *
 * Returns: (transfer full): an empty plan with the usual limits
 */
TsPlan *
ts_plan_new (void)
{
  TsPlan *self = g_atomic_rc_box_new0 (TsPlan);
  TsSearchLimits limits;

  self->title = g_strdup ("");
  self->notes = g_strdup ("");
  self->figure_height = DEFAULT_FIGURE_HEIGHT;
  self->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_picture_free);
  self->surfaces = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_surface_free);
  self->brief = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_brief_line_free);
  self->finish = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_finish_run_free);
  self->touching = g_array_new (FALSE, FALSE, sizeof (TsTouch));
  ts_search_limits_init (&limits);
  self->mix.max_paints = limits.max_paints;
  self->mix.max_parts = limits.max_parts;
  self->mix.reach = DEFAULT_REACH;
  self->mix.drop = TS_USUAL_DROP;
  ts_contrast_settings_init (&self->contrast);
  return self;
}

/**
 * ts_brief_line_copy:
 * @line: a line
 *
 * Returns: (transfer full): the same
 */
TsBriefLine *
ts_brief_line_copy (const TsBriefLine *line)
{
  TsBriefLine *copy = g_memdup2 (line, sizeof *line);

  copy->name = g_strdup (line->name);
  copy->locked = g_strdup (line->locked);
  copy->extra = extra_ref (line->extra);
  return copy;
}

static TsFinishRun *
finish_run_copy (const TsFinishRun *finish)
{
  TsFinishRun *copy = ts_finish_run_new (finish->surface, ts_run_copy (finish->run));

  copy->extra = extra_ref (finish->extra);
  return copy;
}

/**
 * ts_plan_copy:
 * @self: a plan
 *
 * Returns: (transfer full): a deep copy that may be changed until it is given away; the paint set,
 *   which never changes, is shared
 */
TsPlan *
ts_plan_copy (const TsPlan *self)
{
  TsPlan *copy = ts_plan_new ();

  g_free (copy->title);
  g_free (copy->notes);
  copy->title = g_strdup (self->title);
  copy->notes = g_strdup (self->notes);
  copy->figure_height = self->figure_height;
  copy->card_work = self->card_work;
  for (guint i = 0; i < self->pictures->len; i++)
    g_ptr_array_add (copy->pictures, picture_copy (ts_plan_get_picture (self, i)));
  for (guint i = 0; i < self->surfaces->len; i++)
    g_ptr_array_add (copy->surfaces, ts_surface_copy (ts_plan_get_surface (self, i)));
  for (guint i = 0; i < self->brief->len; i++)
    g_ptr_array_add (copy->brief, ts_brief_line_copy (ts_plan_get_brief_line (self, i)));
  for (guint i = 0; i < self->finish->len; i++)
    g_ptr_array_add (copy->finish, finish_run_copy (g_ptr_array_index (self->finish, i)));
  g_array_append_vals (copy->touching, self->touching->data, self->touching->len);
  copy->paints = self->paints != NULL ? ts_paint_set_ref (self->paints) : NULL;
  copy->paints_name = g_strdup (self->paints_name);
  copy->mix = self->mix;
  copy->rules = ts_paint_rules_ref (self->rules);
  copy->medium = g_strdup (self->medium);
  copy->contrast = self->contrast;
  copy->extra = extra_ref (self->extra);
  return copy;
}

/**
 * ts_plan_ref:
 * @self: a plan
 *
 * Returns: (transfer full): the same
 */
TsPlan *
ts_plan_ref (TsPlan *self)
{
  return g_atomic_rc_box_acquire (self);
}

static void
plan_clear (TsPlan *self)
{
  g_free (self->title);
  g_free (self->notes);
  g_ptr_array_unref (self->pictures);
  g_ptr_array_unref (self->surfaces);
  g_ptr_array_unref (self->brief);
  g_ptr_array_unref (self->finish);
  g_array_unref (self->touching);
  g_clear_pointer (&self->paints, ts_paint_set_unref);
  g_free (self->paints_name);
  ts_paint_rules_unref (self->rules);
  g_free (self->medium);
  extra_clear (&self->extra);
}

/**
 * ts_plan_unref:
 * @self: (transfer full): a plan
 */
void
ts_plan_unref (TsPlan *self)
{
  g_atomic_rc_box_release_full (self, (GDestroyNotify) plan_clear);
}

/**
 * ts_plan_get_picture:
 * @self: a plan
 * @index: below the number of pictures
 *
 * Returns: (transfer none): the picture
 */
TsPicture *
ts_plan_get_picture (const TsPlan *self, guint index)
{
  g_return_val_if_fail (index < self->pictures->len, NULL);

  return g_ptr_array_index (self->pictures, index);
}

/**
 * ts_plan_get_surface:
 * @self: a plan
 * @index: below the number of surfaces
 *
 * Returns: (transfer none): the surface
 */
TsSurface *
ts_plan_get_surface (const TsPlan *self, guint index)
{
  g_return_val_if_fail (index < self->surfaces->len, NULL);

  return g_ptr_array_index (self->surfaces, index);
}

/**
 * ts_plan_get_brief_line:
 * @self: a plan
 * @index: below the number of lines
 *
 * Returns: (transfer none): the line
 */
TsBriefLine *
ts_plan_get_brief_line (const TsPlan *self, guint index)
{
  g_return_val_if_fail (index < self->brief->len, NULL);

  return g_ptr_array_index (self->brief, index);
}

/**
 * ts_plan_find_picture:
 * @self: a plan
 * @role: what the picture is for
 *
 * Returns: index of the first picture of that role, or -1
 */
int
ts_plan_find_picture (const TsPlan *self, TsPictureRole role)
{
  for (guint i = 0; i < self->pictures->len; i++)
    if (ts_plan_get_picture (self, i)->role == role)
      return (int) i;
  return -1;
}
