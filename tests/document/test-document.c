/* test-document.c: the changing state: verbs, history, threads
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>

#include "colour/ts-difference.h"
#include "document/ts-document-paints.h"
#include "document/ts-document.h"
#include "plan/ts-plan-file.h"
#include "plan/ts-surface-accent.h"

#define LIMIT_MS 120000 /* a guard, with sanitizers and other work */

typedef struct
{
  char *folder;
  char *picture;
  TsDocument *document;
  guint n_messages;
  gboolean opened;
  GError *error;
  guint number; /* what a condition is about */
} Fixture;

/* A cylinder lit from the left: lightness falls from left to right; lights above @most are lost. */
static char *
write_picture_at (const char *folder, const char *name, double tint, int width, guint most)
{
  char *path = g_build_filename (folder, name, NULL);
  int height = width * 2 / 3;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  guint32 *words = (guint32 *) (gpointer) cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface) / 4;

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        guint v = MIN ((guint) (230.0 - 190.0 * x / (width - 1)), most);

        words[y * stride + x] = v << 16 | (guint) (v * tint) << 8 | (guint) (v * 0.7);
      }
  cairo_surface_mark_dirty (surface);
  assert_int_equal (cairo_surface_write_to_png (surface, path), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  return path;
}

static char *
write_picture (const char *folder, const char *name, double tint)
{
  return write_picture_at (folder, name, tint, 300, 255);
}

static void
on_message (TsDocument *document, const char *text, const char *action, const char *label,
            Fixture *f)
{
  f->n_messages++;
}

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

/* Runs the loop until @condition holds. */
static void
wait_until (gboolean (*condition) (Fixture *f), Fixture *f)
{
  gint64 end = g_get_monotonic_time () + LIMIT_MS * G_TIME_SPAN_MILLISECOND;
  guint id = g_timeout_add (5, wake, NULL);

  while (!condition (f) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  assert_true (condition (f));
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  Fixture *f = data;

  f->opened = TRUE;
  ts_document_open_finish (TS_DOCUMENT (source), result, &f->error);
}

static gboolean
is_opened (Fixture *f)
{
  return f->opened;
}

static void
open_path (Fixture *f, const char *path)
{
  f->opened = FALSE;
  g_clear_error (&f->error);
  ts_document_open (f->document, path, on_opened, f);
  wait_until (is_opened, f);
}

static void
open_finished (Fixture *f, const char *path)
{
  f->opened = FALSE;
  g_clear_error (&f->error);
  ts_document_open_finished (f->document, path, on_opened, f);
  wait_until (is_opened, f);
  assert_no_error (f->error);
}

static TsPoint
get_finish_point (Fixture *f, guint surface, guint point)
{
  const TsFinishRun *finish = ts_finish_find_run (ts_document_get_plan (f->document), surface, 0);

  assert_non_null (finish);
  return g_array_index (finish->run->points, TsPoint, point);
}

/* Every step of the first surface has a recipe that is not of an earlier stair. */
static gboolean
is_mixed (Fixture *f)
{
  TsSurfaceResult *result = ts_document_get_result (f->document, 0);

  if (result == NULL || ts_surface_result_is_stale (result))
    return FALSE;
  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    if (ts_surface_result_get_choices (result, i) == NULL)
      return FALSE;
  return TRUE;
}

static gboolean
has_brief (Fixture *f)
{
  return ts_document_get_brief_choices (f->document, 0) != NULL;
}

static int
set_up (void **state)
{
  Fixture *f = g_new0 (Fixture, 1);
  g_autofree char *set = ts_test_source ("data/demo/lighthouse-paints.csv");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) paints = ts_paint_set_load (set, &error);

  assert_no_error (error);
  f->folder = ts_test_make_folder ();
  f->picture = write_picture (f->folder, "cylinder.png", 0.8);
  f->document = ts_document_new ();
  ts_document_set_default_paints (f->document, paints, "demo");
  g_signal_connect (f->document, "message", G_CALLBACK (on_message), f);
  *state = f;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *f = *state;
  GObject *document = G_OBJECT (f->document);

  g_object_add_weak_pointer (document, (gpointer *) &f->document);
  g_object_unref (document);
  /* Threads that were stopped may still hold it for a moment. */
  for (guint i = 0; i < 2000 && f->document != NULL; i++)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (1000);
    }
  assert_null (f->document);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_clear_error (&f->error);
  g_free (f->picture);
  ts_test_remove_folder (f->folder);
  g_free (f);
  return 0;
}

