/* test-plan-file.c: plans as files: the same again, and nothing lost
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <glib/gstdio.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-file.h"
#include "plan/ts-plan-file.h"

static TsSurface *
make_surface (void)
{
  const TsPoint line[] = { { 10.123456, 20.5 }, { 400.0 / 3.0, 250.25 } };
  TsSurface *surface = ts_surface_new ("Coat, “waxed”");
  TsRun *run = ts_run_new (0, line, 2, 6.5);

  for (guint i = 0; i < 9; i++)
    {
      TsSpot spot = { .x = 10.0 + 13.7 * i,
                      .y = 20.0 + 7.1 * i,
                      .radius = 6.5,
                      .position = i / 8.0,
                      .lab = { 70.0 - 6.123456 * i, 5.0 / (i + 1.0), -3.3 },
                      .spread = 1.0 / 3.0,
                      .pixels = 132,
                      .clipped_share = 0.0123456,
                      .standard_error = 0.21 };

      g_array_append_val (run->spots, spot);
    }
  g_ptr_array_add (surface->runs, run);
  surface->stair.spacing = TS_SPACING_BY_HAND;
  for (guint i = 0; i < surface->stair.n_steps; i++)
    {
      surface->stair.position[i] = i / 7.0;
      surface->stair.shift[i] = 0.25 * i;
    }
  surface->stair.has_range = TRUE;
  surface->stair.range_light = 90.0;
  surface->stair.range_dark = 15.0;
  surface->locked[3] = g_strdup ("2 Chalk White + 1 Deep Teal");
  g_ptr_array_add (surface->accents, ts_accent_new ("lip", 2, "Signal Red", 3));
  g_ptr_array_add (surface->accents, ts_accent_new ("glint, “wet”", 0, "Chalk White", 1));
  return surface;
}

static TsSurface *
make_outlined (void)
{
  const TsPoint corners[] = { { 10.5, 20.0 }, { 100.12, 20.0 }, { 60.0, 90.0 } };
  TsSurface *surface = ts_surface_new ("Belt");

  surface->outline = ts_outline_new (0, corners, 3);
  surface->outline->pixels = 4321;
  surface->outline->left_out = 1.0 / 3.0;
  for (guint i = 0; i < TS_OUTLINE_TONES; i++)
    {
      TsTone tone = { { 80.0 - i, 4.0, i / -7.0 }, 0.25 };

      g_array_append_val (surface->outline->tones, tone);
    }
  surface->finish_outline = ts_outline_copy (surface->outline);
  g_array_index (surface->finish_outline->points, TsPoint, 1).x = 77.5;
  surface->finish_outline->pixels = 99;
  surface->stair.spacing = TS_SPACING_AREA;
  surface->distance = 450.0;
  surface->stair_of = 0;
  return surface;
}

static void
set_rule (TsPlan *plan, const char *paint, TsPaintRule rule)
{
  g_autoptr (TsPaintRules) before = plan->rules;

  plan->rules = ts_paint_rules_with (before, paint, rule);
}

static void
set_mixing (TsPlan *plan)
{
  TsSurface *surface = ts_plan_get_surface (plan, 0);

  surface->together = TS_TOGETHER_BETWEEN;
  surface->most_paints = 7;
  surface->area = 812.5;
  surface->coats = 2.5;
  plan->mix.most_paints = 9;
  plan->mix.opaque_only = TRUE;
  plan->mix.thinning = 0.5;
  plan->mix.drop = 33.3;
  plan->medium = g_strdup ("Matt Medium");
  plan->card_work = TRUE;
  set_rule (plan, "Chalk White", TS_RULE_NEEDED);
  set_rule (plan, "Lamp Black", TS_RULE_LEFT_OUT);
  set_rule (plan, "Deep Teal", TS_RULE_ONLY);
  set_rule (plan, "Umber", TS_RULE_ONLY);
}

static TsPlan *
make_plan (void)
{
  TsPlan *plan = ts_plan_new ();
  TsPicture *picture = ts_picture_new ("/somewhere/pictures/keeper.jpg", TS_ROLE_REFERENCE);

  g_free (plan->title);
  plan->title = g_strdup ("Keeper\nof the light");
  picture->sha256 = g_strdup ("00ff");
  picture->size = 123456789;
  picture->correction.kind = TS_CORRECTION_CARD;
  picture->correction.card_x = 900.0;
  picture->correction.card_y = 300.0;
  picture->correction.card_radius = 40.0;
  g_ptr_array_add (plan->pictures, picture);
  picture->has_light = TRUE;
  picture->light_from = (TsPoint){ 12.0, 34.5 };
  picture->light_to = (TsPoint){ 60.0, 80.25 };
  g_ptr_array_add (plan->surfaces, make_surface ());
  g_ptr_array_add (plan->surfaces, make_outlined ());
  ts_plan_set_touch (plan, 1, 0, TRUE);
  set_mixing (plan);
  g_ptr_array_add (plan->brief,
                   ts_brief_line_new ("Faded teal", (TsLab){ 50.0, -20.0, -5.0 }, 3.0));
  return plan;
}

/* What was decided about mixes comes back, and a plan in which nothing was says nothing of it. */
static void
test_mixing_survives (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsPlan) plain = ts_plan_new ();
  g_autofree char *text = ts_plan_to_text (plan, "/somewhere");
  g_autofree char *plain_text = ts_plan_to_text (plain, "/somewhere");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) again = ts_plan_from_text (text, -1, "/somewhere", "it", &error);
  const TsSurface *surface;

  assert_no_error (error);
  surface = ts_plan_get_surface (again, 0);
  assert_int_equal (surface->together, TS_TOGETHER_BETWEEN);
  assert_int_equal (surface->most_paints, 7);
  assert_near (surface->area, 812.5, 1e-9);
  assert_near (surface->coats, 2.5, 1e-9);
  assert_int_equal (again->mix.most_paints, 9);
  assert_true (again->mix.opaque_only);
  assert_near (again->mix.thinning, 0.5, 1e-9);
  assert_near (again->mix.drop, 33.3, 1e-9);
  assert_string_equal (again->medium, "Matt Medium");
  assert_true (again->card_work);
  assert_true (ts_paint_rules_is_equal (again->rules, plan->rules));
  assert_int_equal (ts_paint_rules_get (again->rules, "lamp black"), TS_RULE_LEFT_OUT);
  assert_non_null (strstr (text, "\"must_hold\""));
  assert_null (strstr (plain_text, "must_hold"));
  assert_null (strstr (plain_text, "drop_mm3"));
  assert_null (strstr (plain_text, "together"));
  assert_null (strstr (plain_text, "card_has_work"));
}

