/* test-numbers.c: files are the same whatever the painter's language and the form of its numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * with-german.sh gives it a German locale, and TONESTAIR_LOCALE a language in which every text
 * differs.
 */
#include "ts-test.h"

#include <libintl.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "card/ts-card.h"
#include "checks/ts-check-brief.h"
#include "paint/ts-paint-cgats.h"
#include "plan/ts-pipeline.h"
#include "plan/ts-plan-file.h"

#define N_FILES 4

typedef struct
{
  char *file[N_FILES]; /* owned: what would be written */
} Files;

static void
files_clear (Files *self)
{
  for (guint i = 0; i < N_FILES; i++)
    g_free (self->file[i]);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Files, files_clear)

/* What a brief says, not what it looks like. */
static void
check_brief (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) lines =
    ts_brief_parse ("name,L,a,b,tolerance\nred,50.25,1.5,-3.75,2.5\n", -1, "brief", &error);
  const TsBriefEntry *line;

  assert_no_error (error);
  line = g_ptr_array_index (lines, 0);
  assert_near (line->lab.L, 50.25, 0.0);
  assert_near (line->lab.a, 1.5, 0.0);
  assert_near (line->lab.b, -3.75, 0.0);
  assert_near (line->tolerance, 2.5, 0.0);
}

/* Reads the demo and writes all that can be written of it. */
static Files
write_all (void)
{
  g_autofree char *plan_path = ts_test_source ("data/demo/lighthouse.tonestair");
  g_autofree char *paints_path = ts_test_source ("data/demo/lighthouse-paints.csv");
  g_autofree char *folder = ts_test_source ("data/demo");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPlan) plan = ts_plan_load (plan_path, &error);
  g_autoptr (TsPaintSet) paints = ts_paint_set_load (paints_path, &error);
  g_autoptr (GPtrArray) results = NULL;
  g_autoptr (TsCard) card = NULL;

  assert_no_error (error);
  check_brief ();
  results = ts_pipeline_run (plan, NULL, NULL, NULL, &error);
  assert_no_error (error);
  card = ts_card_new (plan, results, NULL, "today", TS_PAPER_A4, TS_LENGTH_CENTIMETRES);
  return (Files){ { ts_plan_to_text (plan, folder), ts_paint_set_to_csv (paints),
                    ts_paint_set_to_cgats (paints), ts_card_to_csv (card) } };
}

static void
assert_same (const Files *got, const Files *want)
{
  for (guint i = 0; i < N_FILES; i++)
    {
      assert_true (strlen (want->file[i]) > 20);
      assert_string_equal (got->file[i], want->file[i]);
    }
}

static void
take_locale (const char *locale)
{
  if (setlocale (LC_ALL, locale) == NULL)
    fail_msg ("there is no locale %s", locale);
}

static void
test_decimal_commas (void **state)
{
  g_auto (Files) plain = write_all (), german = { { NULL } };
  char number[8];

  take_locale ("de_DE.UTF-8");
  snprintf (number, sizeof number, "%.1f", 0.5);
  assert_string_equal (number, "0,5"); /* or this would test nothing */
  german = write_all ();
  take_locale ("C");
  assert_same (&german, &plain);
}

static void
test_another_language (void **state)
{
  g_auto (Files) plain = write_all (), other = { { NULL } };

  take_locale ("de_DE.UTF-8");
  g_setenv ("LANGUAGE", "pseudo", TRUE);
  bindtextdomain ("tonestair", g_getenv ("TONESTAIR_LOCALE"));
  textdomain ("tonestair");
  assert_string_not_equal (gettext ("no mix"), "no mix");
  other = write_all ();
  textdomain ("messages");
  take_locale ("C");
  assert_same (&other, &plain);
}

int
main (void)
{
  const struct CMUnitTest tests[] = { cmocka_unit_test (test_decimal_commas),
                                      cmocka_unit_test (test_another_language) };

  return cmocka_run_group_tests_name ("words/numbers", tests, NULL, NULL);
}