static void
open_and_draw (Fixture *f)
{
  open_path (f, f->picture);
  assert_no_error (f->error);
  assert_int_equal (
    ts_document_add_surface (f->document, (TsPoint){ 20.0, 100.0 }, (TsPoint){ 280.0, 100.0 }), 0);
}

static void
test_whole_chain (void **state)
{
  Fixture *f = *state;
  TsSurfaceResult *result;
  const TsStair *stair;

  open_and_draw (f);
  assert_non_null (ts_document_get_result (f->document, 0));
  wait_until (is_mixed, f);
  result = ts_document_get_result (f->document, 0);
  stair = ts_surface_result_get_stair (result);
  assert_int_equal (ts_surface_result_get_n_steps (result), 7);
  for (guint i = 0; i + 1 < 7; i++)
    assert_true (ts_stair_get_step (stair, i)->wanted.L >
                 ts_stair_get_step (stair, i + 1)->wanted.L);
  for (guint i = 0; i < 7; i++)
    assert_true (ts_surface_result_get_recipe (result, i)->n_paints >= 1);
}

static void
test_undo_is_exact (void **state)
{
  Fixture *f = *state;
  g_autofree char *before = NULL, *after = NULL, *undone = NULL, *redone = NULL;

  open_and_draw (f);
  before = ts_plan_to_text (ts_document_get_plan (f->document), f->folder);
  ts_document_set_n_steps (f->document, 0, 5);
  ts_document_place_step (f->document, 0, 2, 0.4, 55.0);
  ts_document_rename_surface (f->document, 0, "Coat");
  ts_document_merge_step (f->document, 0, 1);
  after = ts_plan_to_text (ts_document_get_plan (f->document), f->folder);
  assert_string_not_equal (before, after);
  for (guint i = 0; i < 4; i++)
    ts_document_undo (f->document);
  undone = ts_plan_to_text (ts_document_get_plan (f->document), f->folder);
  assert_string_equal (before, undone);
  for (guint i = 0; i < 4; i++)
    ts_document_redo (f->document);
  redone = ts_plan_to_text (ts_document_get_plan (f->document), f->folder);
  assert_string_equal (after, redone);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 0)), 4);
}

/* What redo brings back is selected, as it was when it was made. */
static void
test_redo_selects (void **state)
{
  Fixture *f = *state;

  open_path (f, f->picture);
  ts_document_select_surface (
    f->document,
    ts_document_add_surface (f->document, (TsPoint){ 20.0, 100.0 }, (TsPoint){ 280.0, 100.0 }));
  assert_int_equal (ts_document_get_selected_surface (f->document), 0);
  ts_document_undo (f->document);
  assert_int_equal (ts_document_get_selected_surface (f->document), -1);
  ts_document_redo (f->document);
  assert_int_equal (ts_document_get_selected_surface (f->document), 0);
}

static void
test_gesture_is_one_step (void **state)
{
  Fixture *f = *state;
  g_autofree char *name = NULL;

  open_path (f, f->picture);
  ts_document_begin_gesture (f->document, "Draw run");
  ts_document_add_surface (f->document, (TsPoint){ 20.0, 100.0 }, (TsPoint){ 40.0, 100.0 });
  for (guint i = 0; i < 20; i++)
    ts_document_move_run_point (f->document, 0, 0, 1, (TsPoint){ 50.0 + 10.0 * i, 100.0 });
  ts_document_end_gesture (f->document);
  g_object_get (f->document, "undo-name", &name, NULL);
  assert_string_equal (name, "Draw run");
  ts_document_undo (f->document);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 0);
}

static void
test_cancelled_gesture (void **state)
{
  Fixture *f = *state;
  g_autofree char *undo = NULL, *redo = NULL;

  open_path (f, f->picture);
  ts_document_begin_gesture (f->document, "Draw run");
  ts_document_add_surface (f->document, (TsPoint){ 20.0, 100.0 }, (TsPoint){ 280.0, 100.0 });
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 1);
  ts_document_cancel_gesture (f->document);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 0);
  g_object_get (f->document, "undo-name", &undo, "redo-name", &redo, NULL);
  assert_true (g_strcmp0 (undo, "Draw run") != 0);
  assert_null (redo);
}

