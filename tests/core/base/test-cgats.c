/* test-cgats.c: tables of colour data as CGATS text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-error.h"

/* Laid out as ISO 28178:2009, 4 describes: identifier, keywords, fields, data. */
static const char sample[] = "CGATS.17\r\n"
                             "ORIGINATOR \"the \"\"other\"\" side\" # a remark\r\n"
                             "KEYWORD \"OWN\"\r\n"
                             "OWN 3\r\n"
                             "NUMBER_OF_FIELDS 4\r\n"
                             "BEGIN_DATA_FORMAT\r\n"
                             "SAMPLE_ID LAB_L\tLAB_A LAB_B\r\n"
                             "END_DATA_FORMAT\r\n"
                             "NUMBER_OF_SETS 2\r\n"
                             "BEGIN_DATA\r\n"
                             "# none\r\n"
                             "\"patch 1\" 50.5 -3 1e1\r\n"
                             "2 101\r\n"
                             "   0.1 x\r\n"
                             "END_DATA\r\n"
                             "CGATS.17\r\nBEGIN_DATA \"\r\n";

static void
test_sample (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCgats) table = ts_cgats_parse (sample, -1, "x.txt", &error);
  double n;

  assert_no_error (error);
  assert_true (ts_cgats_looks_like (sample, -1));
  assert_false (ts_cgats_looks_like ("name,L,a,b\n", -1));
  assert_int_equal (ts_cgats_get_n_rows (table), 2);
  assert_int_equal (ts_cgats_get_n_fields (table), 4);
  assert_string_equal (ts_cgats_get_field (table, 3), "LAB_B");
  assert_int_equal (ts_cgats_find_field (table, "lab_b"), 3);
  assert_int_equal (ts_cgats_find_field (table, "XYZ_X"), -1);
  assert_string_equal (ts_cgats_get_keyword (table, "ORIGINATOR"), "the \"other\" side");
  assert_string_equal (ts_cgats_get_keyword (table, "OWN"), "3");
  assert_null (ts_cgats_get_keyword (table, "KEYWORD"));
  assert_string_equal (ts_cgats_get_cell (table, 0, 0), "patch 1");
  assert_string_equal (ts_cgats_get_cell (table, 1, -1), "");
  assert_int_equal (ts_cgats_get_line (table, 0), 12);
  assert_int_equal (ts_cgats_get_line (table, 1), 13);
  assert_true (ts_cgats_get_number (table, 0, 3, 0, 10, &n, &error));
  assert_near (n, 10.0, 0.0);
  assert_false (ts_cgats_get_number (table, 1, 1, 0, 100, &n, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
  assert_non_null (strstr (error->message, "line 13, field LAB_L"));
  g_clear_error (&error);
  assert_false (ts_cgats_get_number (table, 1, 3, 0, 100, &n, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
}

static void
test_refused (void **state)
{
  static const struct
  {
    const char *text, *message;
  } cases[] = {
    { "", "no BEGIN_DATA" },
    { "name,L,a,b\n1,2,3,4\n", "no BEGIN_DATA" },
    { "CGATS\nBEGIN_DATA\n1\nEND_DATA\n", "line 2" },
    { "CGATS\nBEGIN_DATA_FORMAT\nEND_DATA_FORMAT\n", "empty" },
    { "CGATS\nBEGIN_DATA_FORMAT\nA B\n", "END_DATA_FORMAT is missing" },
    { "CGATS\nBEGIN_DATA_FORMAT\nA a\nEND_DATA_FORMAT\n", "twice" },
    { "BEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\n3 4\n", "END_DATA is missing" },
    { "BEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\n3\n4 5\nEND_DATA", "line 6" },
    { "NUMBER_OF_SETS 3\nBEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\nEND_DATA",
      "cut short" },
    { "CGATS\nX \"open\n", "line 2" },
    { "BEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 \"2\n3 4\nEND_DATA", "line 5" },
    { "CGATS\nX \xff\n", "line 2" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      assert_null (ts_cgats_parse (cases[i].text, -1, "x.txt", &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_FORMAT));
      if (strstr (error->message, cases[i].message) == NULL)
        fail_msg ("“%s” does not say “%s”", error->message, cases[i].message);
    }
}

static void
test_damage (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  guint read = 0, refused = 0;

  for (int i = 0; i < 3000; i++)
    {
      gsize n = sizeof sample - 1;
      g_autofree char *copy = g_memdup2 (sample, n);
      g_autoptr (TsCgats) table = NULL;

      if (i % 2 == 0)
        n = (gsize) g_rand_int_range (random, 0, (int) n);
      copy[g_rand_int_range (random, 0, sizeof sample - 1)] =
        (char) g_rand_int_range (random, 0, 256);
      copy = g_realloc (copy, MAX (n, 1));
      table = ts_cgats_parse (copy, (gssize) n, "x", NULL);
      (table != NULL ? (read++) : (refused++));
    }
  assert_true (read > 100 && refused > 100);
}

static void
test_written_cells (void **state)
{
  static const char *const cells[] = { "plain", "two words", "say \"hi\"", "", "#1", "é" };
  g_autoptr (GString) text =
    g_string_new ("CGATS\nBEGIN_DATA_FORMAT\nA B C D E F\nEND_DATA_FORMAT\nBEGIN_DATA\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCgats) table = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    ts_cgats_append_cell (text, cells[i], i == 0);
  g_string_append (text, "\nEND_DATA\n");
  table = ts_cgats_parse (text->str, -1, "x.txt", &error);
  assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    assert_string_equal (ts_cgats_get_cell (table, 0, (int) i), cells[i]);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_sample),
    cmocka_unit_test (test_refused),
    cmocka_unit_test (test_damage),
    cmocka_unit_test (test_written_cells),
  };

  return cmocka_run_group_tests_name ("base/cgats", tests, NULL, NULL);
}