static void
test_same_bytes (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *first = g_build_filename (folder, "one.tonestair", NULL);
  g_autofree char *second = g_build_filename (folder, "two.tonestair", NULL);
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsPlan) again = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) a = NULL, b = NULL;

  assert_true (ts_plan_save (plan, first, &error));
  again = ts_plan_load (first, &error);
  assert_no_error (error);
  assert_true (ts_plan_save (again, second, &error));
  a = ts_file_read (first, 1 << 20, &error);
  b = ts_file_read (second, 1 << 20, &error);
  assert_no_error (error);
  assert_true (g_bytes_get_size (a) > 1000);
  assert_true (g_bytes_equal (a, b));
  ts_test_remove_folder (folder);
}

static void
test_keeps_values (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autofree char *text = ts_plan_to_text (plan, "/somewhere");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) again = ts_plan_from_text (text, -1, "/somewhere", "test", &error);
  const TsSurface *surface;
  const TsSpot *spot;

  assert_no_error (error);
  assert_string_equal (again->title, plan->title);
  assert_string_equal (ts_plan_get_picture (again, 0)->path, "/somewhere/pictures/keeper.jpg");
  assert_non_null (strstr (text, "\"pictures/keeper.jpg\""));
  assert_int_equal (ts_plan_get_picture (again, 0)->size, 123456789);
  surface = ts_plan_get_surface (again, 0);
  assert_string_equal (surface->name, "Coat, “waxed”");
  assert_string_equal (surface->locked[3], "2 Chalk White + 1 Deep Teal");
  assert_null (surface->locked[2]);
  assert_near (surface->stair.shift[3], 0.75, 0.0);
  spot = &g_array_index (ts_surface_get_run (surface, 0)->spots, TsSpot, 4);
  assert_near (spot->lab.L, 70.0 - 6.123456 * 4.0, 5e-4);
  assert_near (spot->position, 0.5, 0.0);
  assert_int_equal (spot->pixels, 132);
}