/* A line drawn from shadow to lit is turned round on release. */
static void
test_turned_run (void **state)
{
  Fixture *f = *state;
  const TsRun *run;

  open_path (f, f->picture);
  ts_document_begin_gesture (f->document, NULL);
  ts_document_add_surface (f->document, (TsPoint){ 280.0, 100.0 }, (TsPoint){ 20.0, 100.0 });
  ts_document_end_gesture (f->document);
  run = ts_surface_get_run (ts_plan_get_surface (ts_document_get_plan (f->document), 0), 0);
  assert_near (g_array_index (run->points, TsPoint, 0).x, 20.0, 0.0);
  assert_true (g_array_index (run->spots, TsSpot, 0).lab.L >
               g_array_index (run->spots, TsSpot, run->spots->len - 1).lab.L + 20.0);
  assert_int_equal (f->n_messages, 2); /* no profile; turned round */
}

static void
test_step_verbs (void **state)
{
  Fixture *f = *state;
  const TsStair *stair;

  open_and_draw (f);
  ts_document_place_step (f->document, 0, 3, 0.45, 52.0);
  stair = ts_surface_result_get_stair (ts_document_get_result (f->document, 0));
  assert_near (ts_stair_get_step (stair, 3)->wanted.L, 52.0, 0.01);
  assert_near (ts_stair_get_step (stair, 3)->position, 0.45, 1e-6);
  /* A stair never rises: a step that is lifted past its neighbour stops there. */
  ts_document_place_step (f->document, 0, 3, 0.45, 99.0);
  stair = ts_surface_result_get_stair (ts_document_get_result (f->document, 0));
  assert_near (ts_stair_get_step (stair, 3)->wanted.L, ts_stair_get_step (stair, 2)->wanted.L,
               1e-9);
  ts_document_undo (f->document);
  ts_document_add_step (f->document, 0, 3);
  assert_int_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->stair.n_steps, 8);
  ts_document_merge_step (f->document, 0, 6);
  stair = ts_surface_result_get_stair (ts_document_get_result (f->document, 0));
  assert_int_equal (ts_stair_get_n_steps (stair), 7);
  assert_near (ts_stair_get_step (stair, 6)->position, 1.0, 1e-6);
}

static void
test_lock (void **state)
{
  Fixture *f = *state;
  const GArray *choices;
  TsRecipe second;

  open_and_draw (f);
  wait_until (is_mixed, f);
  choices = ts_surface_result_get_choices (ts_document_get_result (f->document, 0), 2);
  assert_true (choices->len > 1);
  second = g_array_index (choices, TsRecipe, 1);
  ts_document_lock_recipe (f->document, 0, 2, &second);
  assert_true (ts_surface_result_is_locked (ts_document_get_result (f->document, 0), 2));
  wait_until (is_mixed, f);
  assert_int_equal (
    ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 2)->paint[0],
    second.paint[0]);
  ts_document_unlock_recipe (f->document, 0, 2);
  assert_false (ts_surface_result_is_locked (ts_document_get_result (f->document, 0), 2));
}

/* A kept mix stays with its tone when there are more steps, or fewer. */
static void
test_lock_goes_along (void **state)
{
  Fixture *f = *state;
  const TsSurface *surface;
  g_autofree char *kept = NULL;
  TsRecipe recipe;

  open_and_draw (f);
  wait_until (is_mixed, f);
  recipe = *ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 6);
  ts_document_lock_recipe (f->document, 0, 6, &recipe);
  kept = g_strdup (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->locked[6]);
  recipe = *ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 5);
  ts_document_lock_recipe (f->document, 0, 5, &recipe);
  ts_document_set_n_steps (f->document, 0, 9);
  surface = ts_plan_get_surface (ts_document_get_plan (f->document), 0);
  assert_string_equal (surface->locked[8], kept);
  assert_non_null (surface->locked[7]);
  assert_null (surface->locked[6]);
  /* Both are nearest to the last of three now: the one whose tone it has stays. */
  ts_document_set_n_steps (f->document, 0, 3);
  surface = ts_plan_get_surface (ts_document_get_plan (f->document), 0);
  assert_string_equal (surface->locked[2], kept);
  assert_null (surface->locked[1]);
  ts_document_undo (f->document);
  assert_non_null (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->locked[7]);
}

/* What a kept mix needs is out: it stays until another is asked for. */
static void
test_out_of_stock (void **state)
{
  Fixture *f = *state;
  const TsRecipe *now;
  TsRecipe recipe;
  guint n_messages;

  open_and_draw (f);
  wait_until (is_mixed, f);
  recipe = *ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 2);
  ts_document_lock_recipe (f->document, 0, 2, &recipe);
  n_messages = f->n_messages;
  ts_document_set_stock (f->document, recipe.paint[0], TS_STOCK_LOW);
  assert_int_equal (f->n_messages, n_messages);
  ts_document_set_stock (f->document, recipe.paint[0], TS_STOCK_OUT);
  assert_int_equal (f->n_messages, n_messages + 1);
  assert_non_null (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->locked[2]);
  ts_document_replace_out (f->document);
  assert_null (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->locked[2]);
  wait_until (is_mixed, f);
  now = ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 2);
  for (guint i = 0; i < now->n_paints; i++)
    assert_int_not_equal (now->paint[i], recipe.paint[0]);
  ts_document_undo (f->document);
  assert_non_null (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->locked[2]);
}

