/* test-csv.c: tables in comma-separated text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"

typedef struct
{
  const char *name;
  const char *text;
  gssize length; /* -1 = to the zero byte */
  int code;      /* -1 = read */
  const char *cells[3][3];
  const char *message; /* part of it, where refused */
} Case;

/* clang-format off */
static const Case cases[] = {
  { "plain", "a,b,c\n1,2,3\n4,5,6\n", -1, -1, { { "a", "b", "c" }, { "1", "2", "3" }, { "4", "5", "6" } }, NULL },
  { "crlf, no end", "a,b\r\n1,2", -1, -1, { { "a", "b", "" }, { "1", "2", "" } }, NULL },
  { "cr alone", "a,b\r1,2\r3,4", -1, -1, { { "a", "b", "" }, { "1", "2", "" }, { "3", "4", "" } }, NULL },
  { "byte order mark", "\xef\xbb\xbf" "a\n1\n", -1, -1, { { "a" }, { "1" } }, NULL },
  { "quoted comma, mark, newline", "a,b\n\"x, y\",\"say \"\"hi\"\"\"\n\"two\r\nlines\",z\n", -1, -1,
    { { "a", "b", "" }, { "x, y", "say \"hi\"", "" }, { "two\r\nlines", "z", "" } }, NULL },
  { "blanks around", " a , b\n \"1\" ,\t2 \n", -1, -1, { { "a", "b", "" }, { "1", "2", "" } }, NULL },
  { "mark inside a bare cell", "a\n6\" brush\n", -1, -1, { { "a" }, { "6\" brush" } }, NULL },
  { "short row, empty row, empty cells", "a,b,c\n1\n\n,,\n,2\n", -1, -1, { { "a", "b", "c" }, { "1", "", "" }, { "", "2", "" } }, NULL },
  { "spare commas at the end", "a,b\n1,2,,\n", -1, -1, { { "a", "b", "" }, { "1", "2", "" } }, NULL },
  { "UTF-8", "größe\nπ\n", -1, -1, { { "größe" }, { "π" } }, NULL },
  { "comment sign after the header", "a\n#1\n", -1, -1, { { "a" }, { "#1" } }, NULL },
  { "nothing", "", -1, TS_ERROR_TOO_FEW, { { NULL } }, "no table" },
  { "comments only", "# x\n\n  \n", -1, TS_ERROR_TOO_FEW, { { NULL } }, "no table" },
  { "open quote", "a,b\n1,2\n\"x,3\n4,5\n", -1, TS_ERROR_FORMAT, { { NULL } }, "line 3" },
  { "text after a quote", "a,b\n\"x\"y,3\n", -1, TS_ERROR_FORMAT, { { NULL } }, "line 2" },
  { "too many cells", "a,b\n1,2\n1,2,3\n", -1, TS_ERROR_FORMAT, { { NULL } }, "line 3" },
  { "same column twice", "a,b,a\n1,2,3\n", -1, TS_ERROR_FORMAT, { { NULL } }, "“a”" },
  { "semicolons", "a;b\n1;2\n", -1, TS_ERROR_UNSUPPORTED, { { NULL } }, "commas" },
  { "not UTF-8", "a,b\n1,2\n\xe9t\xe9,2\n", -1, TS_ERROR_FORMAT, { { NULL } }, "line 3" },
  { "zero byte", "a,b\n1,\0002\n", 8, TS_ERROR_FORMAT, { { NULL } }, "line 2" },
  { "UTF-16", "\xff\xfe" "a\0", 4, TS_ERROR_UNSUPPORTED, { { NULL } }, "UTF-16" },
  { "cut in a character", "a\n\xc3", -1, TS_ERROR_FORMAT, { { NULL } }, "line 2" },
};
/* clang-format on */

