/* test-brief.c: a client's brief: reading it, and its verdicts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-error.h"
#include "checks/ts-check-brief.h"
#include "ts-test.h"

typedef struct
{
  const char *what, *text;
  guint n;
  int code; /* where n is 0 */
} ReadCase;

static const ReadCase read_cases[] = {
  { "plain", "name,L,a,b\nTeal,50,-20,-10\nRust,45,30,35\n", 2, 0 },
  { "other order", "b,a,tolerance,L,name,note\n-10,-20,1.5,50,Teal,\n", 1, 0 },
  { "no a", "name,L,b\nTeal,50,-10\n", 0, TS_ERROR_FORMAT },
  { "no lines", "name,L,a,b\n", 0, TS_ERROR_TOO_FEW },
  { "light above 100", "name,L,a,b\nTeal,101,0,0\n", 0, TS_ERROR_BAD_VALUE },
  { "no number", "name,L,a,b\nTeal,50,x,0\n", 0, TS_ERROR_BAD_VALUE },
  { "nan", "name,L,a,b\nTeal,nan,0,0\n", 0, TS_ERROR_BAD_VALUE },
  { "bad tolerance", "name,L,a,b,tolerance\nTeal,50,0,0,-1\n", 0, TS_ERROR_BAD_VALUE },
};

static void
test_read (void **state)
{
  for (guint i = 0; i < G_N_ELEMENTS (read_cases); i++)
    {
      const ReadCase *c = &read_cases[i];
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) entries = ts_brief_parse (c->text, -1, "brief.csv", &error);

      if (c->n > 0)
        {
          assert_no_error (error);
          assert_int_equal (entries->len, c->n);
          continue;
        }
      assert_null (entries);
      if (!g_error_matches (error, TS_ERROR, c->code))
        fail_msg ("%s: %s", c->what, error->message);
      assert_non_null (strstr (error->message, "brief.csv"));
    }
}

static void
test_values (void **state)
{
  const char *text = "tolerance,name,L,a,b\n3.5,\"Teal, faded\",50,-20,-10\n,,45,30,35\n";
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = ts_brief_parse (text, -1, "brief", &error);
  const TsBriefEntry *first, *second;

  assert_no_error (error);
  first = g_ptr_array_index (entries, 0);
  second = g_ptr_array_index (entries, 1);
  assert_string_equal (first->name, "Teal, faded");
  assert_near (first->lab.L, 50.0, 0.0);
  assert_near (first->lab.a, -20.0, 0.0);
  assert_near (first->lab.b, -10.0, 0.0);
  assert_near (first->tolerance, 3.5, 0.0);
  assert_string_equal (second->name, "Colour 2");
  assert_near (second->tolerance, 2.0, 0.0);
}

static void
test_cgats (void **state)
{
  const char *text = "CGATS.17\nORIGINATOR \"client\"\nNUMBER_OF_FIELDS 5\nBEGIN_DATA_FORMAT\n"
                     "SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nNUMBER_OF_SETS 2\n"
                     "BEGIN_DATA\n1 \"Faded teal\" 50 -20 -10\n2 Rust 45 30 35\nEND_DATA\n";
  const char *lacking = "CGATS.17\nNUMBER_OF_FIELDS 3\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A\n"
                        "END_DATA_FORMAT\nNUMBER_OF_SETS 1\nBEGIN_DATA\n1 50 0\nEND_DATA\n";
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) lacking_error = NULL;
  g_autoptr (GPtrArray) entries = ts_brief_parse (text, -1, "asked.txt", &error);
  const TsBriefEntry *first;

  assert_no_error (error);
  assert_int_equal (entries->len, 2);
  first = g_ptr_array_index (entries, 0);
  assert_string_equal (first->name, "Faded teal");
  assert_near (first->lab.a, -20.0, 0.0);
  assert_near (first->tolerance, 2.0, 0.0);
  assert_null (ts_brief_parse (lacking, -1, "asked.txt", &lacking_error));
  assert_true (g_error_matches (lacking_error, TS_ERROR, TS_ERROR_FORMAT));
}

static void
test_load (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "asked.csv", NULL);
  g_autofree char *missing = g_build_filename (folder, "missing.csv", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) missing_error = NULL;
  g_autoptr (GPtrArray) entries = NULL;

  assert_true (g_file_set_contents (path, "name,L,a,b\nTeal,50,-20,-10\n", -1, NULL));
  entries = ts_brief_load (path, &error);
  assert_no_error (error);
  assert_int_equal (entries->len, 1);
  assert_null (ts_brief_load (missing, &missing_error));
  assert_true (g_error_matches (missing_error, TS_ERROR, TS_ERROR_NOT_FOUND));
  ts_test_remove_folder (folder);
}

static void
test_verdicts (void **state)
{
  assert_int_equal (ts_brief_check (1.0, 0.5, 2.0), TS_BRIEF_PASSES);
  assert_int_equal (ts_brief_check (1.0, 1.0, 2.0), TS_BRIEF_PASSES);
  assert_int_equal (ts_brief_check (1.0, 1.5, 2.0), TS_BRIEF_MAY_PASS);
  assert_int_equal (ts_brief_check (2.0, 0.5, 2.0), TS_BRIEF_MAY_PASS);
  assert_int_equal (ts_brief_check (2.1, 0.0, 2.0), TS_BRIEF_FAILS);
  assert_int_equal (ts_brief_check ((double) NAN, 0.0, 2.0), TS_BRIEF_FAILS);
  assert_string_equal (ts_brief_verdict_to_id (TS_BRIEF_FAILS), "fails");
  assert_string_equal (ts_brief_verdict_to_id (TS_BRIEF_MAY_PASS), "may_pass");
  assert_string_equal (ts_brief_verdict_to_id (TS_BRIEF_PASSES), "passes");
}

/* sRGB of the specification, IEC 61966-2-1: white is D65, told for D50 by Bradford; 0x808080 has L*
 * 53.585 (from its luminance, 0.21586). */
static void
test_words_with_codes (void **state)
{
  const char *letter =
    "Hello, these are the colours:\n\nFaded teal: #5F8A8B\n#808080 (belt)\n#ffffff\nBye";
  g_autoptr (GPtrArray) lines = ts_brief_parse (letter, -1, "letter", NULL);
  const TsBriefEntry *entry;

  assert_non_null (lines);
  assert_int_equal (lines->len, 3);
  entry = g_ptr_array_index (lines, 0);
  assert_string_equal (entry->name, "Faded teal");
  assert_true (entry->lab.a < -8.0 && entry->lab.b < 0.0);
  entry = g_ptr_array_index (lines, 1);
  assert_string_equal (entry->name, "belt");
  assert_near (entry->lab.L, 53.585, 0.01);
  assert_near (entry->lab.a, 0.0, 0.02);
  entry = g_ptr_array_index (lines, 2);
  assert_string_equal (entry->name, "Colour 3");
  assert_near (entry->lab.L, 100.0, 0.01);
  assert_null (ts_brief_entry_from_words ("L 60, a 5, b 12, number #12345"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_read),     cmocka_unit_test (test_values),
    cmocka_unit_test (test_cgats),    cmocka_unit_test (test_load),
    cmocka_unit_test (test_verdicts), cmocka_unit_test (test_words_with_codes),
  };

  return cmocka_run_group_tests_name ("checks/brief", tests, NULL, NULL);
}