static const TsAccent *
get_accent (Fixture *f, guint index)
{
  return g_ptr_array_index (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->accents,
                            index);
}

/* An accent begins with its step's mix, and goes where the step goes. */
static void
test_accents (void **state)
{
  Fixture *f = *state;
  TsPaintSet *paints = ts_document_get_paints (f->document);
  guint white = (guint) ts_paint_set_find (paints, "Plain White");
  const char *const renamed[] = { "name", "Snow", NULL };
  TsSurfaceResult *result;
  TsRecipe mix;

  open_and_draw (f);
  ts_document_add_accent (f->document, 0, "glint", 3, white, 1);
  result = ts_document_get_result (f->document, 0);
  assert_false (ts_surface_result_mix_accent (result, get_accent (f, 0), &mix));
  wait_until (is_mixed, f);
  result = ts_document_get_result (f->document, 0);
  assert_true (ts_surface_result_mix_accent (result, get_accent (f, 0), &mix));
  assert_true (mix.lab.L > ts_surface_result_get_colour (result, 3).L + 1.0);
  assert_near (mix.delta_e, ts_delta_e_2000 (mix.lab, ts_surface_result_get_colour (result, 3)),
               1e-9);
  ts_document_set_accent_parts (f->document, 0, 0, 4);
  assert_int_equal (get_accent (f, 0)->parts, 4);

  ts_document_add_step (f->document, 0, 1);
  assert_int_equal (get_accent (f, 0)->step, 4);
  ts_document_add_step (f->document, 0, 4);
  assert_int_equal (get_accent (f, 0)->step, 4);
  ts_document_merge_step (f->document, 0, 4);
  assert_int_equal (get_accent (f, 0)->step, 4);
  ts_document_merge_step (f->document, 0, 0);
  assert_int_equal (get_accent (f, 0)->step, 3);
  ts_document_set_n_steps (f->document, 0, 15);
  assert_int_equal (get_accent (f, 0)->step, 7);
  assert_true (ts_document_edit_paint (f->document, white, renamed, NULL, NULL));
  assert_string_equal (get_accent (f, 0)->paint, "Snow");
  ts_document_remove_accent (f->document, 0, 0);
  assert_int_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->accents->len, 0);
  ts_document_undo (f->document);
  assert_string_equal (get_accent (f, 0)->name, "glint");
}

/* Results are not stale where only what mixes are made of is another: what is waited for is said.
 */
static gboolean
all_hold (Fixture *f)
{
  TsSurfaceResult *result = ts_document_get_result (f->document, 0);

  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    {
      const TsRecipe *recipe = ts_surface_result_get_recipe (result, i);
      gboolean held = FALSE;

      for (guint j = 0; j < recipe->n_paints; j++)
        held = held || recipe->paint[j] == f->number;
      if (!held)
        return FALSE;
    }
  return TRUE;
}

static gboolean
some_lack (Fixture *f)
{
  return !all_hold (f);
}

static gboolean
is_other_mix (Fixture *f)
{
  return ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 2)->paint[0] !=
         f->number;
}

static guint
count_paints (Fixture *f)
{
  TsSurfaceResult *result = ts_document_get_result (f->document, 0);
  g_autoptr (GHashTable) paints = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    {
      const TsRecipe *recipe = ts_surface_result_get_recipe (result, i);

      for (guint j = 0; j < recipe->n_paints; j++)
        g_hash_table_add (paints, GUINT_TO_POINTER (recipe->paint[j]));
    }
  return g_hash_table_size (paints);
}

static gboolean
has_fewer (Fixture *f)
{
  return count_paints (f) < f->number;
}

static void
test_rules (void **state)
{
  Fixture *f = *state;
  const TsPaint *paint;

  open_and_draw (f);
  wait_until (is_mixed, f);
  f->number = ts_surface_result_get_recipe (ts_document_get_result (f->document, 0), 2)->paint[0];
  paint = ts_paint_set_get_paint (ts_document_get_paints (f->document), f->number);
  ts_document_set_rule (f->document, ts_paint_get_name (paint), TS_RULE_LEFT_OUT);
  wait_until (is_other_mix, f);
  ts_document_set_rule (f->document, ts_paint_get_name (paint), TS_RULE_NEEDED);
  wait_until (all_hold, f);
  ts_document_clear_rules (f->document);
  assert_null (ts_document_get_plan (f->document)->rules);
  wait_until (some_lack, f);
  ts_document_undo (f->document);
  wait_until (all_hold, f);
}