static void
test_case (void **state)
{
  const Case *c = *state;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCsv) table = ts_csv_parse (c->text, c->length, "x.csv", &error);

  if (c->code >= 0)
    {
      assert_null (table);
      assert_true (g_error_matches (error, TS_ERROR, c->code));
      assert_non_null (strstr (error->message, c->message));
      assert_non_null (strstr (error->message, "x.csv"));
      return;
    }
  assert_no_error (error);
  for (guint i = 0; i < 3 && c->cells[0][i] != NULL && *c->cells[0][i] != '\0'; i++)
    {
      assert_string_equal (ts_csv_get_header (table, i), c->cells[0][i]);
      assert_int_equal (ts_csv_find_column (table, c->cells[0][i]), (int) i);
    }
  for (guint r = 1; r < 3 && c->cells[r][0] != NULL; r++)
    for (guint i = 0; i < ts_csv_get_n_columns (table); i++)
      assert_string_equal (ts_csv_get_cell (table, r - 1, (int) i), c->cells[r][i]);
  assert_string_equal (ts_csv_get_cell (table, 0, -1), "");
  assert_int_equal (ts_csv_find_column (table, "no such"), -1);
}

static void
test_comments_and_lines (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCsv) table =
    ts_csv_parse ("# surface: k1=0.04\r\n#\n\na,b\n\"1\n2\",x\n\n3,y\n", -1, "x.csv", &error);

  assert_no_error (error);
  assert_int_equal (ts_csv_get_n_comments (table), 2);
  assert_string_equal (ts_csv_get_comment (table, 0), "surface: k1=0.04");
  assert_string_equal (ts_csv_get_comment (table, 1), "");
  assert_int_equal (ts_csv_get_n_rows (table), 2);
  assert_int_equal (ts_csv_get_line (table, 0), 5);
  assert_int_equal (ts_csv_get_line (table, 1), 8);
}