/* Names of files hold any bytes but JSON must not; a name may also look like an escaped one. */
static void
test_keeps_odd_paths (void **state)
{
  static const char *const paths[] = { "/somewhere/caf\xe9 \xff%41.jpg", "/else/caf\xe9.jpg",
                                       "/somewhere/file:%41.jpg", "/somewhere/100%41 é.jpg" };

  for (guint i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      g_autoptr (TsPlan) plan = make_plan ();
      g_autoptr (TsPlan) again = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL;

      g_free (ts_plan_get_picture (plan, 0)->path);
      ts_plan_get_picture (plan, 0)->path = g_strdup (paths[i]);
      text = ts_plan_to_text (plan, "/somewhere");
      assert_true (g_utf8_validate (text, -1, NULL));
      again = ts_plan_from_text (text, -1, "/somewhere", "test", &error);
      assert_no_error (error);
      assert_string_equal (ts_plan_get_picture (again, 0)->path, paths[i]);
    }
}

/* Steps count from 1 in the file; what a newer version says of an accent stays. */
static void
test_keeps_accents (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autofree char *text = ts_plan_to_text (plan, "/somewhere");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) again = NULL, copy = NULL;
  g_autofree char *newer = NULL, *back = NULL, *bad = NULL;
  char *place = strstr (text, "\"paint\": \"Signal Red\"");
  const TsAccent *accent;

  assert_non_null (place);
  newer = g_strdup_printf ("%.*s\"where\": \"mouth\", %s", (int) (place - text), text, place);
  again = ts_plan_from_text (newer, -1, "/somewhere", "test", &error);
  assert_no_error (error);
  copy = ts_plan_copy (again);
  assert_int_equal (ts_plan_get_surface (copy, 0)->accents->len, 2);
  accent = g_ptr_array_index (ts_plan_get_surface (copy, 0)->accents, 0);
  assert_string_equal (accent->name, "lip");
  assert_int_equal (accent->step, 2);
  assert_string_equal (accent->paint, "Signal Red");
  assert_int_equal (accent->parts, 3);
  back = ts_plan_to_text (copy, "/somewhere");
  assert_non_null (strstr (back, "\"where\": \"mouth\""));
  assert_non_null (strstr (back, "\"step\": 3"));
  /* No such step can be. */
  place = strstr (text, "\"step\": 3");
  bad = g_strdup_printf ("%.*s\"step\": 0%s", (int) (place - text), text,
                         place + strlen ("\"step\": 3"));
  assert_null (ts_plan_from_text (bad, -1, "/somewhere", "test", &error));
  assert_non_null (strstr (error->message, "accents[0]"));
}

static void
test_keeps_outlines (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autofree char *text = ts_plan_to_text (plan, "/somewhere");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) again = ts_plan_from_text (text, -1, "/somewhere", "test", &error);
  const TsSurface *surface;

  assert_no_error (error);
  surface = ts_plan_get_surface (again, 1);
  assert_non_null (surface->outline);
  assert_int_equal (surface->outline->points->len, 3);
  assert_near (g_array_index (surface->outline->points, TsPoint, 1).x, 100.12, 1e-9);
  assert_int_equal (surface->outline->tones->len, TS_OUTLINE_TONES);
  assert_near (g_array_index (surface->outline->tones, TsTone, 9).lab.L, 71.0, 0.0);
  assert_int_equal (surface->outline->pixels, 4321);
  assert_near (surface->outline->left_out, 1.0 / 3.0, 1e-5);
  assert_non_null (surface->finish_outline);
  assert_near (g_array_index (surface->finish_outline->points, TsPoint, 1).x, 77.5, 1e-9);
  assert_int_equal (surface->finish_outline->tones->len, TS_OUTLINE_TONES);
  assert_int_equal (surface->finish_outline->pixels, 99);
  assert_null (ts_plan_get_surface (again, 0)->finish_outline);
  assert_int_equal (surface->stair.spacing, TS_SPACING_AREA);
  assert_near (surface->distance, 450.0, 0.0);
  assert_int_equal (surface->stair_of, 0);
  assert_int_equal (ts_plan_get_surface (again, 0)->stair_of, -1);
  assert_int_equal (ts_plan_get_touch (again, 0, 1), 1);
  assert_true (ts_plan_get_picture (again, 0)->has_light);
  assert_near (ts_plan_get_picture (again, 0)->light_to.y, 80.25, 0.0);
}