static void
test_together (void **state)
{
  Fixture *f = *state;

  open_and_draw (f);
  wait_until (is_mixed, f);
  f->number = count_paints (f);
  ts_document_set_together (f->document, 0, TS_TOGETHER_FEWEST, 0);
  wait_until (has_fewer, f);
  f->number = count_paints (f);
  ts_document_set_together (f->document, 0, TS_TOGETHER_TRUEST, f->number - 1);
  wait_until (has_fewer, f);
}

static void
test_tick (void **state)
{
  Fixture *f = *state;
  const char *key = "put_out 4: 8 Deep Teal";

  open_and_draw (f);
  ts_document_tick_work (f->document, 0, key, TRUE);
  ts_document_tick_work (f->document, 0, "paint 4:", TRUE);
  assert_string_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->done[0], key);
  assert_string_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->done[1],
                       "paint 4:");
  ts_document_tick_work (f->document, 0, key, FALSE);
  assert_string_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->done[0],
                       "paint 4:");
  ts_document_undo (f->document);
  assert_string_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->done[0], key);
}

/* What is selected and what is offered never points past what is there. */
static void
test_nothing_stale (void **state)
{
  Fixture *f = *state;
  GPtrArray *lines = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) two = ts_paint_set_parse (
    "name,kind,opacity,L,a,b\nWhite,paint,opaque,96,0,2\nBlack,paint,opaque,12,0,0\n", -1, "two",
    &error);

  assert_no_error (error);
  open_and_draw (f);
  ts_document_select_step (f->document, 6);
  assert_int_equal (ts_document_get_selected_step (f->document), 6);
  ts_document_set_n_steps (f->document, 0, 4);
  assert_int_equal (ts_document_get_selected_step (f->document), -1);
  ts_document_select_step (f->document, 9);
  assert_int_equal (ts_document_get_selected_step (f->document), -1);
  g_ptr_array_add (lines, ts_brief_line_new ("Bone", (TsLab){ 80.0, 2.0, 14.0 }, 3.0));
  ts_document_set_brief (f->document, lines, "Brief");
  wait_until (has_brief, f);
  ts_document_set_paints (f->document, two, "two");
  assert_null (ts_document_get_brief_choices (f->document, 0));
  wait_until (has_brief, f);
  ts_document_undo (f->document);
  assert_null (ts_document_get_brief_choices (f->document, 0));
}

/* The selection stays with its surface when others go or move. */
static void
test_selection_follows (void **state)
{
  Fixture *f = *state;

  open_and_draw (f);
  ts_document_add_surface (f->document, (TsPoint){ 20.0, 50.0 }, (TsPoint){ 150.0, 50.0 });
  ts_document_add_surface (f->document, (TsPoint){ 150.0, 150.0 }, (TsPoint){ 290.0, 150.0 });
  assert_int_equal (ts_document_get_selected_surface (f->document), 2);
  ts_document_remove_surface (f->document, 0);
  assert_int_equal (ts_document_get_selected_surface (f->document), 1);
  ts_document_move_surface (f->document, 0, 1);
  assert_int_equal (ts_document_get_selected_surface (f->document), 0);
}

static void
test_save_and_reopen (void **state)
{
  Fixture *f = *state;
  g_autofree char *path = g_build_filename (f->folder, "plan.tonestair", NULL);
  g_autofree char *first = NULL, *again = NULL;
  g_autoptr (GError) error = NULL;

  open_and_draw (f);
  assert_false (ts_document_get_saved (f->document));
  assert_true (ts_document_save (f->document, path, &error));
  assert_true (ts_document_get_saved (f->document));
  ts_document_set_n_steps (f->document, 0, 4);
  assert_false (ts_document_get_saved (f->document));
  ts_document_undo (f->document);
  assert_true (ts_document_get_saved (f->document));
  first = ts_plan_to_text (ts_document_get_plan (f->document), f->folder);
  open_path (f, path);
  assert_no_error (f->error);
  again = ts_plan_to_text (ts_document_get_plan (f->document), f->folder);
  assert_string_equal (first, again);
  assert_non_null (ts_document_get_image (f->document, 0));
  assert_int_equal (ts_document_get_selected_surface (f->document), 0);
}