static void
test_numbers (void **state)
{
  static const char *const refused[] = { "",    "nan", "inf",   "0x10", "1,5", "1 2",
                                         "12a", "--1", "1e999", "e",    "101", "-0.1" };
  g_autoptr (GString) text = g_string_new ("n\n12.5\n-0\n1e2\n+3\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCsv) table = NULL;
  double number = 7.0;

  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    g_string_append_printf (text, "\"%s\",\n", refused[i]);
  g_string_replace (text, "n\n", "n,m\n", 1);
  g_string_replace (text, "\"\",\n", "\"\",x\n", 1);
  table = ts_csv_parse (text->str, -1, "x.csv", &error);
  assert_no_error (error);
  for (guint i = 0; i < 4; i++)
    {
      assert_true (ts_csv_get_number (table, i, 0, 0.0, 100.0, &number, &error));
      assert_near (number, ((double[]){ 12.5, 0.0, 100.0, 3.0 })[i], 0.0);
    }
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autofree char *line = g_strdup_printf ("line %u, column “n”", i + 6);

      number = 7.0;
      assert_false (ts_csv_get_number (table, i + 4, 0, 0.0, 100.0, &number, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
      assert_non_null (strstr (error->message, line));
      assert_near (number, 7.0, 0.0);
      g_clear_error (&error);
    }
}

/* What is written reads back, whatever stands in the cells. */
static void
test_round_trip (void **state)
{
  static const char *const pieces[] = { "a", ",", "\"", "\n", "\r", "#", "é", "b c", "'" };
  g_autoptr (GRand) random = g_rand_new_with_seed (2);
  guint quoted = 0;

  for (int round = 0; round < 300; round++)
    {
      g_autoptr (GString) text = g_string_new ("x,y\n");
      g_autoptr (GString) cell = g_string_new ("k");
      g_autoptr (GError) error = NULL;
      g_autoptr (TsCsv) table = NULL;

      for (int i = g_rand_int_range (random, 0, 6); i > 0; i--)
        g_string_prepend (cell, pieces[g_rand_int_range (random, 0, G_N_ELEMENTS (pieces))]);
      g_strstrip (cell->str);
      ts_csv_append_cell (text, cell->str, TRUE);
      ts_csv_append_cell (text, cell->str, FALSE);
      table = ts_csv_parse (text->str, (gssize) text->len, "x.csv", &error);
      assert_no_error (error);
      assert_string_equal (ts_csv_get_cell (table, 0, 0), cell->str);
      assert_string_equal (ts_csv_get_cell (table, 0, 1), cell->str);
      quoted += text->str[4] == '"';
    }
  assert_in_range (quoted, 50, 290);
}

static void
test_written_numbers (void **state)
{
  g_autoptr (GString) text = g_string_new (NULL);

  ts_csv_append_number (text, 0.1, 17, TRUE);
  ts_csv_append_number (text, 1.0 / 3.0, 5, FALSE);
  ts_csv_append_number (text, -0.0, 3, FALSE);
  ts_csv_append_number (text, (double) NAN, 3, FALSE);
  ts_csv_append_number (text, 99.9999, 3, FALSE);
  ts_csv_append_number (text, 2.0 / 3.0, 17, FALSE);
  assert_string_equal (text->str, "0.1,0.33333,0,,100,0.6666666666666666");
}

/* Every prefix of a table, and tables with bytes knocked about, are read or refused. */
static void
test_damage (void **state)
{
  static const char whole[] = "# c\na,b\n\"x\n, \"\"y\",1\n2,3\r\n";
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  guint read = 0, refused = 0;

  for (gsize n = 0; n < sizeof whole; n++)
    {
      g_autofree char *copy = g_memdup2 (whole, n + 1);
      g_autoptr (TsCsv) table = ts_csv_parse (copy, (gssize) n, "x", NULL);

      (table != NULL ? (read++) : (refused++));
    }
  for (int i = 0; i < 2000; i++)
    {
      g_autofree char *copy = g_memdup2 (whole, sizeof whole - 1);
      g_autoptr (TsCsv) table = NULL;

      copy[g_rand_int_range (random, 0, sizeof whole - 1)] =
        (char) g_rand_int_range (random, 0, 256);
      table = ts_csv_parse (copy, sizeof whole - 1, "x", NULL);
      (table != NULL ? (read++) : (refused++));
    }
  assert_true (read > 100 && refused > 100);
}

static void
test_limits (void **state)
{
  g_autofree char *commas = g_strnfill (10000, ',');
  g_autofree char *wide = g_strconcat ("a", commas, "b\n", NULL);
  g_autoptr (GError) error = NULL;

  assert_null (ts_csv_parse (wide, -1, "x.csv", &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_LARGE));
}

/* All published tables of this project, each read whole. */
static void
test_fixtures (void **state)
{
  g_autofree char *folder = ts_test_fixture ("published");
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  assert_non_null (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".csv"))
      {
        g_autofree char *path = g_build_filename (folder, name, NULL);
        g_autoptr (GError) error = NULL;
        g_autoptr (TsCsv) table = ts_csv_load (path, &error);

        assert_no_error (error);
        assert_true (ts_csv_get_n_rows (table) > 0 && ts_csv_get_n_comments (table) > 0);
        n++;
      }
  assert_true (n > 10);
}

int
main (void)
{
  struct CMUnitTest tests[G_N_ELEMENTS (cases)] = { 0 };
  const struct CMUnitTest more[] = {
    cmocka_unit_test (test_comments_and_lines),
    cmocka_unit_test (test_numbers),
    cmocka_unit_test (test_round_trip),
    cmocka_unit_test (test_written_numbers),
    cmocka_unit_test (test_damage),
    cmocka_unit_test (test_limits),
    cmocka_unit_test (test_fixtures),
  };
  int failed;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      tests[i].name = cases[i].name;
      tests[i].test_func = test_case;
      tests[i].initial_state = (void *) &cases[i];
    }
  failed = cmocka_run_group_tests_name ("base/csv cases", tests, NULL, NULL);
  return failed + cmocka_run_group_tests_name ("base/csv", more, NULL, NULL);
}