/* Several cards, and a chart that lies in another photograph. */
static void
test_keeps_corrections (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  TsPicture *second = ts_picture_new ("/somewhere/pictures/back.jpg", TS_ROLE_REFERENCE);
  TsCorrectionSettings *cards = &ts_plan_get_picture (plan, 0)->correction;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) again = NULL;
  g_autofree char *text = NULL;

  cards->more_card[0] = (TsCardPlace){ 950.0, 310.0, 12.5, 20.5 };
  cards->more_card[1] = (TsCardPlace){ 990.0, 320.0, 12.5, 95.0 };
  cards->n_more_cards = 2;
  second->correction =
    (TsCorrectionSettings){ .kind = TS_CORRECTION_CHART,
                            .card_lightness = 49.5,
                            .corner = { { 1, 2 }, { 60, 2 }, { 60, 40 }, { 1, 40 } },
                            .chart = g_strdup ("earlier"),
                            .source = g_strdup ("/somewhere/pictures/chart.jpg"),
                            .match_there = { .x = 5, .y = 6, .radius = 3 },
                            .match_here = { .x = 7, .y = 8, .radius = 4 } };
  g_ptr_array_add (plan->pictures, second);
  text = ts_plan_to_text (plan, "/somewhere");
  again = ts_plan_from_text (text, -1, "/elsewhere", "test", &error);
  assert_no_error (error);
  assert_true (ts_correction_settings_equal (cards, &ts_plan_get_picture (again, 0)->correction));
  assert_string_equal (ts_plan_get_picture (again, 1)->correction.source,
                       "/elsewhere/pictures/chart.jpg");
  assert_false (ts_correction_settings_equal (&second->correction,
                                              &ts_plan_get_picture (again, 1)->correction));
  g_free (second->correction.source);
  second->correction.source = g_strdup ("/elsewhere/pictures/chart.jpg");
  assert_true (ts_correction_settings_equal (&second->correction,
                                             &ts_plan_get_picture (again, 1)->correction));
}

/* A plan that moves with its pictures finds them in the new place. */
static void
test_moves_with_pictures (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autofree char *text = ts_plan_to_text (plan, "/somewhere/plans");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) again = ts_plan_from_text (text, -1, "/elsewhere/plans", "test", &error);

  assert_no_error (error);
  assert_string_equal (ts_plan_get_picture (again, 0)->path, "/elsewhere/pictures/keeper.jpg");
}

static void
test_unknown_members_survive (void **state)
{
  static const char text[] =
    "{\"format\":\"tonestair-plan\",\"version\":7,\"later\":{\"deep\":[1,2,{\"x\":null}]},"
    "\"pictures\":[{\"path\":\"a.png\",\"tilt\":0.25,\"correction\":{\"kind\":\"none\",\"lens\":2}}"
    "],"
    "\"mix\":{\"parts_a_mix\":6,\"drops\":\"large\"},"
    "\"surfaces\":[{\"name\":\"Skin\",\"gloss\":true,\"stair\":{\"steps\":5,\"bend\":3},"
    "\"runs\":[{\"picture\":0,\"points\":[0,0,9,9],\"radius\":2,\"spots\":[],\"kind\":\"new\"}],"
    "\"finish_outline\":{\"picture\":0,\"points\":[0,0,9,9,0,9],\"weave\":\"twill\"}}],"
    "\"brief\":[{\"name\":\"b\",\"lab\":[50,0,0],\"sheen\":\"matt\"}]}";
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) plan = ts_plan_from_text (text, -1, "/x", "test", &error);
  g_autoptr (TsPlan) copy = NULL;
  g_autofree char *out = NULL;

  assert_no_error (error);
  copy = ts_plan_copy (plan);
  out = ts_plan_to_text (copy, "/x");
  assert_non_null (strstr (out, "\"later\""));
  assert_non_null (strstr (out, "\"deep\""));
  assert_non_null (strstr (out, "\"tilt\": 0.25"));
  assert_non_null (strstr (out, "\"gloss\": true"));
  assert_non_null (strstr (out, "\"weave\": \"twill\""));
  assert_non_null (strstr (out, "\"lens\": 2"));
  assert_non_null (strstr (out, "\"drops\": \"large\""));
  assert_non_null (strstr (out, "\"bend\": 3"));
  assert_non_null (strstr (out, "\"steps\": 5"));
  assert_non_null (strstr (out, "\"kind\": \"new\""));
  assert_non_null (strstr (out, "\"sheen\": \"matt\""));
}