/* A picture that was changed or taken away is named, and the plan opens all the same. */
static void
test_missing_and_changed_picture (void **state)
{
  Fixture *f = *state;
  g_autofree char *path = g_build_filename (f->folder, "plan.tonestair", NULL);
  g_autofree char *again = NULL;
  g_autoptr (GError) error = NULL;

  open_and_draw (f);
  assert_true (ts_document_save (f->document, path, &error));
  again = write_picture (f->folder, "cylinder.png", 0.5);
  f->n_messages = 0;
  open_path (f, path);
  assert_no_error (f->error);
  assert_int_equal (f->n_messages, 1);
  ts_document_measure_again (f->document, 0);
  assert_false (ts_document_get_saved (f->document));
  g_unlink (again);
  f->n_messages = 0;
  open_path (f, path);
  assert_no_error (f->error);
  assert_int_equal (f->n_messages, 1);
  assert_null (ts_document_get_image (f->document, 0));
  assert_non_null (ts_document_get_result (f->document, 0));
  /* Nothing that needs the picture brings it down. */
  ts_document_move_run (f->document, 0, 0, 5.0, 5.0);
  ts_document_set_n_steps (f->document, 0, 9);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 0)), 9);
}

static void
test_bad_files (void **state)
{
  Fixture *f = *state;
  g_autofree char *text = g_build_filename (f->folder, "bad.tonestair", NULL);
  g_autofree char *none = g_build_filename (f->folder, "none.png", NULL);

  g_file_set_contents (text, "{", -1, NULL);
  open_path (f, text);
  assert_non_null (f->error);
  open_path (f, none);
  assert_non_null (f->error);
  assert_false (ts_document_get_has_plan (f->document));
}

/* Surfaces that are taken away or moved keep their own results and finish runs. */
static void
test_surfaces_move (void **state)
{
  Fixture *f = *state;
  double L;

  open_and_draw (f);
  ts_document_add_surface (f->document, (TsPoint){ 20.0, 50.0 }, (TsPoint){ 150.0, 50.0 });
  ts_document_add_surface (f->document, (TsPoint){ 150.0, 150.0 }, (TsPoint){ 290.0, 150.0 });
  L = ts_stair_get_step (ts_surface_result_get_stair (ts_document_get_result (f->document, 2)), 0)
        ->wanted.L;
  ts_document_move_surface (f->document, 2, 0);
  assert_near (
    ts_stair_get_step (ts_surface_result_get_stair (ts_document_get_result (f->document, 0)), 0)
      ->wanted.L,
    L, 1e-9);
  ts_document_remove_surface (f->document, 1);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 2);
  assert_near (
    ts_stair_get_step (ts_surface_result_get_stair (ts_document_get_result (f->document, 0)), 0)
      ->wanted.L,
    L, 1e-9);
}

/* A copy stands after its surface, looks as that does at once, and goes its own way. */
static void
test_surface_copied (void **state)
{
  Fixture *f = *state;
  const TsPlan *plan;

  open_and_draw (f);
  ts_document_add_surface (f->document, (TsPoint){ 20.0, 50.0 }, (TsPoint){ 150.0, 50.0 });
  ts_document_rename_surface (f->document, 0, "Coat");
  ts_document_set_stair_of (f->document, 1, 0);
  ts_document_copy_surface (f->document, 0);
  plan = ts_document_get_plan (f->document);
  assert_int_equal (plan->surfaces->len, 3);
  assert_string_equal (ts_plan_get_surface (plan, 1)->name, "Coat 2");
  assert_int_equal (ts_document_get_selected_surface (f->document), 1);
  assert_int_equal (ts_plan_get_surface (plan, 2)->stair_of, 0);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 1)),
                    ts_surface_result_get_n_steps (ts_document_get_result (f->document, 0)));
  ts_document_copy_surface (f->document, 1);
  assert_string_equal (ts_plan_get_surface (ts_document_get_plan (f->document), 2)->name, "Coat 3");
  ts_document_set_n_steps (f->document, 1, 4);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 1)), 4);
  assert_int_equal (ts_surface_result_get_n_steps (ts_document_get_result (f->document, 0)), 7);
  ts_document_undo (f->document);
  ts_document_undo (f->document);
  ts_document_undo (f->document);
  assert_int_equal (ts_document_get_plan (f->document)->surfaces->len, 2);
}

static void
test_surface_hidden (void **state)
{
  Fixture *f = *state;

  open_and_draw (f);
  ts_document_set_hidden (f->document, 0, TRUE);
  assert_true (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->hidden);
  assert_non_null (ts_document_get_result (f->document, 0));
  ts_document_undo (f->document);
  assert_false (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->hidden);
}