typedef struct
{
  const char *name;
  const char *text;
  const char *says; /* must stand in the message */
} BadCase;

static const BadCase bad_cases[] = {
  { "outline of two corners",
    "{\"format\":\"tonestair-plan\",\"pictures\":[{\"path\":\"a.png\"}],\"surfaces\":[{\"name\":"
    "\"s\",\"outline\":{"
    "\"picture\":0,\"points\":[1,1,2,2]}}]}",
    "surfaces[0].outline.points" },
  { "finished outline on no picture",
    "{\"format\":\"tonestair-plan\",\"pictures\":[{\"path\":\"a.png\"}],\"surfaces\":[{\"name\":"
    "\"s\",\"finish_outline\":{"
    "\"picture\":1,\"points\":[1,1,2,2,3,1]}}]}",
    "surfaces[0].finish_outline" },
  { "tone of three numbers",
    "{\"format\":\"tonestair-plan\",\"pictures\":[{\"path\":\"a.png\"}],\"surfaces\":[{\"name\":"
    "\"s\",\"outline\":{"
    "\"picture\":0,\"points\":[1,1,2,2,3,1],\"tones\":[[1,2,3]]}}]}",
    "surfaces[0].outline.tones[0]" },
  { "surface that touches itself",
    "{\"format\":\"tonestair-plan\",\"surfaces\":[{\"name\":\"s\"}],\"touching\":[{\"one\":0,"
    "\"other\":0}]}",
    "touching[0]" },
  { "empty", "", "" },
  { "no JSON", "hello", "" },
  { "an array", "[]", "not a Tonestair plan" },
  { "another format", "{\"format\":\"x\"}", "not a Tonestair plan" },
  { "cut off", "{\"format\":\"tonestair-plan\",\"pictures\":[", "" },
  { "picture without a path", "{\"format\":\"tonestair-plan\",\"pictures\":[{}]}", "pictures[0]" },
  { "unknown role",
    "{\"format\":\"tonestair-plan\",\"pictures\":[{\"path\":\"a\",\"role\":\"q\"}]}",
    "pictures[0].role" },
  { "surfaces no array", "{\"format\":\"tonestair-plan\",\"surfaces\":3}", "surfaces" },
  { "run on no picture",
    "{\"format\":\"tonestair-plan\",\"surfaces\":[{\"runs\":[{\"picture\":0,\"points\":[0,0,1,1],"
    "\"radius\":1}]}]}",
    "runs[0].picture" },
  { "one point",
    "{\"format\":\"tonestair-plan\",\"pictures\":[{\"path\":\"a\"}],\"surfaces\":[{\"runs\":["
    "{\"picture\":0,\"points\":[0,0],\"radius\":1}]}]}",
    "points" },
  { "a spot of words",
    "{\"format\":\"tonestair-plan\",\"pictures\":[{\"path\":\"a\"}],\"surfaces\":[{\"runs\":["
    "{\"picture\":0,\"points\":[0,0,1,1],\"radius\":1,\"spots\":[[1,2,\"3\",4,5,6,7,8,9,10,11]]}]}]"
    "}",
    "spots[0]" },
  { "1e999", "{\"format\":\"tonestair-plan\",\"figure_height_mm\":1e999}", "figure_height_mm" },
  { "seventeen steps", "{\"format\":\"tonestair-plan\",\"surfaces\":[{\"stair\":{\"steps\":17}}]}",
    "stair.steps" },
  { "spots in another order", "{\"format\":\"tonestair-plan\",\"spot_columns\":[\"y\",\"x\"]}",
    "spot_columns[0]" },
  { "paints that are none",
    "{\"format\":\"tonestair-plan\",\"paints\":{\"table\":[\"a,b\",\"1,2\"]}}", "" },
};