/* A photograph of half the size in which all lights were painted alike: its run lies at the same
 * place, and the check says so. */
static void
test_finished_figure (void **state)
{
  Fixture *f = *state;
  g_autofree char *same = write_picture_at (f->folder, "same.png", 0.8, 150, 255);
  g_autofree char *flat = write_picture_at (f->folder, "flat.png", 0.8, 150, 90);
  const TsFinished *finished;

  open_and_draw (f);
  assert_null (ts_document_get_finished (f->document, 0));
  open_finished (f, same);
  assert_int_equal (ts_document_get_plan (f->document)->pictures->len, 2);
  assert_int_equal (ts_document_get_shown_picture (f->document), 0);
  assert_near (get_finish_point (f, 0, 0).x, 10.0, 1e-9);
  assert_near (get_finish_point (f, 0, 1).x, 140.0, 1e-9);
  finished = ts_document_get_finished (f->document, 0);
  assert_non_null (finished);
  assert_int_equal (ts_finished_get_verdict (finished), TS_FINISH_KEPT);
  assert_near (finished->range_achieved, finished->range_planned, 2.0);
  for (guint i = 0; i < finished->n_steps; i++)
    assert_near (finished->step[i].delta_L, 0.0, 2.0);

  open_finished (f, flat);
  assert_int_equal (ts_document_get_plan (f->document)->pictures->len, 2);
  finished = ts_document_get_finished (f->document, 0);
  assert_int_equal (ts_finished_get_verdict (finished), TS_FINISH_MERGED);
  assert_int_equal (finished->step[0].verdict, TS_FINISH_TOO_DARK);
  assert_true (finished->merged[0]);
  assert_true (finished->range_achieved < finished->range_planned - 30.0);
  ts_document_undo (f->document);
  assert_int_equal (ts_finished_get_verdict (ts_document_get_finished (f->document, 0)),
                    TS_FINISH_KEPT);
}

/* All of a surface's runs are laid, and what they say is pooled; each moves by itself. */
static void
test_finish_runs (void **state)
{
  Fixture *f = *state;
  g_autofree char *path = g_build_filename (f->folder, "plan.tonestair", NULL);
  g_autofree char *same = write_picture_at (f->folder, "same.png", 0.8, 150, 255);
  g_autoptr (GError) error = NULL;
  double before, after;

  open_and_draw (f);
  ts_document_add_run (f->document, 0, (TsPoint){ 20.0, 60.0 }, (TsPoint){ 280.0, 60.0 });
  open_finished (f, same);
  assert_int_equal (ts_document_get_plan (f->document)->finish->len, 2);
  before = ts_document_get_finished (f->document, 0)->step[0].achieved.L;
  assert_near (before, ts_document_get_finished (f->document, 0)->step[0].planned.L, 2.0);
  ts_document_move_finish_point (f->document, 0, 1, 0, (TsPoint){ 60.0, 30.0 });
  after = ts_document_get_finished (f->document, 0)->step[0].achieved.L;
  assert_true (after < before - 3.0);
  assert_near (get_finish_point (f, 0, 0).x, 10.0, 1e-9);
  assert_near (get_finish_point (f, 0, 0).y, 50.0, 1e-9);
  assert_true (ts_document_save (f->document, path, &error));
  open_path (f, path);
  assert_int_equal (ts_document_get_plan (f->document)->finish->len, 2);
  /* Colours are saved to a thousandth. */
  assert_near (ts_document_get_finished (f->document, 0)->step[0].achieved.L, after, 0.1);
  ts_document_lay_finish (f->document, 0);
  assert_int_equal (ts_document_get_plan (f->document)->finish->len, 2);
  assert_near (ts_document_get_finished (f->document, 0)->step[0].achieved.L, before, 1e-6);
}