static void
test_bad (void **state)
{
  const BadCase *c = *state;
  g_autoptr (GError) error = NULL;
  TsPlan *plan = ts_plan_from_text (c->text, -1, "/x", "test", &error);

  assert_null (plan);
  assert_non_null (error);
  assert_int_equal (error->domain, TS_ERROR);
  if (strstr (error->message, c->says) == NULL)
    fail_msg ("“%s” does not name “%s”", error->message, c->says);
}

/* Any part of a plan's text that is cut off or spoilt is refused or read, never a crash. */
static void
test_spoilt (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autofree char *text = ts_plan_to_text (plan, "/x");
  gsize length = strlen (text);
  guint32 seed = 1;
  guint refused = 0;

  for (guint i = 0; i < 600; i++)
    {
      g_autofree char *copy = g_strdup (text);
      g_autoptr (GError) error = NULL;
      TsPlan *got;

      seed = seed * 1664525 + 1013904223;
      copy[(seed >> 8) % length] = (char) (seed >> 3);
      got = ts_plan_from_text (copy, (gssize) (i % 3 == 0 ? (seed >> 8) % length : length), "/x",
                               "test", &error);
      assert_true ((got == NULL) == (error != NULL));
      refused += got == NULL;
      g_clear_pointer (&got, ts_plan_unref);
    }
  assert_in_range (refused, 200, 599);
}

static void
test_backup (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "p.tonestair", NULL);
  g_autofree char *backup = g_strconcat (path, "~", NULL);
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsPlan) old = NULL;
  g_autoptr (GError) error = NULL;

  assert_true (ts_plan_save (plan, path, &error));
  g_free (plan->title);
  plan->title = g_strdup ("second");
  assert_true (ts_plan_save (plan, path, &error));
  old = ts_plan_load (backup, &error);
  assert_no_error (error);
  assert_string_equal (old->title, "Keeper\nof the light");
  /* Where the plan is spoilt, it is the mend. */
  assert_true (ts_file_save (path, "{\n\"format\" 1", 12, TS_FILE_SAVE_PLAIN, NULL));
  assert_null (ts_plan_load (path, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_FORMAT));
  assert_non_null (strstr (error->message, "line 2"));
  assert_non_null (strstr (error->message, "p.tonestair~"));
  ts_test_remove_folder (folder);
}

/* The demo's plan is as the program writes it. */
static void
test_demo_plan (void **state)
{
  g_autofree char *path = ts_test_source ("data/demo/lighthouse.tonestair");
  g_autofree char *folder = ts_test_source ("data/demo");
  g_autofree char *text = NULL, *again = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) plan = ts_plan_load (path, &error);

  assert_no_error (error);
  assert_true (g_file_get_contents (path, &text, NULL, NULL));
  again = ts_plan_to_text (plan, folder);
  assert_string_equal (text, again);
}

int
main (void)
{
  const struct CMUnitTest plain[] = {
    cmocka_unit_test (test_same_bytes),
    cmocka_unit_test (test_mixing_survives),
    cmocka_unit_test (test_keeps_values),
    cmocka_unit_test (test_keeps_odd_paths),
    cmocka_unit_test (test_keeps_accents),
    cmocka_unit_test (test_keeps_outlines),
    cmocka_unit_test (test_keeps_corrections),
    cmocka_unit_test (test_moves_with_pictures),
    cmocka_unit_test (test_unknown_members_survive),
    cmocka_unit_test (test_spoilt),
    cmocka_unit_test (test_backup),
    cmocka_unit_test (test_demo_plan),
  };
  struct CMUnitTest tests[G_N_ELEMENTS (plain) + G_N_ELEMENTS (bad_cases)];

  memcpy (tests, plain, sizeof plain);
  for (gsize i = 0; i < G_N_ELEMENTS (bad_cases); i++)
    tests[G_N_ELEMENTS (plain) + i] =
      (struct CMUnitTest){ bad_cases[i].name, test_bad, NULL, NULL, (void *) &bad_cases[i] };
  return cmocka_run_group_tests_name ("plan/file", tests, NULL, NULL);
}