/* Its run can be moved, is saved, and goes with its picture. */
static void
test_finish_run (void **state)
{
  Fixture *f = *state;
  g_autofree char *path = g_build_filename (f->folder, "plan.tonestair", NULL);
  g_autofree char *same = write_picture_at (f->folder, "same.png", 0.8, 150, 255);
  g_autoptr (GError) error = NULL;
  double L;

  open_and_draw (f);
  open_finished (f, same);
  L = ts_document_get_finished (f->document, 0)->step[0].achieved.L;
  ts_document_move_finish_point (f->document, 0, 0, 0, (TsPoint){ 60.0, 50.0 });
  assert_true (ts_document_get_finished (f->document, 0)->step[0].achieved.L < L - 10.0);
  ts_document_move_finish (f->document, 0, 0, 3.0, -4.0);
  assert_near (get_finish_point (f, 0, 0).x, 63.0, 1e-9);
  assert_near (get_finish_point (f, 0, 1).y, 46.0, 1e-9);
  assert_true (ts_document_save (f->document, path, &error));
  open_path (f, path);
  assert_near (get_finish_point (f, 0, 0).x, 63.0, 1e-9);
  assert_true (ts_document_get_finished (f->document, 0)->step[0].achieved.L < L - 10.0);
  ts_document_lay_finish (f->document, 0);
  assert_near (ts_document_get_finished (f->document, 0)->step[0].achieved.L, L, 1e-6);
  ts_document_remove_picture (f->document, 0); /* the only reference */
  assert_int_equal (ts_document_get_plan (f->document)->pictures->len, 2);
  ts_document_remove_picture (f->document, 1);
  assert_int_equal (ts_document_get_plan (f->document)->pictures->len, 1);
  assert_int_equal (ts_document_get_plan (f->document)->finish->len, 0);
  assert_null (ts_document_get_finished (f->document, 0));
  ts_document_undo (f->document);
  assert_near (ts_document_get_finished (f->document, 0)->step[0].achieved.L, L, 1e-6);
}

/* A second reference is shown, holds runs of its own, and takes them along. */
static void
test_pictures (void **state)
{
  Fixture *f = *state;
  g_autofree char *other = write_picture_at (f->folder, "other.png", 0.5, 150, 255);

  open_and_draw (f);
  open_path (f, other);
  assert_int_equal (ts_document_get_shown_picture (f->document), 1);
  assert_int_equal (
    ts_document_add_surface (f->document, (TsPoint){ 10.0, 20.0 }, (TsPoint){ 140.0, 20.0 }), 1);
  ts_document_show_picture (f->document, 0);
  assert_int_equal (ts_document_get_shown_picture (f->document), 0);
  ts_document_remove_picture (f->document, 0);
  assert_int_equal (ts_document_get_shown_picture (f->document), 0);
  assert_null (ts_document_get_result (f->document, 0));
  assert_int_equal (
    ts_surface_get_run (ts_plan_get_surface (ts_document_get_plan (f->document), 1), 0)->picture,
    0);
  assert_non_null (ts_document_get_result (f->document, 1));
}

static void
test_polished_and_paints (void **state)
{
  Fixture *f = *state;

  assert_non_null (ts_document_get_paints (f->document));
  open_and_draw (f);
  assert_ptr_equal (ts_document_get_paints (f->document),
                    ts_document_get_plan (f->document)->paints);
  ts_document_set_polished (f->document, 0, TRUE);
  assert_true (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->polished);
  ts_document_undo (f->document);
  assert_false (ts_plan_get_surface (ts_document_get_plan (f->document), 0)->polished);
}

#define WITH_FIXTURE(f) cmocka_unit_test_setup_teardown (f, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_FIXTURE (test_whole_chain),
    WITH_FIXTURE (test_undo_is_exact),
    WITH_FIXTURE (test_redo_selects),
    WITH_FIXTURE (test_gesture_is_one_step),
    WITH_FIXTURE (test_cancelled_gesture),
    WITH_FIXTURE (test_turned_run),
    WITH_FIXTURE (test_step_verbs),
    WITH_FIXTURE (test_lock),
    WITH_FIXTURE (test_lock_goes_along),
    WITH_FIXTURE (test_accents),
    WITH_FIXTURE (test_out_of_stock),
    WITH_FIXTURE (test_rules),
    WITH_FIXTURE (test_together),
    WITH_FIXTURE (test_tick),
    WITH_FIXTURE (test_nothing_stale),
    WITH_FIXTURE (test_selection_follows),
    WITH_FIXTURE (test_save_and_reopen),
    WITH_FIXTURE (test_missing_and_changed_picture),
    WITH_FIXTURE (test_bad_files),
    WITH_FIXTURE (test_surfaces_move),
    WITH_FIXTURE (test_surface_copied),
    WITH_FIXTURE (test_surface_hidden),
    WITH_FIXTURE (test_finished_figure),
    WITH_FIXTURE (test_finish_run),
    WITH_FIXTURE (test_finish_runs),
    WITH_FIXTURE (test_pictures),
    WITH_FIXTURE (test_polished_and_paints),
  };

  return cmocka_run_group_tests_name ("document", tests, NULL, NULL);
}
